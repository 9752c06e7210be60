//! Steps and checks: their waits, what must come first, the wipe after a night.

use boothside_core::board::{Next, ReadWhy, Stage, Waited};
use boothside_core::session::clocks::DueAt;
use boothside_core::session::command::Command;
use boothside_core::session::event::Reason;
use boothside_core::session::standing::{FaceNow, PotWhy, StepNow, WipeWhy};
use boothside_core::work::job::FullJob;
use serde_json::json;

use crate::bench::{Bench, begin, min, mix};
use crate::jobs::{checked, plain, sheet, step};

fn done(step: &str) -> Command {
    Command::StepDone { step: step.into() }
}

/// Rinse with a wait of 30 min, then wipe with one of 5.
fn prepared() -> FullJob {
    let mut work = plain(sheet(json!({})), 2, 1);
    work.system.layers[0].prep = vec![
        step(json!({ "id": "rinse", "name": "rinsed", "wait": { "duration_s": 1800 } })),
        step(
            json!({ "id": "wipe", "name": "wiped", "does": "wipe", "wait": { "duration_s": 300 } }),
        ),
    ];
    work.system.layers[0].ready = serde_json::from_value(json!([
        { "id": "gloves", "name": "gloves" },
        { "id": "fan", "name": "fan on", "each": "coat" }
    ]))
    .expect("checks");
    checked(work)
}

#[test]
fn the_stage_asks_in_the_order_of_work() {
    let mut bench = Bench::new(prepared());
    let asked = bench.until_begin();
    let waits = |id: &str, minute: f64| {
        let until = Some(DueAt::At(min(minute)));
        Next::Wait { what: Waited::AfterStep { step: id.into() }, until }
    };
    let check = |coat: u32, id: &str| Next::Check { layer: 1, coat, check: id.into() };
    // without a stand the wipe flashes off while one mixes, and it is the last thing before the film
    let wanted = [
        Next::SomeoneKnows,
        Next::Step { step: "rinse".into(), again: false },
        waits("rinse", 30.0),
        check(0, "gloves"),
        Next::Reading { why: ReadWhy::Missing },
        check(1, "fan"),
        Next::Wipe { faces: vec![0, 1], step: Some("wipe".into()), why: None },
        Next::MixPot { layer: 1, amount_ml: None, why: PotWhy::None },
        waits("wipe", 35.0),
    ];
    assert_eq!(asked, wanted);
    assert_eq!(bench.board().next, Next::BeginCoat { face: 0, layer: 1, coat: 1 });
    assert_eq!(bench.board().stage, Stage::Coat { layer: 1, coat: 1 });
}

#[test]
fn a_coat_is_held_by_steps_and_checks_and_the_wait_can_be_gone_past() {
    let mut bench = Bench::new(prepared());
    let held = bench.try_tell(&begin("panel-a"), None).expect_err("held").to_string();
    assert_eq!(held, "held: step rinse, step wipe, check 1.0 gloves, pot 1, check 1.1 fan");
    bench.tell(done("rinse"));
    assert_eq!(bench.board().steps[0].now, StepNow::Waiting);
    bench.tell(Command::GoPast { hold: "wait rinse".into(), reason: Reason::OwnDecision });
    assert_eq!(bench.board().steps[0].now, StepNow::Done);
    bench.tell(Command::SomeoneKnows);
    let gloves = Next::Check { layer: 1, coat: 0, check: "gloves".into() };
    assert_eq!(bench.board().next, gloves, "the wait is over");
}

#[test]
fn a_night_brings_the_wipe_back_and_no_other_step() {
    let mut bench = Bench::new(prepared());
    bench.tell(done("rinse"));
    bench.at(30.0).tell(done("wipe"));
    bench.at(30.0 + 479.9);
    assert_eq!(bench.face(0).wipe, None);
    bench.at(30.0 + 480.0);
    assert_eq!(bench.face(0).wipe, Some(WipeWhy::Overnight));
    let asked = bench.space_until(|bench| matches!(bench.board().next, Next::Wipe { .. }));
    let rinses = |next: &Next| matches!(next, Next::Step { step, .. } if step == "rinse");
    assert!(!asked.iter().any(rinses), "rinsing comes back for no night");
    let (faces, why) = (vec![0, 1], Some(WipeWhy::Overnight));
    assert_eq!(bench.space(), Next::Wipe { faces, step: None, why });
    assert_eq!(bench.face(0).now, FaceNow::Flashing, "for the wait of its step");
}

#[test]
fn a_closing_step_waits_for_the_stage_that_it_needs() {
    let cure = json!([{ "stage": "mask", "after": { "duration_s": 3600 } }]);
    let mut work = plain(sheet(json!({ "cure": cure })), 1, 1);
    work.system.close = vec![
        step(json!({ "id": "unmask", "name": "masking off", "after": "mask" })),
        step(json!({ "id": "waste", "name": "waste put away" })),
    ];
    let mut bench = Bench::new(checked(work));
    bench.tell(Command::SkipReading);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 1.0);
    assert!(matches!(bench.space(), Next::CleanGun { .. }));
    assert!(matches!(bench.space(), Next::Leftover { ml: None, .. }));
    assert_eq!(bench.space(), Next::Step { step: "waste".into(), again: false });
    let Next::Wait { until, .. } = bench.board().next else { panic!("{:?}", bench.board().next) };
    assert_eq!(until.and_then(|until| until.moment()), Some(min(61.0)));
    assert_eq!(bench.board().stage, Stage::Cure);
    assert!(bench.try_tell(&Command::Close { past: None }, None).is_err());
    bench.at(61.0);
    assert_eq!(bench.space(), Next::Step { step: "unmask".into(), again: false });
    assert_eq!(bench.space(), Next::Close);
    assert_eq!((bench.board().next, bench.board().stage), (Next::Over, Stage::Closed));
}

#[test]
fn cure_starts_again_at_a_touch_up() {
    let cure = json!([{ "stage": "handle", "after": { "duration_s": 3600 } }]);
    let mut bench = Bench::new(plain(sheet(json!({ "cure": cure })), 1, 1));
    bench.coat("panel-a", 0.0, 1.0);
    bench.at(20.0).tell(Command::TouchedUp { face: "panel-a".into() });
    let due = bench.face(0).cure[0].due.moment();
    assert_eq!(due, Some(min(80.0)));
}
