//! The gate before a coat: masks by number, the wipe last, sanding before it, nights away.

use boothside_core::board::{CleanWhy, Next, ReadWhy};
use boothside_core::session::command::Command;
use boothside_core::session::event::Way;
use boothside_core::session::standing::{PotWhy, WipeWhy};
use boothside_core::work::job::FullJob;
use serde_json::json;

use super::{checks, count, fit, known, steps};
use crate::bench::{Bench, min};
use crate::jobs::{checked, plain, sheet};

/// Masked before, unmasked after.
fn masked() -> FullJob {
    let mut job = plain(sheet(json!({})), 1, 1);
    job.system.layers[0].prep = steps(json!([{ "id": "mask", "name": "masked", "does": "mask" }]));
    job.system.close = steps(json!([{ "id": "unmask", "name": "masks off", "does": "mask" }]));
    checked(job)
}

fn asks_in(again: bool) -> Next {
    Next::CountMasks { way: Way::In, again }
}

fn at_the_unmasking(bench: &mut Bench) {
    bench.until_begin();
    bench.coat("panel-a", 1.0, 5.0);
    bench.space_until(|bench| matches!(bench.board().next, Next::CountMasks { .. }));
}

#[test]
fn masks_are_asked_by_number_and_counted_out_until_they_agree() {
    let mut bench = Bench::new(masked());
    bench.tell(Command::SomeoneKnows);
    assert_eq!(bench.board().next, asks_in(false));
    bench.tell(count(Way::In, 14));
    assert_eq!(bench.board().next, Next::Reading { why: ReadWhy::Missing });
    at_the_unmasking(&mut bench);
    assert_eq!(bench.board().next, Next::CountMasks { way: Way::Out, again: false });
    bench.tell(count(Way::Out, 13));
    assert_eq!(bench.board().next, Next::CountMasks { way: Way::Out, again: true });
    let held = bench.try_tell(&Command::Close { past: None }, None).expect_err("held");
    assert!(held.to_string().contains("masks-out"), "{held}");
    bench.tell(count(Way::Out, 14));
    assert_eq!(bench.board().next, Next::Close);
}

#[test]
fn masks_left_uncounted_are_asked_once_more_and_then_not_known() {
    let mut bench = Bench::new(masked());
    bench.tell(Command::SomeoneKnows);
    let leave = Command::LeaveMasksUncounted { way: Way::In };
    assert_eq!(bench.board().next, asks_in(false));
    bench.tell(leave.clone());
    assert_eq!(bench.board().next, asks_in(false));
    bench.tell(leave);
    assert_eq!(bench.board().next, Next::Reading { why: ReadWhy::Missing });
    at_the_unmasking(&mut bench);
    bench.tell(count(Way::Out, 9));
    assert_eq!(bench.board().next, Next::Close, "against nothing nothing is held");
}

/// Open for 4 h, to be wiped until 12 h; the pot lives 4 h and stands 10 min; masked for a day.
fn away() -> Bench {
    let material = json!({
        "between_coats": {
            "earliest": { "duration_s": 1200 }, "by": "clock",
            "open_until": { "duration_s": 14400 }, "wipe_until": { "duration_s": 43200 }
        },
        "wipe": { "flash_s": 600, "limit_s": 7200 },
        "induction": { "stand": { "duration_s": 600 }, "inside_pot_life": true },
        "pot_life": { "life": { "duration_s": 14400 }, "cleaning_reserve_s": 0 }
    });
    let mut job = plain(sheet(material), 2, 2);
    job.system.layers[0].prep = steps(json!([
        { "id": "mask", "name": "masked", "does": "mask", "within_s": 86400 },
        { "id": "wipe", "name": "wiped", "does": "wipe" }
    ]));
    job.system.layers[0].ready = checks(json!([
        { "id": "protection", "name": "respirator", "each": "sitting", "group": "protection" },
        { "id": "strained", "name": "strained", "each": "pot", "group": "mix" },
        { "id": "gun", "name": "pattern", "each": "pot", "group": "gun" },
        { "id": "fan", "name": "fan on", "each": "coat", "group": "booth" }
    ]));
    let mut bench = Bench::new(checked(job));
    bench.until_begin();
    for face in ["panel-a", "panel-b"] {
        bench.tell(crate::bench::begin(face));
        bench.pass(5.0).tell(crate::bench::on(face));
    }
    bench
}

