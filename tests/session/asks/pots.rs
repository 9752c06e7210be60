//! Pots: poured part by part, stirred once, whole faces from one, the next in time.

use boothside_core::board::mixing::{OnBench, Shows};
use boothside_core::board::{CleanWhy, Next, ReadWhy, Stop, Waited};
use boothside_core::material::recipe::Told;
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::standing::{PotNow, PotWhy};
use serde_json::{Value, json};

use super::{begins, by_eye, checks, clean, known, ready, wanted_ml, with_pot};
use crate::bench::{Bench, begin, mix, on};
use crate::jobs::{checked, plain, sheet};
use crate::mixing::{bench_with, grams, pour};

/// A stand of 10 min.
fn stand() -> Value {
    json!({ "induction": { "stand": { "duration_s": 600 }, "inside_pot_life": true } })
}

fn life(minutes: u32) -> Value {
    let life = json!({ "duration_s": minutes * 60 });
    json!({ "pot_life": { "life": life, "cleaning_reserve_s": 0 } })
}

fn both(one: Value, other: Value) -> Value {
    let (Value::Object(mut one), Value::Object(other)) = (one, other) else { panic!("fields") };
    one.extend(other);
    Value::Object(one)
}

fn short(bench: &Bench) -> Option<(String, Vec<usize>)> {
    match bench.board().next {
        Next::Pour { why: Some(PotWhy::Short(pot, does)), .. } => Some((pot, does)),
        _ => None,
    }
}

fn coat(bench: &mut Bench, face: &str, minutes: f64) {
    bench.tell(begin(face));
    bench.pass(minutes).tell(on(face));
}

#[test]
fn what_is_mixed_of_parts_is_poured_and_what_has_one_is_mixed() {
    let bench = with_pot(json!({}), 2, 1, 100.0);
    let mut two_part = bench.clone();
    two_part.tell(Command::EmptyPot { pot: "A".into() });
    // 2 × 50 mL and 10 of loss: 110 mL, of which three quarters are base
    let Next::Pour { pot, component: 0, shows: Shows::Mark(ml), why: Some(PotWhy::None), .. } =
        two_part.board().next
    else {
        panic!("{:?}", two_part.board().next)
    };
    assert_eq!(pot, "B");
    assert!((ml - 82.5).abs() < 0.01, "{ml}");
    let oil = json!({ "mix": { "by": "volume", "components": [
        { "name": "Oil", "role": "base", "parts": 1 } ] } });
    let mut one_part = with_pot(oil, 2, 1, 100.0);
    one_part.tell(Command::EmptyPot { pot: "A".into() });
    let amount_ml = Some(110.0);
    assert_eq!(one_part.board().next, Next::MixPot { layer: 1, amount_ml, why: PotWhy::None });
}

#[test]
fn an_over_pour_moves_the_rest_and_a_short_part_the_whole() {
    let mut bench = Bench::example();
    bench.space_until(Bench::wants_a_pot);
    bench.tell(Command::Pour {
        pot: None,
        layer: 1,
        component: 0,
        amount: Poured::ScaleShows(220.0),
    });
    let Next::Pour { component: 1, shows: Shows::Scale(g), .. } = bench.board().next else {
        panic!("{:?}", bench.board().next)
    };
    assert!((g - 264.9).abs() < 0.06, "{g}");
    // 100:18:6 by weight, 61.0 g of activator: base for that and no more
    let mut bench = bench_with([100.0, 18.0, 6.0], [None; 3], 2.0);
    bench.space_until(Bench::wants_a_pot);
    let (wanted, short) = (grams(460.0), vec![(1, grams(61.0))]);
    bench.tell(Command::PlanPot { layer: 1, wanted, short, container_ml: None });
    let Next::Pour { component: 0, shows: Shows::Scale(g), .. } = bench.board().next else {
        panic!("{:?}", bench.board().next)
    };
    assert!((g - 338.9).abs() < 0.06, "{g}");
}

#[test]
fn a_pot_that_stands_is_waited_for_with_its_last_trigger_beside_it() {
    let mut bench = ready(both(stand(), life(120)), 1, 1);
    let board = bench.board();
    let hero = board.hero.expect("a clock");
    assert_eq!(hero.what, Waited::Stand { pot: "A".into() });
    let soonest = board.soonest.expect("another");
    assert_eq!(soonest.what, Waited::LastTrigger { pot: "A".into() });
    bench.at(10.0);
    let board = bench.board();
    assert_eq!((board.next, board.hero), (begins(0, 1), None), "nothing is waited for");
}

