//! Faces between coats and layers: turning, the night's wipe, the gap before a layer.

use boothside_core::board::{Next, Stage, Waited};
use boothside_core::session::command::Command;
use boothside_core::session::standing::{FaceNow, WipeWhy};
use boothside_core::work::job::FullJob;
use serde_json::json;

use crate::bench::{Bench, begin_past, min, mix, on};
use crate::jobs::{checked, layered, plain, sheet, step};

fn wiped(face: &str) -> Command {
    Command::Wiped { faces: vec![face.into()] }
}

/// Two faces, the second to be turned up once the first may be handled, 60 min after its last coat.
fn turned() -> FullJob {
    let cure = json!([{ "stage": "handle", "after": { "duration_s": 3600 } }]);
    let mut work = plain(sheet(json!({ "cure": cure })), 2, 2);
    work.parts.get_mut("panel").expect("the panel").faces[1].turned_after = Some("a".into());
    checked(work)
}

#[test]
fn a_second_face_waits_until_the_first_may_be_handled_and_it_is_turned() {
    let mut bench = Bench::new(turned());
    bench.tell(Command::SkipReading);
    bench.tell(Command::SomeoneKnows);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 1.0);
    assert!(bench.face(1).turn.is_some_and(|turn| turn.ready.is_none() && !turn.may_be_turned));
    bench.coat("panel-a", 21.0, 22.0);
    let turn = bench.face(1).turn.expect("it waits");
    assert_eq!((turn.after, turn.ready, turn.may_be_turned), (0, Some(min(82.0)), false));
    assert_eq!(bench.face_now(1), FaceNow::Bare);
    let held = bench.try_tell(&crate::bench::begin("panel-b"), None).expect_err("held");
    assert!(held.to_string().contains("turn panel-b"));
    let next = bench.board().next;
    assert!(matches!(next, Next::Wait { what: Waited::Turn { face: 1 }, .. }), "{next:?}");
    bench.at(82.0);
    assert!(bench.face(1).turn.is_some_and(|turn| turn.may_be_turned));
    // the hour-old lack of a reading holds nothing
    bench.tell(Command::SkipReading);
    assert_eq!(bench.board().next, Next::Turn { face: 1 });
    bench.space();
    assert!(bench.face(1).turn.is_none());
    assert_eq!(bench.board().next, Next::BeginCoat { face: 1, layer: 1, coat: 1 });
}

#[test]
fn a_face_under_one_whose_coats_were_left_out_can_be_turned() {
    let mut bench = Bench::new(turned());
    bench.tell(Command::SkipCoat { face: "panel-a".into() });
    bench.tell(Command::SkipCoat { face: "panel-a".into() });
    assert!(bench.face(1).turn.is_some_and(|turn| turn.may_be_turned));
    bench.tell(Command::Turned { face: "panel-b".into() });
    assert!(bench.face(1).turn.is_none());
}

/// Open all day by the sheet, wiped before the layer.
fn over_night() -> Bench {
    let gap = json!({
        "earliest": { "duration_s": 1200 }, "by": "clock", "open_until": { "duration_s": 172_800 }
    });
    let wipe = json!({ "flash_s": 600, "limit_s": 7200 });
    let mut work = plain(sheet(json!({ "between_coats": gap, "wipe": wipe })), 2, 2);
    work.system.layers[0].prep =
        vec![step(json!({ "id": "wipe", "name": "wiped", "does": "wipe" }))];
    let mut bench = Bench::new(checked(work));
    bench.tell(Command::SkipReading);
    bench.tell(Command::StepDone { step: "wipe".into() });
    bench.tell(mix());
    bench.coat("panel-a", 10.0, 12.0);
    bench
}

#[test]
fn a_night_brings_the_wipe_back_in_an_open_window() {
    let mut bench = over_night();
    bench.at(12.0 + 479.9);
    assert_eq!(bench.face_now(0), FaceNow::Open);
    bench.at(12.0 + 480.0);
    let face = bench.face(0);
    assert_eq!((face.now, face.wipe == Some(WipeWhy::Overnight)), (FaceNow::Wipe, true));
    bench.tell(wiped("panel-a"));
    assert_eq!(bench.face_now(0), FaceNow::Flashing);
    assert_eq!(bench.pass(10.0).face_now(0), FaceNow::Open);
    assert!(bench.face(0).wipe != Some(WipeWhy::Overnight));
}

