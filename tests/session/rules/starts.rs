//! Where clocks start when nobody tapped: assumed beginnings, on the safe side.

use boothside_core::session::CoatOn;
use boothside_core::session::command::Command;
use serde_json::json;

use crate::bench::{Bench, begin, begin_past, min, mix, on};
use crate::jobs::{plain, sheet};

fn bench(faces: u8) -> Bench {
    let mut bench = Bench::new(plain(sheet(json!({})), faces, 2));
    bench.tell(Command::SkipReading);
    bench.at(5.0).tell(mix());
    bench
}

fn coat(bench: &Bench, face: usize, coat: usize) -> CoatOn {
    bench.session.state().faces[face].coats[coat].clone()
}

#[test]
fn one_tap_a_face_assumes_it_begun_when_the_one_before_was_on() {
    let mut bench = bench(2);
    bench.at(10.0).tell(on("panel-a"));
    bench.at(17.0).tell(on("panel-b"));
    let (first, second) = (coat(&bench, 0, 0), coat(&bench, 1, 0));
    // the first not before its pot was mixed
    assert_eq!((first.begun, first.assumed), (min(5.0), true));
    assert_eq!((second.begun, second.assumed), (min(10.0), true));
    assert_eq!(second.finished, Some(min(17.0)));
}

#[test]
fn a_refill_or_a_turn_after_it_moves_the_assumed_beginning() {
    let told: [Command; 2] =
        [Command::FillCup { pot: "A".into() }, Command::Turned { face: "panel-b".into() }];
    for command in told {
        let mut bench = bench(2);
        bench.at(10.0).tell(on("panel-a"));
        bench.at(13.0).tell(command);
        bench.at(17.0).tell(on("panel-b"));
        assert_eq!(coat(&bench, 1, 0).begun, min(13.0));
    }
}

#[test]
fn a_beginning_that_was_tapped_is_not_assumed() {
    let mut bench = bench(1);
    bench.coat("panel-a", 10.0, 12.0);
    let coat = coat(&bench, 0, 0);
    assert_eq!((coat.begun, coat.assumed), (min(10.0), false));
}

#[test]
fn whoever_begins_a_face_has_left_the_one_before() {
    let mut bench = bench(2);
    bench.at(10.0).tell(begin("panel-a"));
    bench.at(16.0).tell(begin("panel-b"));
    assert_eq!(coat(&bench, 0, 0).finished, Some(min(16.0)));
    assert_eq!(coat(&bench, 1, 0).begun, min(16.0));
    // one key, one entry: taking it back takes both back
    bench.tell(Command::TakeBack);
    assert_eq!(coat(&bench, 0, 0).finished, None);
    assert!(bench.session.state().faces[1].coats.is_empty());
}

#[test]
fn the_rest_of_a_coat_began_when_the_coat_began() {
    let mut bench = bench(3);
    bench.at(10.0).tell(begin("panel-a"));
    bench.at(30.0).tell(Command::RestOn { layer: 1, coat: 1 });
    for face in 0..3 {
        let coat = coat(&bench, face, 0);
        assert_eq!((coat.begun, coat.finished), (min(10.0), Some(min(30.0))), "{face}");
        assert_eq!(coat.assumed, face != 0);
    }
}

#[test]
fn the_rest_began_on_each_face_after_its_own_last_coat_and_no_later() {
    let mut bench = bench(3);
    bench.coat("panel-a", 6.0, 7.0);
    bench.coat("panel-b", 8.0, 9.0);
    // a gets its second coat before c has its first
    bench.coat("panel-a", 10.0, 11.0);
    bench.coat("panel-c", 12.0, 14.0);
    bench.at(40.0).tell(Command::RestOn { layer: 1, coat: 2 });
    assert_eq!(coat(&bench, 1, 1).begun, min(10.0));
    assert_eq!(coat(&bench, 2, 1).begun, min(14.0));
}

#[test]
fn a_coat_left_out_has_its_number_in_the_rest() {
    let mut bench = bench(2);
    bench.tell(Command::SkipCoat { face: "panel-a".into() });
    bench.coat("panel-b", 6.0, 7.0);
    bench.at(30.0).tell(begin_past("panel-a"));
    bench.at(33.0).tell(Command::RestOn { layer: 1, coat: 2 });
    assert_eq!(coat(&bench, 1, 1).begun, min(30.0));
}

#[test]
fn a_rest_that_is_all_began_where_one_tap_would_have() {
    let mut bench = bench(2);
    bench.at(25.0).tell(Command::RestOn { layer: 1, coat: 1 });
    for face in 0..2 {
        let coat = coat(&bench, face, 0);
        assert_eq!((coat.begun, coat.assumed), (min(5.0), true));
    }
}