#[test]
fn what_was_sprayed_from_is_never_stirred_again() {
    let mut bench = ready(stand(), 3, 1);
    bench.at(10.0).tell(begin("panel-a"));
    // on the bench beside the gun: nobody says that it is stirred
    for (component, ml) in [(0, 90.0), (1, 30.0)] {
        pour(&mut bench, component, Poured::Amount(Told { g: None, ml: Some(ml) }));
    }
    bench.at(12.0).tell(on("panel-a"));
    assert!(matches!(bench.board().next, Next::Stir { .. }), "{:?}", bench.board().next);
    bench.at(25.0).tell(Command::FillCup { pot: "B".into() });
    bench.tell(crate::bench::begin_past("panel-b"));
    bench.at(27.0).tell(on("panel-b"));
    let asked = bench.until_begin();
    assert!(!asked.iter().any(|next| matches!(next, Next::Stir { .. })), "{asked:?}");
    assert_ne!(bench.board().pots[1].at.now, PotNow::Standing, "{:?}", bench.board().pots[1]);
}

#[test]
fn a_new_pot_for_the_same_coat_is_strained_and_the_fan_is_not_asked_again() {
    let mut job = plain(sheet(json!({})), 2, 1);
    job.system.layers[0].ready = checks(json!([
        { "id": "strained", "name": "strained", "each": "pot", "group": "mix" },
        { "id": "pattern", "name": "pattern", "each": "pot", "group": "gun" },
        { "id": "fan", "name": "fan on", "each": "coat", "group": "booth" }
    ]));
    let mut bench = known(Bench::new(checked(job)));
    let check = |coat: u32, id: &str| Next::Check { layer: 1, coat, check: id.into() };
    assert_eq!(bench.until_begin(), [check(1, "fan"), check(0, "strained"), check(0, "pattern")]);
    coat(&mut bench, "panel-a", 5.0);
    bench.tell(Command::EmptyPot { pot: "A".into() });
    bench.tell(mix());
    assert_eq!(bench.until_begin(), [check(0, "strained"), check(0, "pattern")]);
}

/// 300 mL for two coats of 200: of the second A does two faces of four. B is for the other two:
/// 100 mL and 10 of loss.
#[test]
fn before_a_coat_that_the_pot_does_not_do_the_next_is_mixed_for_the_rest() {
    let mut bench = with_pot(stand(), 4, 2, 300.0);
    bench.at(10.0);
    for face in ["panel-a", "panel-b", "panel-c", "panel-d"] {
        coat(&mut bench, face, 5.0);
    }
    bench.at(35.0);
    assert_eq!(short(&bench), Some(("A".into(), vec![0, 1])));
    assert!((wanted_ml(&bench) - 110.0).abs() < 1e-6, "{}", wanted_ml(&bench));
    assert_eq!(bench.board().mixing.map(|mixing| mixing.stands), Some(OnBench::ToMix));
    assert!(matches!(
        bench.space_until(|bench| !bench.pours())[..],
        [Next::Pour { .. }, Next::Pour { .. }]
    ));
    assert!(matches!(bench.space(), Next::Stir { .. }));
    // its faces while B stands
    assert_eq!(bench.board().pots[1].at.now, PotNow::Standing);
    assert_eq!(bench.board().next, begins(0, 2));
    coat(&mut bench, "panel-a", 5.0);
    assert_eq!(bench.board().next, begins(1, 2));
    coat(&mut bench, "panel-b", 5.0);
    assert_eq!(bench.board().next, begins(2, 2), "B has stood");
    coat(&mut bench, "panel-c", 5.0);
    let pot = |face: usize| bench.session.state().faces[face].coats[1].pot.clone();
    assert_eq!([0, 1, 2].map(pot), ["A", "A", "B"].map(|pot| Some(pot.to_owned())));
}

