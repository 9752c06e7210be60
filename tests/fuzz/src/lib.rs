//! What reads bytes from outside, and what must hold whatever they are.
//!
//! Each function takes any bytes and fails only by a panic. The fuzz targets call them; so do the
//! ordinary tests (tests/faults/program/hostile.rs), over the fixtures, over changes made to them and
//! over every find.

mod book;
mod log;
mod picture;
mod quantity;

pub use book::{job, sheet};
pub use log::{chained, log};
pub use quantity::quantity;