/// Within a sitting the round in hand goes on over masking that is too old; the day after it does not.
#[test]
fn a_round_that_is_half_done_at_night_is_masked_anew_in_the_morning() {
    let mut bench = away();
    bench.pass(30.0);
    bench.until_begin();
    bench.tell(crate::bench::begin("panel-a"));
    bench.pass(5.0).tell(crate::bench::on("panel-a"));
    bench.pass(26.0 * 60.0);
    let asked = bench.until_begin();
    let at = |wanted: &dyn Fn(&Next) -> bool| asked.iter().position(wanted).expect("asked");
    let masks = at(&|next| matches!(next, Next::CountMasks { .. }));
    let wipe = at(&|next| matches!(next, Next::Wipe { .. }));
    assert!(masks < wipe, "{asked:?}");
}

/// What SPACE does after so many hours, waits left out.
fn after(hours: f64) -> Vec<Next> {
    let mut bench = away();
    bench.pass(hours * 60.0);
    let asked = bench.until_begin();
    asked.into_iter().filter(|next| !matches!(next, Next::Wait { .. })).collect()
}

fn check(coat: u32, id: &str) -> Next {
    Next::Check { layer: 1, coat, check: id.into() }
}

fn wipe(why: WipeWhy) -> Next {
    Next::Wipe { faces: vec![0, 1], step: None, why: Some(why) }
}

fn new_pot(why: PotWhy) -> Next {
    Next::MixPot { layer: 1, amount_ml: None, why }
}

fn cleaned() -> Next {
    Next::CleanGun { pot: "A".into(), why: CleanWhy::Dead }
}

fn aside() -> Next {
    Next::Leftover { pot: "A".into(), ml: None }
}

#[test]
fn after_ten_hours_the_air_is_read_first_and_the_wipe_is_last() {
    let wanted = [
        cleaned(),
        Next::Reading { why: ReadWhy::Old },
        check(0, "protection"),
        Next::SomeoneKnows,
        aside(),
        new_pot(PotWhy::None),
        check(2, "fan"),
        wipe(WipeWhy::Window),
        check(0, "strained"),
        check(0, "gun"),
    ];
    assert_eq!(after(10.0), wanted);
}

#[test]
fn after_thirteen_hours_it_is_sanded_and_then_wiped() {
    let wanted = [
        cleaned(),
        Next::Reading { why: ReadWhy::Old },
        check(0, "protection"),
        Next::SomeoneKnows,
        aside(),
        Next::Sand { faces: vec![0, 1] },
        new_pot(PotWhy::None),
        check(2, "fan"),
        wipe(WipeWhy::Sanded),
        check(0, "strained"),
        check(0, "gun"),
    ];
    assert_eq!(after(13.0), wanted);
}

#[test]
fn after_a_day_masking_past_its_time_is_counted_anew_before_the_wipe() {
    let asked = after(26.0);
    let at = |wanted: &Next| asked.iter().position(|next| next == wanted);
    let masks = at(&asks_in(false)).expect("counted anew");
    assert!(at(&Next::Reading { why: ReadWhy::Old }) < Some(masks), "{asked:?}");
    assert!(Some(masks) < at(&wipe(WipeWhy::Sanded)), "{asked:?}");
    assert_eq!(asked.iter().filter(|next| matches!(next, Next::CountMasks { .. })).count(), 1);
}

#[test]
fn a_face_past_its_window_is_wiped_after_pot_and_fan_and_again_past_the_wipe_s_limit() {
    let mut bench = away();
    bench.pass(3.9 * 60.0);
    bench.tell(Command::Read(fit()));
    bench.pass(20.0).tell(Command::EmptyPot { pot: "A".into() });
    bench.tell(Command::CleanGun);
    let is_wipe = |bench: &Bench| matches!(bench.board().next, Next::Wipe { .. });
    let asked = bench.space_until(is_wipe);
    assert_eq!(asked, [new_pot(PotWhy::None), check(2, "fan")]);
    assert_eq!(bench.space(), wipe(WipeWhy::Window));
    bench.until_begin();
    // nothing goes on for two hours: the wipe is over, on each face
    bench.pass(121.0);
    bench.space_until(is_wipe);
    assert!(matches!(bench.board().next, Next::Wipe { ref faces, .. } if *faces == [0, 1]));
}

#[test]
fn the_dust_of_sanding_wants_a_wipe_where_no_step_does() {
    let mut bench = known(Bench::new(plain(sheet(json!({})), 1, 2)));
    bench.coat("panel-a", 0.0, 5.0);
    bench.now = min(30.0);
    bench.tell(Command::Sanded { faces: vec!["panel-a".into()] });
    let (faces, why) = (vec![0], Some(WipeWhy::Sanded));
    assert_eq!(bench.space(), Next::Wipe { faces, step: None, why });
    assert_eq!(bench.board().next, Next::BeginCoat { face: 0, layer: 1, coat: 2 });
}
