//! Flash is two clocks: the eye's and the sheet's.

use std::collections::BTreeMap;

use boothside_core::board::Next;
use boothside_core::session::Session;
use boothside_core::session::command::Command;
use boothside_core::session::event::Event;
use boothside_core::session::standing::FaceNow;
use serde_json::{Value, json};

use super::{minutes, same};
use crate::bench::{Bench, begin, mix};
use crate::jobs::{plain, sheet};

fn after_a_coat(gap: Value) -> Bench {
    let mut bench = Bench::new(plain(sheet(json!({ "between_coats": gap })), 2, 3));
    bench.tell(Command::SkipReading);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 0.0);
    bench
}

fn dulled(face: &str) -> Command {
    Command::Dulled { face: face.into() }
}

fn wet(face: &str) -> Command {
    Command::StillWet { face: face.into() }
}

#[test]
fn by_eye_the_clock_asks_and_the_painter_opens() {
    let mut bench = after_a_coat(json!({ "earliest": { "duration_s": 1200 }, "by": "eye" }));
    assert_eq!(bench.at(19.9).face_now(0), FaceNow::Flashing);
    assert_eq!(bench.at(20.0).face_now(0), FaceNow::Look);
    assert_eq!(bench.board().next, Next::Dulled { face: 0 });
    assert_eq!(bench.at(60.0).face_now(0), FaceNow::Look, "it opens for no clock");
    bench.tell(dulled("panel-a"));
    assert_eq!(bench.face_now(0), FaceNow::Open);
}

#[test]
fn the_painters_eye_outranks_the_clock() {
    let mut bench = after_a_coat(json!({ "earliest": { "duration_s": 1200 }, "by": "eye" }));
    bench.at(12.0).tell(dulled("panel-a"));
    assert_eq!(bench.face_now(0), FaceNow::Open);
    bench.tell(begin("panel-a"));
}

#[test]
fn dulled_does_not_end_the_stated_minimum() {
    let gap = json!({
        "earliest": { "duration_s": 1800 }, "dulls": { "duration_s": 600 }, "by": "both"
    });
    let mut bench = after_a_coat(gap);
    assert_eq!(bench.at(10.0).face_now(0), FaceNow::Look);
    bench.tell(dulled("panel-a"));
    assert_eq!(bench.face_now(0), FaceNow::Flashing);
    assert_eq!(bench.at(29.9).face_now(0), FaceNow::Flashing);
    assert_eq!(bench.at(30.0).face_now(0), FaceNow::Open);
}

#[test]
fn by_both_the_minimum_does_not_answer_the_eye() {
    let gap = json!({
        "earliest": { "duration_s": 600 }, "dulls": { "duration_s": 1200 }, "by": "both"
    });
    let mut bench = after_a_coat(gap);
    assert_eq!(bench.at(15.0).face_now(0), FaceNow::Flashing);
    assert_eq!(bench.at(30.0).face_now(0), FaceNow::Look);
}

#[test]
fn by_clock_no_look_is_asked() {
    let mut bench = after_a_coat(json!({ "earliest": { "duration_s": 1200 }, "by": "clock" }));
    assert!(bench.face(0).look.is_none());
    assert_eq!(bench.at(20.0).face_now(0), FaceNow::Open);
}

#[test]
fn still_wet_asks_again_after_a_share_of_the_clock_and_at_least_two_minutes() {
    // 40 min: 0.15 of them are 6; 10 min: 1.5 of them are less than 2
    for (clock_s, asked, again) in [(2400, 40.0, 46.0), (600, 10.0, 12.0)] {
        let gap = json!({ "earliest": { "duration_s": clock_s }, "by": "eye" });
        let mut bench = after_a_coat(gap);
        bench.at(asked).tell(wet("panel-a"));
        assert_eq!(bench.face_now(0), FaceNow::Flashing);
        assert!(same(minutes(bench.face(0).look), again));
        assert_eq!(bench.at(again).face_now(0), FaceNow::Look);
    }
}

#[test]
fn a_look_too_early_that_found_it_wet_brings_the_next_one_no_sooner() {
    let mut bench = after_a_coat(json!({ "earliest": { "duration_s": 2400 }, "by": "eye" }));
    bench.at(10.0).tell(wet("panel-a"));
    assert!(same(minutes(bench.face(0).look), 40.0));
}

#[test]
fn looks_go_to_the_window_that_closes_first_then_to_the_earliest_due() {
    let gap = json!({
        "earliest": { "duration_s": 600 }, "by": "eye", "open_until": { "duration_s": 7200 }
    });
    let mut bench = Bench::new(plain(sheet(json!({ "between_coats": gap })), 2, 2));
    bench.tell(Command::SkipReading);
    bench.tell(mix());
    // a is begun later than b, but on before it
    bench.coat("panel-b", 0.0, 9.0);
    bench.coat("panel-a", 5.0 + 4.0, 9.5);
    bench.at(30.0);
    assert_eq!(bench.board().next, Next::Dulled { face: 1 });
    bench.tell(dulled("panel-b"));
    assert_eq!(bench.board().next, Next::Dulled { face: 0 });
}

#[test]
fn the_learnt_factor_moves_the_eye_clock_and_no_other() {
    let gap = json!({
        "earliest": { "duration_s": 1200 }, "dulls": { "duration_s": 1000 }, "by": "both",
        "open_until": { "duration_s": 7200 }
    });
    let with = |factor: f64| {
        let bench = Bench::new(plain(sheet(json!({ "between_coats": gap })), 1, 2));
        let mut first = bench.session.entries()[0].clone();
        let Event::Opened(opening) = &mut first.events[0] else { panic!("no opening") };
        opening.factors = BTreeMap::from([("one".to_owned(), factor)]);
        let session = Session::open(vec![first]).expect("a session");
        let mut bench = Bench { session, ..bench };
        bench.coat("panel-a", 0.0, 0.0);
        bench.face(0)
    };
    let (slow, plain) = (with(1.5), with(1.0));
    assert!(same(minutes(slow.look), 25.0) && same(minutes(with(0.6).look), 10.0));
    assert_eq!((slow.opens, slow.open_until), (plain.opens, plain.open_until));
    // a factor that is none counts as 1
    assert_eq!(with(0.0).look, plain.look);
}

#[test]
fn a_look_is_told_of_the_film_and_not_of_a_coat_left_out() {
    let mut bench = after_a_coat(json!({ "earliest": { "duration_s": 1200 }, "by": "eye" }));
    bench.tell(Command::SkipCoat { face: "panel-a".into() });
    bench.at(20.0).tell(dulled("panel-a"));
    assert_eq!(bench.face_now(0), FaceNow::Open);
    assert_eq!(bench.face(0).next, Some((1, 3)));
}

#[test]
fn a_touch_up_starts_the_minima_again() {
    let mut bench = after_a_coat(json!({ "earliest": { "duration_s": 1200 }, "by": "eye" }));
    bench.at(20.0).tell(dulled("panel-a"));
    bench.at(25.0).tell(Command::TouchedUp { face: "panel-a".into() });
    let face = bench.face(0);
    assert_eq!(face.now, FaceNow::Flashing);
    assert!(same(minutes(face.look), 45.0));
}
