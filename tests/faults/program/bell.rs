//! The bell: once when a clock comes due, then never more often than once a minute for one clock.

use std::time::Duration;

use boothside_core::board::{Board, Next};
use boothside_core::session::standing::FaceNow;
use boothside_core::session::time::Moment;
use proptest::prelude::*;

use crate::hand::{SIZE, boothside};
use crate::pty::Program;
use crate::time::Shop;

const MORNING: &str = "2026-05-12T07:00:00-05:00";

/// What calls on a board: each face to be looked at, the edge that is due, something to do.
fn calls(board: &Board) -> Vec<String> {
    let looks = board.faces.iter().enumerate().filter(|(_, face)| face.at.now == FaceNow::Look);
    let looks = looks.map(|(face, _)| format!("look {face}"));
    let due = board.hero.iter().filter(|hero| hero.due).map(|hero| format!("{:?}", hero.what));
    let work = board.next.is_action() && !matches!(board.next, Next::Dulled { .. });
    looks.chain(due).chain(work.then(|| "work".to_owned())).collect()
}

/// A ring, and what called then.
struct Rung {
    at: Moment,
    calls: Vec<String>,
}

/// Each ring comes with something that did not call at any ring of the minute before it.
fn for_one_clock_once_a_minute(rung: &[Rung]) -> Result<(), TestCaseError> {
    for (number, ring) in rung.iter().enumerate() {
        let minute = rung[..number].iter().filter(|before| ring.at.since(before.at).ms() < 60_000);
        let before: Vec<&String> = minute.flat_map(|before| &before.calls).collect();
        let new = before.is_empty() || ring.calls.iter().any(|call| !before.contains(&call));
        prop_assert!(new, "at {:?} for {:?} again", ring.at, ring.calls);
    }
    Ok(())
}

fn first_coat() -> Shop {
    let mut shop = Shop::open(MORNING, chrono_tz::America::Chicago);
    shop.play_until("the first coat", |next| matches!(next, Next::BeginCoat { coat: 1, .. }));
    shop
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(24) })]

    /// A painter presses whatever; seconds pass.
    #[test]
    fn whatever_is_pressed_no_clock_rings_twice_in_a_minute(
        turns in prop::collection::vec((0..12_u8, 1..50_u64), 1..60),
    ) {
        let mut shop = first_coat();
        let (mut rings, mut rung) = (shop.rings, Vec::new());
        for (key, seconds) in turns {
            let keys = [" ", " ", " ", "w", "d", "u", "b", "k", "?", "\u{1b}", "", ""];
            for c in keys[usize::from(key)].chars() {
                shop.key(boothside::update::desk::Pressed::Char(c));
            }
            for _ in 0..seconds * 4 {
                shop.seconds_pass(1);
                if shop.rings > rings {
                    prop_assert_eq!(shop.rings, rings + 1, "one ring at a time");
                    rings = shop.rings;
                    rung.push(Rung { at: shop.t(), calls: calls(shop.seat.desk.board()) });
                }
            }
        }
        for_one_clock_once_a_minute(&rung)?;
    }
}

#[test]
fn what_nobody_answers_rings_once_a_minute() {
    let mut shop = first_coat();
    shop.space().advance(120).space();
    let mut shop = shop;
    while matches!(shop.next(), Next::BeginCoat { coat: 1, .. }) {
        shop.space().advance(120).space();
    }
    let until = shop.until();
    shop.advance_to(until);
    // all faces come due within the quarter of an hour in which they were sprayed
    for _ in 0..1_800 {
        shop.seconds_pass(1);
    }
    let rings = shop.rings;
    for _ in 0..600 {
        shop.seconds_pass(1);
    }
    assert!((9..=11).contains(&(shop.rings - rings)), "{} in ten minutes", shop.rings - rings);
}

/// Bells in what was sent, those that end a title not counted.
fn bells(bytes: &[u8]) -> usize {
    let text = String::from_utf8_lossy(bytes);
    let titles = text.matches("\x1b]0;").count();
    text.matches('\x07').count() - titles
}

#[test]
fn a_clock_that_comes_due_sends_one_bell_to_the_terminal() {
    let data = tempfile::tempdir().expect("a folder");
    let mut command = boothside(data.path());
    command.args(["rehearse", "--start", "2026-05-12T07:00", "--pace", "3600"]);
    let mut program = Program::run(command, SIZE);
    let asks = ["yes: respirator", "yes: gloves", "yes: this screen", "yes: someone knows"];
    for ask in asks.into_iter().chain(["done: cleaned"]) {
        program.wait_for(ask);
        program.pass(Duration::from_millis(1_100));
        program.bytes.clear();
        program.keys(" ");
    }
    // twelve hours to dry, in twelve seconds
    program.wait_for("waiting: parts must dry");
    program.pass(Duration::from_secs(2));
    assert_eq!(bells(&program.bytes), 0);
    program.wait_until("dry", |text| !text.contains("waiting: parts must dry"));
    program.pass(Duration::from_secs(5));
    assert_eq!(bells(&program.bytes), 1, "in the five seconds after it came due");
    program.kill();
}
