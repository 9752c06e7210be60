//! The four states of the recoat window, and its edges.

use boothside_core::board::Next;
use boothside_core::session::command::Command;
use boothside_core::session::standing::{FaceNow, Hold, WipeWhy};
use boothside_core::session::time::Span;
use boothside_core::session::{Refusal, time::Moment};
use serde_json::json;

use super::{minutes, same};
use crate::bench::{Bench, begin, min, mix};
use crate::jobs::{plain, sheet};

/// Earliest 60 min, open until 240, wipe until 480, the wipe flashes 10 and holds 60 min.
fn windowed() -> Bench {
    let work = plain(
        sheet(json!({
            "between_coats": {
                "earliest": { "duration_s": 3600 },
                "by": "clock",
                "open_until": { "duration_s": 14400 },
                "wipe_until": { "duration_s": 28800 }
            },
            "wipe": { "flash_s": 600, "limit_s": 3600 }
        })),
        1,
        3,
    );
    let mut bench = Bench::new(work);
    bench.tell(Command::SkipReading);
    bench.tell(Command::SomeoneKnows);
    bench.tell(mix());
    // begun at 10, on at 17: a face that takes 7 min
    bench.coat("panel-a", 10.0, 17.0);
    bench
}

#[test]
fn minima_count_from_the_end_and_maxima_from_the_beginning() {
    let bench = windowed();
    let face = bench.face(0);
    assert!(same(minutes(face.opens), 77.0));
    assert!(same(minutes(face.open_until), 250.0));
    assert!(same(minutes(face.wipe_until), 490.0));
    // the sheet's 60 to 240 min are 180; this face has 7 min less
    assert!(same(minutes(face.open_until) - minutes(face.opens), 180.0 - 7.0));
}

#[test]
fn each_state_begins_at_its_edge_and_not_a_millisecond_before() {
    let mut bench = windowed();
    let closing = min(250.0).minus(Span::from_minutes(15));
    let edges = [
        (min(77.0), FaceNow::Flashing, FaceNow::Open),
        (closing, FaceNow::Open, FaceNow::Closing),
        (min(250.0), FaceNow::Closing, FaceNow::Wipe),
        (min(490.0), FaceNow::Wipe, FaceNow::Sand),
    ];
    for (edge, before, after) in edges {
        bench.now = edge.minus(Span::from_ms(1));
        assert_eq!(bench.face_now(0), before, "before {edge:?}");
        assert_eq!(bench.board().next_change, Some(edge));
        bench.now = edge;
        assert_eq!(bench.face_now(0), after, "at {edge:?}");
    }
}

#[test]
fn a_short_window_closes_for_its_last_quarter() {
    let gap = json!({
        "earliest": { "duration_s": 600 }, "by": "clock", "open_until": { "duration_s": 1800 }
    });
    let mut bench = Bench::new(plain(sheet(json!({ "between_coats": gap })), 1, 2));
    bench.coat("panel-a", 0.0, 0.0);
    // open from 10 to 30: its last quarter begins at 25
    bench.now = min(25.0).minus(Span::from_ms(1));
    assert_eq!(bench.face_now(0), FaceNow::Open);
    bench.now = min(25.0);
    assert_eq!(bench.face_now(0), FaceNow::Closing);
}

#[test]
fn a_wipe_opens_after_its_own_flash_until_its_own_limit() {
    let mut bench = windowed();
    bench.at(300.0).tell(Command::SkipReading);
    assert!(matches!(bench.board().next, Next::Wipe { .. }));
    bench.tell(Command::Wiped { faces: vec!["panel-a".into()] });
    for (minute, state) in [
        (309.9, FaceNow::Flashing),
        (310.0, FaceNow::Open),
        (359.9, FaceNow::Closing),
        (360.0, FaceNow::Wipe),
    ] {
        assert_eq!(bench.at(minute).face_now(0), state, "{minute}");
    }
}

#[test]
fn a_wipe_opens_no_longer_than_wipes_are_allowed() {
    let mut bench = windowed();
    bench.at(450.0).tell(Command::Wiped { faces: vec!["panel-a".into()] });
    // its own limit would be 510, but wiping ends at 490
    assert_eq!(bench.at(489.9).face_now(0), FaceNow::Closing);
    assert_eq!(bench.at(490.0).face_now(0), FaceNow::Sand);
    bench.tell(Command::Wiped { faces: vec!["panel-a".into()] });
    assert_eq!(bench.pass(20.0).face_now(0), FaceNow::Sand, "wiping is no longer permitted");
    assert_eq!(bench.board().next, Next::Sand { faces: vec![0] });
}

