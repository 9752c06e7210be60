//! The rules of the design and of section 0 of the trade notes, one by one, on small jobs whose
//! answers are reckoned by hand. Minutes and hours here are inventions.

mod air;
mod checks;
mod cold;
mod facts;
mod lent;
mod looks;
mod order;
mod pots;
mod ready;
mod starts;
mod steps;
mod surface;
mod undo;
mod water;
mod window;

use boothside_core::session::clocks::Due;

/// When an edge is due, minutes of session time.
fn minutes(due: Option<Due>) -> f64 {
    due.and_then(|due| due.moment()).expect("a moment").seconds() / 60.0
}

/// Whether two numbers of minutes are the same to a millisecond or two.
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 5e-5
}