#[test]
fn a_pot_short_in_mid_coat_lets_the_face_on_the_gun_end_and_no_other_run_dry() {
    let mut bench = with_pot(json!({}), 3, 1, 170.0);
    bench.tell(begin("panel-a"));
    bench
        .at(4.0)
        .tell(Command::WeighPot { pot: "A".into(), left: Told { g: None, ml: Some(80.0) } });
    assert_eq!(bench.board().next, Next::CoatOn { face: 0, layer: 1, coat: 1 });
    bench.at(5.0).tell(on("panel-a"));
    // 30 mL are left: not one face
    assert_eq!(short(&bench), Some(("A".into(), Vec::new())));
    // emptied it leads there too
    bench.tell(Command::EmptyPot { pot: "A".into() });
    assert!(bench.wants_a_pot());
}

#[test]
fn a_pot_near_its_end_does_its_faces_before_the_next_is_mixed() {
    // 10 min for its two faces and 15 to mix: from 40 min on of 65 its own faces come first
    let mut bench = with_pot(life(65), 3, 1, 100.0);
    assert!(short(bench.at(39.0)).is_some());
    assert_eq!(bench.at(40.0).board().next, begins(0, 1));
    coat(&mut bench, "panel-a", 5.0);
    assert_eq!(bench.board().next, begins(1, 1));
    coat(&mut bench, "panel-b", 5.0);
    assert_eq!(short(&bench), Some(("A".into(), Vec::new())));
}

/// Three faces of 5 min, the last trigger after 60: at 54 one fits, and then none.
#[test]
fn a_face_that_the_pot_does_not_last_for_is_not_begun() {
    let mut bench = with_pot(life(60), 3, 1, 400.0);
    bench.at(54.0);
    assert_eq!(bench.board().next, begins(0, 1));
    coat(&mut bench, "panel-a", 4.0);
    assert_eq!(clean(&bench), Some(CleanWhy::TooLate));
    assert!(matches!(bench.board().stop, Some(Stop::Clean { why: CleanWhy::TooLate, .. })));
    bench.space();
    let why = Some(PotWhy::TooLate("A".into()));
    assert!(matches!(bench.board().next, Next::Pour { why: of, .. } if of == why));
    assert!((wanted_ml(&bench) - 110.0).abs() < 1e-6, "for the two");
}

/// Three faces that nobody tapped off for two hours each make a pace that no pot of an hour lasts for: the
/// next is not too late from its birth on, or pots would be mixed for ever.
#[test]
fn a_fresh_pot_is_not_too_late_for_a_pace_that_no_pot_lasts_for() {
    let mut bench = with_pot(life(60), 4, 1, 400.0);
    for face in ["panel-a", "panel-b", "panel-c"] {
        let past = Some(boothside_core::session::event::Reason::OwnDecision);
        bench.tell(Command::BeginCoat { face: face.into(), past });
        bench.pass(120.0).tell(on(face));
    }
    bench.tell(Command::CleanGun);
    bench.tell(Command::Read(super::fit()));
    bench.tell(Command::PutAside { pot: "A".into() });
    bench.tell(super::mixed(100.0));
    bench.pass(1.0);
    assert_eq!(clean(&bench), None);
    assert!(!matches!(bench.board().next, Next::Pour { .. } | Next::MixPot { .. }));
    let next = bench.board().next;
    assert!(matches!(next, Next::BeginCoat { .. } | Next::Check { .. }), "{next:?}");
}

/// The trigger passes with a face half sprayed: what is on is film, and no coat.
#[test]
fn a_face_stopped_part_way_is_looked_at_and_gets_its_coat_again() {
    let fields = both(by_eye(10), life(60));
    let mut bench = with_pot(fields, 2, 2, 400.0);
    bench.at(58.0).tell(begin("panel-a"));
    bench.at(61.0);
    assert_eq!(bench.board().next, Next::CoatOn { face: 0, layer: 1, coat: 1 });
    assert!(matches!(bench.board().stop, Some(Stop::Clean { why: CleanWhy::Dead, .. })));
    bench.tell(Command::StopFace { face: "panel-a".into() });
    assert_eq!(clean(&bench), Some(CleanWhy::Dead));
    let left = bench.board().pots[0].left_ml.expect("an estimate");
    assert!((left - 350.0).abs() < 1e-6, "it pays the whole face: {left}");
    bench.space();
    assert_eq!(bench.face(0).next, Some((1, 1)));
    let looks = bench.face(0).look.and_then(|look| look.moment());
    assert_eq!(looks, Some(crate::bench::min(71.0)), "from the stop");
    assert_eq!(bench.at(71.0).board().next, Next::Dulled { face: 0 });
    bench.space();
    let asked = bench.until_begin();
    assert_eq!(bench.board().next, begins(0, 1), "{asked:?}");
}

