//! Rounds: which face is next, looks, turned, skipped, extra and wiped-off coats, closing windows.

use boothside_core::board::{Next, Stop, Waited};
use boothside_core::session::command::Command;
use boothside_core::session::standing::{FaceNow, WipeWhy};
use serde_json::json;

use super::{begins, by_eye, checks, known, ready, window};
use crate::bench::{Bench, begin, min, on};
use crate::jobs::{checked, plain, sheet};

#[test]
fn the_next_face_is_sprayed_while_the_first_flashes_and_its_look_stands_beside_it() {
    let mut bench = ready(by_eye(20), 2, 2);
    bench.coat("panel-a", 0.0, 5.0);
    let board = bench.board();
    assert_eq!((board.next, board.hero), (begins(1, 1), None));
    let soonest = board.soonest.expect("a clock");
    assert_eq!((soonest.what, soonest.at), (Waited::Look { face: 0 }, min(25.0)));
}

#[test]
fn a_look_waits_for_the_face_on_the_gun() {
    let mut bench = ready(by_eye(20), 2, 2);
    bench.coat("panel-a", 0.0, 5.0);
    bench.at(24.0).tell(begin("panel-b"));
    let board = bench.at(26.0).board();
    assert_eq!(board.next, Next::CoatOn { face: 1, layer: 1, coat: 1 });
    assert_eq!(board.hero.map(|hero| hero.what), Some(Waited::OnTheGun { face: 1 }));
    assert!(board.soonest.is_some_and(|look| look.due && look.what == Waited::Look { face: 0 }));
    bench.tell(on("panel-b"));
    assert_eq!(bench.board().hero.map(|hero| hero.what), Some(Waited::Look { face: 0 }));
}

#[test]
fn three_looks_are_three_presses() {
    let mut bench = ready(by_eye(20), 3, 2);
    for (face, from) in [("panel-a", 0.0), ("panel-b", 5.0), ("panel-c", 10.0)] {
        bench.coat(face, from, from + 5.0);
    }
    bench.at(40.0);
    for face in 0..3 {
        assert_eq!(bench.space(), Next::Dulled { face });
    }
    assert_eq!(bench.board().next, begins(0, 2));
}

#[test]
fn a_face_turned_before_the_other_may_be_handled_is_taken_and_flagged() {
    let cure = json!([{ "stage": "handle", "after": { "duration_s": 3600 } }]);
    let mut job = plain(sheet(json!({ "cure": cure })), 2, 1);
    job.parts.get_mut("panel").expect("the panel").faces[1].turned_after = Some("a".into());
    let mut bench = known(Bench::new(checked(job)));
    bench.coat("panel-a", 0.0, 5.0);
    let n = bench.at(6.5).tell(Command::Turned { face: "panel-b".into() });
    assert_eq!(bench.session.entry(n).expect("it").breaks, ["handle panel-a"]);
    let mut in_time = bench.clone();
    in_time.tell(Command::TakeBack);
    let n = in_time.at(65.0).tell(Command::Turned { face: "panel-b".into() });
    assert_eq!(in_time.session.entry(n).expect("it").breaks, Vec::<String>::new());
}

#[test]
fn turning_undoes_a_wipe_that_is_wanted() {
    let cure = json!([{ "stage": "handle", "after": { "duration_s": 3600 } }]);
    let mut job = plain(sheet(json!({ "cure": cure })), 2, 1);
    job.parts.get_mut("panel").expect("the panel").faces[1].turned_after = Some("a".into());
    job.system.layers[0].prep =
        super::steps(json!([{ "id": "wipe", "name": "wiped", "does": "wipe" }]));
    let mut bench = known(Bench::new(checked(job)));
    bench.until_begin();
    bench.coat("panel-a", 1.0, 5.0);
    bench.at(66.0).tell(Command::SkipReading);
    assert_eq!(bench.space(), Next::Turn { face: 1 });
    let (faces, why) = (vec![1], Some(WipeWhy::Turned));
    assert_eq!(bench.space(), Next::Wipe { faces, step: None, why });
    assert_eq!(bench.board().next, begins(1, 1));
}