#[test]
fn a_wipe_past_its_limit_is_lacking_on_a_bare_face_and_not_under_a_coat() {
    let mut bench = over_night();
    bench.at(119.9);
    assert_eq!(bench.face_now(1), FaceNow::Bare);
    bench.at(120.0);
    assert_eq!(bench.face_now(0), FaceNow::Open, "a coat has gone on since");
    let face = bench.face(1);
    assert_eq!((face.now, face.wipe), (FaceNow::Wipe, Some(WipeWhy::TooOld)));
    let held = bench.try_tell(&crate::bench::begin("panel-b"), None).expect_err("held");
    assert!(held.to_string().contains("wipe panel-b"));
    bench.tell(wiped("panel-b"));
    let face = bench.face(1);
    assert_eq!((face.now, face.wipe_flashes), (FaceNow::Flashing, true));
    assert_eq!(bench.pass(10.0).face_now(1), FaceNow::Bare);
}

#[test]
fn a_night_brings_the_wipe_back_where_the_sheet_states_no_gap() {
    let work = layered(vec![("under", sheet(json!({})), 1), ("over", sheet(json!({})), 1)], 1);
    let mut bench = Bench::new(work);
    bench.tell(Command::SkipReading);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 1.0);
    assert_eq!(bench.at(480.9).face_now(0), FaceNow::Open);
    assert_eq!(bench.at(481.0).face_now(0), FaceNow::Wipe);
    bench.tell(wiped("panel-a"));
    assert_eq!(bench.face_now(0), FaceNow::Open);
}

#[test]
fn a_wipe_puts_the_night_off() {
    let mut bench = over_night();
    bench.at(470.0).tell(wiped("panel-a"));
    // 12 + 480 is past; its own limit of two hours is not
    assert_eq!(bench.at(589.9).face_now(0), FaceNow::Open);
    assert_eq!(bench.at(590.0).face(0).wipe, Some(WipeWhy::TooOld));
}

#[test]
fn between_layers_the_steps_wait_for_the_last_face() {
    let gap = json!({ "earliest": { "duration_s": 3600 }, "by": "clock" });
    let under = sheet(json!({ "to_next_layer": gap }));
    let mut work = layered(vec![("under", under, 1), ("over", sheet(json!({})), 1)], 2);
    work.system.layers[1].prep = vec![step(json!({ "id": "denib", "name": "nibs off" }))];
    let mut bench = Bench::new(checked(work));
    bench.tell(Command::SkipReading);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 1.0);
    bench.coat("panel-b", 2.0, 5.0);
    bench.tell(Command::CleanGun);
    bench.tell(Command::PutAside { pot: "A".into() });
    bench.tell(Command::SomeoneKnows);
    assert_eq!(bench.face_now(0), FaceNow::LayerDone);
    let Next::Wait { until, .. } = bench.board().next else { panic!("no wait") };
    assert_eq!(until.and_then(|until| until.moment()), Some(min(65.0)));
    assert_eq!(bench.board().stage, Stage::Prep { layer: 2 });
    bench.at(65.0);
    assert_eq!(bench.board().next, Next::Step { step: "denib".into(), again: false });
    assert_eq!(bench.board().stage, Stage::Prep { layer: 2 });
}

#[test]
fn a_later_layer_is_held_while_an_earlier_one_is_not_on_every_face() {
    let work = layered(vec![("under", sheet(json!({})), 1), ("over", sheet(json!({})), 1)], 2);
    let mut bench = Bench::new(work);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 1.0);
    let held = bench.try_tell(&crate::bench::begin("panel-a"), None).expect_err("held");
    assert!(held.to_string().contains("layer 1"), "{held}");
    bench.tell(begin_past("panel-a"));
    bench.pass(1.0).tell(on("panel-a"));
    assert_eq!(bench.face_now(0), FaceNow::Finished);
}