#[test]
fn a_scuff_opens_at_once_but_does_not_dry_the_wipe_before_it() {
    let mut bench = windowed();
    bench.at(300.0).tell(Command::Scuffed { faces: vec!["panel-a".into()] });
    assert_eq!(bench.face_now(0), FaceNow::Open);
    let mut bench = windowed();
    bench.at(300.0).tell(Command::Wiped { faces: vec!["panel-a".into()] });
    bench.at(301.0).tell(Command::Scuffed { faces: vec!["panel-a".into()] });
    assert_eq!(bench.at(309.9).face_now(0), FaceNow::Flashing);
    assert_eq!(bench.at(310.0).face_now(0), FaceNow::Open);
}

#[test]
fn sanding_starts_the_window_anew() {
    let mut bench = windowed();
    bench.at(600.0).tell(Command::Sanded { faces: vec!["panel-a".into()] });
    assert_eq!(bench.face(0).wipe, Some(WipeWhy::Sanded), "the dust comes off first");
    bench.tell(Command::Wiped { faces: vec!["panel-a".into()] });
    assert_eq!(bench.face_now(0), FaceNow::Flashing);
    let face = bench.at(610.0).face(0);
    assert_eq!(face.now, FaceNow::Open);
    assert!(same(minutes(face.open_until), 840.0) && same(minutes(face.wipe_until), 1080.0));
    assert_eq!(bench.at(840.0).face_now(0), FaceNow::Wipe);
    assert_eq!(bench.at(1080.0).face_now(0), FaceNow::Sand);
}

#[test]
fn sanding_does_not_end_the_stated_minimum() {
    let mut bench = windowed();
    bench.at(40.0).tell(Command::Sanded { faces: vec!["panel-a".into()] });
    assert_eq!(bench.at(76.9).face_now(0), FaceNow::Flashing);
    assert_eq!(bench.at(77.0).face(0).wipe, Some(WipeWhy::Sanded));
}

#[test]
fn every_state_that_takes_no_coat_holds_with_its_own_word() {
    let held = |bench: &mut Bench, minute: f64| -> Vec<String> {
        match bench.at(minute).try_tell(&begin("panel-a"), None) {
            Err(Refusal::Held(holds)) => holds.iter().map(ToString::to_string).collect(),
            other => panic!("{other:?}"),
        }
    };
    let mut bench = windowed();
    assert_eq!(held(&mut bench, 50.0), ["too-early panel-a"]);
    assert_eq!(held(&mut bench, 300.0), ["wipe panel-a"]);
    assert_eq!(held(&mut bench, 500.0), ["sand panel-a"]);
}

#[test]
fn a_sheets_range_gives_its_upper_end_to_minima_and_its_lower_end_to_maxima() {
    let gap = json!({
        "earliest": { "duration_s": 600, "up_to_s": 900 },
        "by": "clock",
        "open_until": { "duration_s": 7200, "up_to_s": 9000 }
    });
    let pot = json!({ "life": { "duration_s": 3600, "up_to_s": 5400 }, "cleaning_reserve_s": 0 });
    let work = sheet(json!({ "between_coats": gap, "pot_life": pot }));
    let mut bench = Bench::new(plain(work, 1, 2));
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 0.0);
    let face = bench.face(0);
    assert!(same(minutes(face.opens), 15.0));
    assert!(same(minutes(face.open_until), 120.0));
    assert!(same(minutes(bench.board().pots[0].at.dead), 60.0));
}

#[test]
fn a_window_that_the_sheet_does_not_end_stays_open() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 2));
    bench.coat("panel-a", 0.0, 0.0);
    let face = bench.at(21.0).face(0);
    assert_eq!((face.now, face.until, face.open_until), (FaceNow::Open, None, None));
    assert!(bench.board().next_change > Some(Moment::OPENING));
}

#[test]
fn a_hold_tells_until_when() {
    let mut bench = windowed();
    let held = bench.at(50.0).try_tell(&begin("panel-a"), None);
    let Err(Refusal::Held(holds)) = held else { panic!("not held") };
    let [Hold::TooEarly { until: Some(until), .. }] = &holds[..] else { panic!("{holds:?}") };
    assert_eq!(until.moment(), Some(min(77.0)));
}