#[test]
fn a_dead_pot_is_cleaned_out_put_aside_and_followed() {
    let mut bench = with_pot(life(60), 2, 1, 200.0);
    coat(&mut bench, "panel-a", 5.0);
    bench.at(60.0);
    assert_eq!(clean(&bench), Some(CleanWhy::Dead));
    assert!(matches!(bench.board().stop, Some(Stop::Clean { why: CleanWhy::Dead, .. })));
    bench.space();
    assert_eq!(bench.board().stop, None);
    let Next::Leftover { ml: Some(ml), .. } = bench.space() else { panic!("no leftover") };
    assert!((ml - 150.0).abs() < 1e-6, "{ml}");
    assert!(bench.board().pots.is_empty(), "its line goes");
    assert_eq!(bench.space(), Next::Reading { why: ReadWhy::Old });
    assert!(bench.wants_a_pot());
    // not in the gun: why, and no stop
    let mut unused = with_pot(life(60), 2, 1, 40.0);
    unused.at(60.0).tell(Command::Read(super::fit()));
    assert_eq!(unused.board().stop, None);
    let why = Some(PotWhy::Dead("A".into()));
    assert!(matches!(unused.board().next, Next::Pour { why: of, .. } if of == why));
}

/// Coat 3 may be begun at 160, and A holds two: 15 min to mix and 10 to stand are from 135.
#[test]
fn between_rounds_the_next_pot_is_mixed_in_time_and_not_sooner() {
    let gap = json!({ "between_coats": { "earliest": { "duration_s": 3600 }, "by": "clock" } });
    let mut bench = with_pot(both(stand(), gap), 2, 3, 200.0);
    for (face, from) in
        [("panel-a", 10.0), ("panel-b", 15.0), ("panel-a", 95.0), ("panel-b", 100.0)]
    {
        bench.coat(face, from, from + 5.0);
    }
    bench.at(134.9).tell(Command::Read(super::fit()));
    let Next::Wait { what, until } = bench.board().next else { panic!("{:?}", bench.board().next) };
    assert_eq!(until.and_then(|until| until.moment()), Some(crate::bench::min(135.0)));
    assert_eq!(what, Waited::PotTime { layer: 1 });
    bench.at(135.0);
    let why = Some(PotWhy::NextCoat(3));
    assert!(matches!(bench.board().next, Next::Pour { why: of, .. } if of == why));
}

/// A look keeps, a pot does not: two faces of 5 min, and 10 to spare, before the trigger at 60.
#[test]
fn looks_wait_for_a_pot_that_would_else_not_do_the_coat() {
    let mut bench = ready(both(by_eye(2), life(60)), 3, 2);
    bench.coat("panel-a", 30.0, 35.0);
    assert_eq!(bench.at(39.9).board().next, Next::Dulled { face: 0 });
    assert_eq!(bench.at(40.0).board().next, begins(1, 1));
    assert_eq!(
        bench.at(55.0).board().next,
        Next::CleanGun { pot: "A".into(), why: CleanWhy::TooLate }
    );
}

/// Two pots of 60 mL are there: the second one's face is on, and the first does another; a third is for
/// the rest.
#[test]
fn a_pot_that_is_spent_gives_way_to_one_mixed_before_it() {
    let mut bench = with_pot(json!({}), 3, 1, 60.0);
    bench.at(1.0).tell(super::mixed(60.0));
    coat(&mut bench, "panel-a", 5.0);
    assert_eq!(short(&bench), Some(("A".into(), vec![1])));
    coat(&mut bench, "panel-b", 5.0);
    let pot = |face: usize| bench.session.state().faces[face].coats[0].pot.clone();
    assert_eq!([0, 1].map(pot), ["B", "A"].map(|pot| Some(pot.to_owned())));
    assert!(bench.wants_a_pot(), "neither does the last face");
}
