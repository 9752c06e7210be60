//! Situations of the trade from end to end: jobs that we invented, with answers reckoned by hand.

use boothside_core::session::command::Command;
use boothside_core::session::event::Reading;
use boothside_core::session::standing::{FaceNow, Hold, PotNow, WipeWhy};
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Refusal, State};
use boothside_core::work::job::FullJob;
use serde_json::json;

use crate::bench::{Bench, begin, begin_past, min, mix, on};
use crate::jobs::{doubling, plain, sheet};

fn hm(hours: i64, minutes: i64) -> Moment {
    Moment::OPENING.plus(Span::from_minutes(hours * 60 + minutes))
}

fn face_now(bench: &Bench, face: usize) -> FaceNow {
    bench.board().faces[face].at.now
}

/// 180 min at 20 °C halve per +10 °C, the shop is at 26 °C, mixed at 14:20, stand 30 min
/// inside the pot's life, cleaning 20 min; three coats of 14 min, flash 25 min.
#[test]
fn a_pot_that_does_not_last_for_the_third_coat() {
    let work = plain(
        sheet(json!({
            "induction": { "stand": { "duration_s": 1800 }, "inside_pot_life": true },
            "pot_life": { "life": doubling(10800.0), "cleaning_reserve_s": 1200 },
            "between_coats": { "earliest": { "duration_s": 1500 }, "by": "clock" }
        })),
        1,
        3,
    );
    let mut bench = Bench::new(work);
    bench.now = hm(14, 20);
    bench.read(26.0, 50.0);
    bench.tell(mix());
    let pot = bench.board().pots[0].at.clone();
    // 180 min / 2^0.6 = 118.75 min
    let dead = pot.dead.and_then(|due| due.moment()).expect("an end");
    assert!((dead.since(hm(14, 20)).seconds() / 60.0 - 118.75).abs() < 0.01);
    assert_eq!(pot.last_trigger, Some(dead.minus(Span::from_minutes(20))));
    for (begins, ends) in [(hm(14, 50), hm(15, 4)), (hm(15, 29), hm(15, 43))] {
        bench.now = begins.minus(Span::from_ms(1));
        let early = bench.try_tell(&begin("panel-a"), None);
        assert!(matches!(early, Err(Refusal::Held(_))), "before {begins:?}");
        bench.now = begins;
        bench.tell(begin("panel-a"));
        bench.now = ends;
        bench.tell(on("panel-a"));
    }
    // the third would begin at 16:08, ten minutes after the last trigger
    bench.now = hm(15, 58);
    assert_eq!(bench.board().pots[0].at.now, PotNow::Good);
    bench.now = hm(16, 8);
    assert_eq!(bench.board().pots[0].at.now, PotNow::StopAndClean);
    let held = bench.try_tell(&begin("panel-a"), None);
    let old = Hold::StopAndClean { pot: "A".into() };
    assert_eq!(held, Err(Refusal::Held(vec![old])));
    // a second pot for coat 3
    bench.tell(Command::CleanGun);
    bench.tell(mix());
    bench.pass(30.0);
    bench.tell(begin("panel-a"));
    let coats = &bench.session.state().faces[0].coats;
    assert_eq!(coats[2].pot.as_deref(), Some("B"));
}

/// The same, the second pot mixed ahead: while it stands, the first goes on.
#[test]
fn a_second_pot_mixed_ahead_does_not_hold_the_first() {
    let work = plain(
        sheet(json!({
            "induction": { "stand": { "duration_s": 1800 }, "inside_pot_life": true },
            "pot_life": { "life": { "duration_s": 7200 }, "cleaning_reserve_s": 1200 }
        })),
        2,
        1,
    );
    let mut bench = Bench::new(work);
    bench.tell(Command::SkipReading);
    bench.tell(mix());
    bench.pass(30.0);
    bench.tell(begin("panel-a"));
    bench.tell(mix());
    bench.pass(5.0);
    bench.tell(on("panel-a"));
    bench.tell(begin("panel-b"));
    bench.pass(5.0);
    bench.tell(on("panel-b"));
    let pots = |state: &State| -> Vec<Option<String>> {
        state.faces.iter().map(|face| face.coats[0].pot.clone()).collect()
    };
    assert_eq!(pots(bench.session.state()), [Some("A".to_owned()), Some("A".to_owned())]);
}

fn two_panels(flash_s: f64) -> FullJob {
    let gap = json!({ "earliest": { "duration_s": flash_s }, "by": "clock" });
    plain(sheet(json!({ "between_coats": gap })), 4, 3)
}

/// Sprays three rounds by SPACE: what the board offers, minutes waited before each face, the end.
fn three_rounds(flash_min: f64) -> (Vec<f64>, f64) {
    let mut bench = Bench::new(two_panels(flash_min * 60.0));
    let spraying = [("panel-a", 7.0), ("panel-b", 7.0), ("panel-c", 6.0), ("panel-d", 6.0)];
    let mut idle = Vec::new();
    bench.read(20.0, 50.0);
    bench.tell(mix());
    for round in 0..3 {
        for (number, (face, minutes)) in spraying.iter().enumerate() {
            let came = bench.now;
            bench.until_begin();
            idle.push(bench.now.since(came).seconds() / 60.0);
            let next = bench.space();
            assert!(
                matches!(next, boothside_core::board::Next::BeginCoat { face, .. } if face == number),
                "round {round}, {face}: {next:?}"
            );
            bench.pass(*minutes);
            bench.tell(on(face));
            bench.pass(2.0);
        }
    }
    // the last change of place is not part of the work
    (idle, bench.now.seconds() / 60.0 - 2.0)
}

