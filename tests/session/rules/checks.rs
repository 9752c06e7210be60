//! Checks that are asked again: for each pot, in each sitting; and the reading after a break.

use boothside_core::board::{Next, ReadWhy};
use boothside_core::session::command::Command;
use boothside_core::session::event::Reason;
use boothside_core::session::time::Span;
use boothside_core::work::job::FullJob;
use serde_json::{Value, json};

use crate::bench::{Bench, begin, mix, on};
use crate::jobs::{checked, plain, sheet};

fn checking(checks: Value) -> FullJob {
    let mut job = plain(sheet(json!({})), 3, 2);
    job.system.layers[0].ready = serde_json::from_value(checks).expect("checks");
    checked(job)
}

fn asks(bench: &Bench, id: &str) -> bool {
    matches!(bench.board().next, Next::Check { check, .. } if check == id)
}

fn pass(bench: &mut Bench, id: &str) {
    bench.tell(Command::PassCheck { layer: 1, coat: 0, check: id.into() });
}

/// A pot is in the gun, strained, and the first face has its coat.
fn strained(each: &str) -> Bench {
    let check = json!([{ "id": "strained", "name": "strained", "each": each, "group": "mix" }]);
    let mut bench = Bench::new(checking(check));
    bench.tell(Command::SkipReading);
    bench.tell(Command::SomeoneKnows);
    bench.tell(mix());
    assert!(asks(&bench, "strained"));
    pass(&mut bench, "strained");
    bench.tell(begin("panel-a"));
    bench.at(2.0).tell(on("panel-a"));
    bench
}

#[test]
fn a_second_pot_is_checked_anew_once_it_is_in_use() {
    // a check of the mix is one of the pot, also where it is asked before the layer
    for each in ["pot", "layer"] {
        let mut bench = strained(each);
        assert!(matches!(bench.board().next, Next::BeginCoat { .. }), "{each}");
        // mixed ahead it changes nothing for the pot in the gun
        bench.at(3.0).tell(mix());
        assert!(matches!(bench.board().next, Next::BeginCoat { .. }), "{each}");
        bench.at(4.0).tell(Command::FillCup { pot: "B".into() });
        assert!(asks(&bench, "strained"), "{each}");
        pass(&mut bench, "strained");
        assert!(matches!(bench.board().next, Next::BeginCoat { .. }), "{each}");
        bench.at(5.0).tell(Command::FillCup { pot: "A".into() });
        assert!(matches!(bench.board().next, Next::BeginCoat { .. }), "{each}: A was checked");
    }
}

#[test]
fn going_past_a_check_of_a_pot_holds_for_that_pot_alone() {
    let check = json!([{ "id": "pattern", "name": "pattern", "each": "pot", "group": "gun" }]);
    let mut bench = Bench::new(checking(check));
    bench.tell(Command::SkipReading);
    bench.tell(Command::SomeoneKnows);
    bench.tell(mix());
    assert!(asks(&bench, "pattern"));
    let reason = Reason::OwnDecision;
    bench.at(1.0).tell(Command::GoPast { hold: "check 1.0 pattern".into(), reason });
    assert!(matches!(bench.board().next, Next::BeginCoat { .. }));
    bench.at(2.0).tell(Command::EmptyPot { pot: "A".into() });
    bench.at(3.0).tell(mix());
    assert!(asks(&bench, "pattern"));
}

#[test]
fn a_check_of_the_sitting_is_asked_again_after_eight_hours_without_a_key() {
    let check = json!([{ "id": "mask", "name": "respirator", "each": "sitting" }]);
    let mut bench = Bench::new(checking(check));
    bench.tell(Command::SkipReading);
    assert!(asks(&bench, "mask"));
    pass(&mut bench, "mask");
    bench.tell(Command::SomeoneKnows);
    // keys in between keep the sitting, however long it is
    for hour in [7.0, 14.0, 21.0] {
        bench.at(hour * 60.0).tell(Command::SkipReading);
        assert!(matches!(bench.board().next, Next::MixPot { .. }), "{hour}");
    }
    // the machine's own news are no key of the painter's
    bench.at(28.0 * 60.0).tell(Command::Slept { span: Span::from_hours(1) });
    bench.at(29.0 * 60.0 - 0.1);
    assert!(!asks(&bench, "mask"));
    bench.at(29.0 * 60.0);
    assert!(asks(&bench, "mask"));
    pass(&mut bench, "mask");
    assert!(!asks(&bench, "mask"));
}

#[test]
fn what_is_taken_back_keeps_no_sitting() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    bench.tell(Command::SkipReading);
    let ends = |bench: &Bench| bench.session.state().sitting.expect("a sitting").ends;
    let before = ends(&bench);
    bench.at(60.0).tell(Command::Note { text: "a slip".into() });
    assert!(ends(&bench) > before);
    bench.tell(Command::TakeBack);
    assert_eq!(ends(&bench), before);
}

#[test]
fn an_old_reading_is_asked_for_before_a_round_and_never_within_it() {
    let mut bench = Bench::new(plain(sheet(json!({})), 3, 2));
    bench.read(20.0, 50.0);
    bench.tell(Command::SomeoneKnows);
    bench.at(50.0).tell(mix());
    bench.at(55.0).tell(begin("panel-a"));
    bench.at(62.0).tell(on("panel-a"));
    let begins = |bench: &Bench| matches!(bench.board().next, Next::BeginCoat { .. });
    let reads = |bench: &Bench| matches!(bench.board().next, Next::Reading { why: ReadWhy::Old });
    assert!(begins(bench.at(90.0)), "the round is in hand");
    for face in ["panel-b", "panel-c"] {
        bench.tell(begin(face));
        bench.pass(5.0).tell(on(face));
    }
    // a may get its second coat, and the round of that is not begun
    assert!(reads(bench.at(101.0)));
    bench.read(20.0, 50.0);
    assert!(begins(&bench));
    assert!(reads(bench.at(161.0)));
    bench.tell(Command::SkipReading);
    assert!(begins(&bench), "none can be taken");
}