#[test]
fn a_skipped_face_joins_when_the_round_opens_for_its_next_coat() {
    let mut bench = ready(json!({}), 3, 2);
    bench.coat("panel-a", 0.0, 5.0);
    bench.coat("panel-b", 5.0, 10.0);
    bench.tell(Command::SkipCoat { face: "panel-c".into() });
    let Next::Wait { what, until } = bench.board().next else { panic!("{:?}", bench.board().next) };
    assert_eq!(what, Waited::Opens { face: 0 });
    assert_eq!(until.and_then(|until| until.moment()), Some(min(25.0)));
    assert_eq!(bench.at(25.0).board().next, begins(0, 2));
    bench.tell(begin("panel-a"));
    bench.at(29.0).tell(on("panel-a"));
    assert_eq!(bench.board().next, begins(2, 2), "b still flashes");
}

#[test]
fn an_extra_coat_is_asked_from_the_same_pot_and_the_gun_is_not_cleaned_before() {
    let mut bench = ready(json!({}), 1, 1);
    bench.coat("panel-a", 0.0, 5.0);
    bench.tell(Command::ExtraCoat { face: "panel-a".into() });
    assert!(matches!(bench.board().next, Next::Wait { what: Waited::Opens { face: 0 }, .. }));
    assert_eq!(bench.at(25.0).board().next, begins(0, 2));
}

#[test]
fn a_face_whose_coat_came_off_is_wiped_and_gets_that_coat_again_in_turn() {
    let mut bench = ready(json!({ "wipe": { "flash_s": 600, "limit_s": 7200 } }), 2, 2);
    bench.coat("panel-a", 0.0, 5.0);
    bench.coat("panel-b", 5.0, 10.0);
    bench.at(12.0).tell(Command::WipedOff { face: "panel-a".into() });
    let (faces, why) = (vec![0], Some(WipeWhy::CameOff(1)));
    assert_eq!(bench.space(), Next::Wipe { faces, step: None, why });
    assert_eq!(bench.face_now(0), FaceNow::Flashing);
    assert_eq!(bench.at(22.0).board().next, begins(0, 1));
}

#[test]
fn a_face_that_closes_comes_before_the_spraying_order() {
    let mut bench = ready(window(), 2, 2);
    bench.coat("panel-a", 0.0, 5.0);
    // open from 25 to 60, closing for its last quarter
    assert_eq!(bench.at(51.0).board().next, begins(1, 1));
    let board = bench.at(52.0).board();
    assert_eq!(board.next, begins(0, 2));
    assert_eq!(board.stop, Some(Stop::Closes { face: 0, at: min(60.0) }));
    assert!(board.hero.is_some_and(|hero| hero.due && hero.what == Waited::Closes { face: 0 }));
}

#[test]
fn what_is_left_of_the_gate_of_a_closing_face_comes_before_other_faces() {
    let mut job = plain(sheet(window()), 2, 2);
    job.system.layers[0].ready =
        checks(json!([{ "id": "fan", "name": "fan on", "each": "coat", "group": "booth" }]));
    let mut bench = known(Bench::new(checked(job)));
    bench.space();
    bench.coat("panel-a", 0.0, 5.0);
    bench.at(52.0);
    assert_eq!(bench.space(), Next::Check { layer: 1, coat: 2, check: "fan".into() });
    assert_eq!(bench.board().next, begins(0, 2));
}

#[test]
fn no_band_where_no_pot_can_have_stood_by_then() {
    let stand = json!({ "stand": { "duration_s": 600 }, "inside_pot_life": true });
    let mut fields = window();
    fields["induction"] = stand;
    let mut bench = ready(fields, 2, 2);
    bench.coat("panel-a", 0.0, 5.0);
    bench.at(52.0).tell(Command::EmptyPot { pot: "A".into() });
    assert_eq!(bench.board().stop, None, "15 min to mix and 10 to stand are past 60");
    assert!(bench.wants_a_pot());
    // without one to mix it stays
    bench.tell(Command::TakeBack);
    assert!(bench.board().stop.is_some());
}