/// Faces of 7, 7, 6 and 6 min, 2 min to change, three rounds from 10:00.
#[test]
fn two_panels_with_a_flash_of_20_minutes_leave_no_idle_time() {
    let (idle, end) = three_rounds(20.0);
    assert!(idle.iter().all(|minutes| minutes.abs() < 1e-6), "{idle:?}");
    assert!((end - 100.0).abs() < 1e-6, "{end}");
}

/// The same with 30 min: the painter waits 3 and 3 min, and ends at 11:46.
#[test]
fn two_panels_with_a_flash_of_30_minutes_wait_twice_three() {
    let (idle, end) = three_rounds(30.0);
    let waits: Vec<f64> = idle.iter().copied().filter(|minutes| *minutes > 0.0).collect();
    assert_eq!((waits, end), (vec![3.0, 3.0], 106.0));
}

/// The same with 45 min: 18 and 18 min, ending at 12:16.
#[test]
fn two_panels_with_a_flash_of_45_minutes_wait_twice_eighteen() {
    let (idle, end) = three_rounds(45.0);
    let waits: Vec<f64> = idle.iter().copied().filter(|minutes| *minutes > 0.0).collect();
    assert_eq!((waits, end), (vec![18.0, 18.0], 136.0));
}

/// A primer: 5 h, 8 h, 24 h, counted from 16:40 on Friday; the face begins and ends at once.
fn primed() -> Bench {
    let work = plain(
        sheet(json!({
            "between_coats": {
                "earliest": { "duration_s": 5 * 3600 },
                "by": "clock",
                "open_until": { "duration_s": 8 * 3600 },
                "wipe_until": { "duration_s": 24 * 3600 }
            }
        })),
        1,
        2,
    );
    let mut bench = Bench::new(work);
    bench.now = hm(16, 40);
    bench.tell(begin_past("panel-a"));
    bench.tell(on("panel-a"));
    bench
}

/// The primer: its four states at four times.
#[test]
fn a_window_of_four_states_over_a_night() {
    let mut bench = primed();
    let edges = bench.board().faces[0].at.clone();
    let at = |due: Option<boothside_core::session::clocks::Due>| due.and_then(|due| due.moment());
    assert_eq!(at(edges.opens), Some(hm(21, 40)));
    assert_eq!(at(edges.open_until), Some(hm(24, 40)));
    assert_eq!(at(edges.wipe_until), Some(hm(40, 40)));
    let wanted = [
        (hm(20, 0), FaceNow::Flashing),
        (hm(23, 30), FaceNow::Open),
        (hm(33, 0), FaceNow::Wipe),
        (hm(41, 30), FaceNow::Sand),
    ];
    for (now, state) in wanted {
        bench.now = now;
        assert_eq!(face_now(&bench, 0), state, "{now:?}");
    }
}

/// The variant over the end of summer time: 22:00 to 08:00 on the wall are 11 h, and the session
/// counts those. A break of 11 h brings the wipe back where the window is still open.
#[test]
fn a_night_with_the_end_of_summer_time_lasts_eleven_hours() {
    let day = json!({
        "between_coats": {
            "earliest": { "duration_s": 3600 },
            "by": "clock",
            "open_until": { "duration_s": (10.5 * 3600.0) as u32 },
            "wipe_until": { "duration_s": 48 * 3600 }
        }
    });
    let mut bench = Bench::new(plain(sheet(day), 1, 2));
    bench.tell(begin_past("panel-a"));
    bench.tell(on("panel-a"));
    // the wall says 10 h: by it the window would be open still
    bench.at(11.0 * 60.0);
    assert_eq!(face_now(&bench, 0), FaceNow::Wipe);
    assert!(
        bench.board().faces[0].at.wipe != Some(WipeWhy::Overnight),
        "the window itself is over"
    );
}

/// A strut: begun 13:16, on at 13:22, flash 20, at most 60; asleep until 14:09.
#[test]
fn a_strut_after_the_laptop_slept() {
    let gap = json!({
        "earliest": { "duration_s": 1200 },
        "by": "clock",
        "open_until": { "duration_s": 3600 }
    });
    let mut bench = Bench::new(plain(sheet(json!({ "between_coats": gap })), 1, 2));
    bench.now = hm(13, 16);
    bench.tell(mix());
    bench.tell(Command::Read(Reading { air_c: Some(20.0), ..Reading::default() }));
    bench.tell(begin("panel-a"));
    bench.now = hm(13, 22);
    bench.tell(on("panel-a"));
    bench.now = hm(14, 9);
    bench.tell(Command::Slept { span: Span::from_minutes(47) });
    let at = bench.board().faces[0].at.clone();
    assert_eq!(at.opens.and_then(|due| due.moment()), Some(hm(13, 42)));
    assert_eq!(at.open_until.and_then(|due| due.moment()), Some(hm(14, 16)));
    // 7 min are left of a window of 34: within its last quarter
    assert_eq!(at.now, FaceNow::Closing);
    assert!(at.now.takes_a_coat());
    assert_eq!(min(7.0), Moment::OPENING.plus(hm(14, 16).since(bench.now)));
    bench.now = hm(14, 16);
    assert_eq!(face_now(&bench, 0), FaceNow::Sand);
}
