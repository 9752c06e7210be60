//! What SPACE does first.

use boothside_core::board::{CleanWhy, Next, Stage, Waited};
use boothside_core::session::command::Command;
use serde_json::json;

use crate::bench::{Bench, begin, begin_past, min, mix, on};
use crate::jobs::{layered, plain, sheet};

#[test]
fn a_face_on_the_gun_comes_before_everything() {
    let gap = json!({ "earliest": { "duration_s": 600 }, "by": "eye" });
    let pot = json!({ "life": { "duration_s": 3600 }, "cleaning_reserve_s": 600 });
    let mut bench =
        Bench::new(plain(sheet(json!({ "between_coats": gap, "pot_life": pot })), 2, 2));
    bench.tell(Command::SkipReading);
    bench.tell(Command::SomeoneKnows);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 1.0);
    bench.tell(begin("panel-b"));
    // the pot is dead, a look is due
    bench.at(70.0);
    assert_eq!(bench.board().next, Next::CoatOn { face: 1, layer: 1, coat: 1 });
    bench.tell(on("panel-b"));
    assert!(matches!(bench.board().next, Next::CleanGun { .. }));
    bench.tell(Command::CleanGun);
    assert_eq!(bench.board().next, Next::Dulled { face: 0 });
}

#[test]
fn a_look_comes_before_the_next_face_and_that_before_the_stage() {
    let gap = json!({ "earliest": { "duration_s": 600 }, "by": "eye" });
    let mut bench = Bench::new(plain(sheet(json!({ "between_coats": gap })), 3, 2));
    bench.tell(Command::SkipReading);
    bench.tell(Command::SomeoneKnows);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 1.0);
    assert_eq!(bench.board().next, Next::BeginCoat { face: 1, layer: 1, coat: 1 });
    assert_eq!(bench.at(11.0).board().next, Next::Dulled { face: 0 });
    bench.space();
    // the lowest coat first: b and c lack their first
    assert_eq!(bench.board().next, Next::BeginCoat { face: 1, layer: 1, coat: 1 });
}

#[test]
fn with_nothing_to_do_it_says_what_is_waited_for() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 2));
    bench.tell(Command::SkipReading);
    bench.tell(Command::SomeoneKnows);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 1.0);
    let Next::Wait { what, until } = bench.board().next else { panic!("no wait") };
    assert_eq!(what, Waited::Opens { face: 0 });
    assert_eq!(until.and_then(|until| until.moment()), Some(min(21.0)));
    assert!(bench.board().next.command(&bench.session).is_none());
    assert_eq!(bench.board().stage, Stage::Flash { layer: 1, coat: 1 });
}

#[test]
fn another_layers_material_is_cleaned_out_before_a_coat() {
    let work = layered(vec![("under", sheet(json!({})), 1), ("over", sheet(json!({})), 1)], 1);
    let mut bench = Bench::new(work);
    bench.tell(Command::SkipReading);
    bench.tell(Command::SomeoneKnows);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 1.0);
    // the second pot is mixed ahead, so that nothing but the gun is in the way
    bench.tell(Command::MixPot { layer: 2, amount_ml: None, lots: Vec::new() });
    assert!(matches!(bench.space(), Next::CleanGun { why: CleanWhy::NoCoatsLeft, .. }));
    assert_eq!(bench.space(), Next::Leftover { pot: "A".into(), ml: None });
    assert_eq!(bench.board().next, Next::BeginCoat { face: 0, layer: 2, coat: 1 });
}

#[test]
fn coat_numbers_belong_to_faces() {
    let mut bench = Bench::new(plain(sheet(json!({})), 2, 3));
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 1.0);
    bench.coat("panel-a", 30.0, 31.0);
    assert_eq!((bench.face(0).next, bench.face(1).next), (Some((1, 3)), Some((1, 1))));
    bench.tell(begin_past("panel-a"));
    assert_eq!(bench.board().next, Next::CoatOn { face: 0, layer: 1, coat: 3 });
}
