//! A pot: birth, stand, last trigger, death.

use boothside_core::board::{Next, Waited};
use boothside_core::session::command::Command;
use boothside_core::session::event::Reading;
use boothside_core::session::standing::{PotNow, PotStanding, PotWhy};
use serde_json::{Value, json};

use super::{minutes, same};
use crate::bench::{Bench, begin, begin_past, min, mix, on};
use crate::jobs::{doubling, plain, sheet};

fn potted(fields: Value) -> Bench {
    let mut bench = Bench::new(plain(sheet(fields), 3, 2));
    bench.tell(Command::SkipReading);
    bench.tell(Command::SomeoneKnows);
    bench.at(10.0).tell(mix());
    bench
}

fn pot(bench: &Bench) -> PotStanding {
    bench.board().pots[0].at.clone()
}

/// Life 120 min, 30 of them for cleaning, stand 20.
fn standing(inside: bool) -> Bench {
    potted(json!({
        "induction": { "stand": { "duration_s": 1200 }, "inside_pot_life": inside },
        "pot_life": { "life": { "duration_s": 7200 }, "cleaning_reserve_s": 1800 }
    }))
}

#[test]
fn the_last_trigger_is_the_life_less_the_reserve() {
    let mut bench = standing(true);
    let edges = [
        (29.9, PotNow::Standing),
        (30.0, PotNow::Good),
        (99.9, PotNow::Good),
        (100.0, PotNow::StopAndClean),
        (129.9, PotNow::StopAndClean),
        (130.0, PotNow::Dead),
    ];
    for (minute, now) in edges {
        bench.at(minute);
        assert_eq!(pot(&bench).now, now, "{minute}");
    }
    assert_eq!(pot(&bench).last_trigger, Some(min(100.0)));
}

#[test]
fn a_dead_pots_row_goes_once_the_next_is_mixed() {
    let mut bench = standing(true);
    let shown = |bench: &Bench| -> Vec<String> {
        bench.board().pots.iter().map(|row| row.at.id.clone()).collect()
    };
    bench.at(140.0);
    assert_eq!(shown(&bench), ["A"], "dead, and nothing follows it yet");
    bench.tell(mix());
    assert_eq!(shown(&bench), ["B"]);
}

#[test]
fn a_stand_outside_the_life_puts_the_life_after_it() {
    let (inside, outside) = (pot(&standing(true)), pot(&standing(false)));
    assert!(same(minutes(inside.dead), 130.0) && same(minutes(outside.dead), 150.0));
    assert_eq!(outside.last_trigger, Some(min(120.0)));
    assert_eq!(outside.born, Some(min(10.0)));
}

/// Found by `what_was_announced_stays`: at 40 °C the life is shorter than the reserve, so the last
/// trigger lay before the end of the stand, from where a cooler reading took it back.
#[test]
fn no_last_trigger_comes_before_the_end_of_a_stand_outside_the_life() {
    let mut bench = potted(json!({
        "induction": { "stand": { "duration_s": 600 }, "inside_pot_life": false },
        "pot_life": { "life": doubling(2700.0), "cleaning_reserve_s": 900 }
    }));
    let read = |bench: &mut Bench, pot_c| {
        bench.tell(Command::Read(Reading {
            pot_c: Some(pot_c),
            air_c: Some(20.0),
            ..Reading::default()
        }))
    };
    bench.at(10.1);
    read(&mut bench, 40.0);
    // by hand: the stand ends at 20, the life of 2700 s / 4 at 31.25, less 15 min: 16.25
    bench.at(17.0);
    assert_eq!((pot(&bench).now, pot(&bench).last_trigger), (PotNow::Standing, Some(min(20.0))));
    let mut hot = bench.clone();
    hot.at(20.0);
    assert_eq!(pot(&hot).now, PotNow::StopAndClean);
    read(hot.pass(1.0), 10.0);
    assert_eq!(pot(&hot).now, PotNow::StopAndClean, "what was announced stays");
    read(&mut bench, 10.0);
    assert_eq!(pot(&bench).now, PotNow::Standing);
    // at 10 °C no sooner than stated
    assert_eq!(pot(&bench).last_trigger, Some(min(20.0 + 45.0 - 15.0)));
}

#[test]
fn spraying_waits_for_the_stand() {
    let mut bench = standing(true);
    let until = bench.board().next;
    let Next::Wait { what: Waited::Stand { pot }, until: Some(until) } = until else {
        panic!("{until:?}");
    };
    assert_eq!((pot.as_str(), until.moment()), ("A", Some(min(30.0))));
    bench.at(30.0).tell(begin("panel-a"));
}

#[test]
fn fresh_mix_does_not_make_a_pot_young() {
    let mut bench = standing(true);
    let before = pot(&bench);
    bench.at(60.0).tell(Command::TopUpPot { pot: "A".into(), amount_ml: Some(200.0) });
    let after = pot(&bench);
    assert_eq!((after.born, after.dead), (before.born, before.dead));
    assert_eq!(after.last_trigger, before.last_trigger);
}

#[test]
fn a_one_part_material_has_no_birth() {
    let bench = potted(json!({
        "mix": { "by": "volume", "components": [ { "name": "Oil", "role": "base", "parts": 1 } ] },
        "pot_life": { "life": { "duration_s": 7200 }, "cleaning_reserve_s": 600 }
    }));
    let pot = pot(&bench);
    assert_eq!((pot.now, pot.born, pot.dead), (PotNow::Good, None, None));
}

#[test]
fn past_the_last_trigger_the_gun_is_cleaned_and_a_new_pot_mixed() {
    let mut bench = standing(true);
    bench.at(30.0).tell(begin("panel-a"));
    bench.at(101.0);
    assert!(matches!(bench.board().next, Next::CoatOn { .. }), "first the face on the gun");
    bench.tell(on("panel-a"));
    assert!(matches!(bench.board().next, Next::CleanGun { .. }));
    bench.space();
    assert!(matches!(bench.space(), Next::Reading { .. }), "before a pot the air is known");
    let why = PotWhy::StopAndClean("A".into());
    assert_eq!(bench.space(), Next::MixPot { layer: 1, amount_ml: None, why });
    assert_eq!(bench.session.state().pot_in_use(1).map(|pot| pot.id.clone()), Some("B".into()));
}

#[test]
fn a_colder_reading_does_not_revive_a_pot() {
    let life = json!({ "life": doubling(7200.0), "cleaning_reserve_s": 1800 });
    let mut bench = potted(json!({ "pot_life": life }));
    bench.read(30.0, 50.0);
    // 120 min run out in 60 at 30 °C: last trigger at 40 min
    assert_eq!(pot(&bench).last_trigger, Some(min(40.0)));
    bench.at(41.0).read(10.0, 50.0);
    assert_eq!(pot(&bench).now, PotNow::StopAndClean);
    assert_eq!(pot(&bench).last_trigger, Some(min(40.0)));
}

#[test]
fn a_pot_follows_its_own_temperature_and_no_other_pots() {
    let life = json!({ "life": doubling(7200.0), "cleaning_reserve_s": 600 });
    let mut bench = potted(json!({ "pot_life": life }));
    let hot = Reading { air_c: Some(20.0), pot_c: Some(30.0), ..Reading::default() };
    bench.at(11.0).tell(Command::Read(hot));
    assert!(same(minutes(pot(&bench).dead), 70.0));
    bench.tell(Command::EmptyPot { pot: "A".into() });
    bench.at(20.0).tell(mix());
    // without a reading of its own it goes by the air: 120 min
    assert!(same(minutes(pot(&bench).dead), 140.0));
}

#[test]
fn a_letter_is_given_once() {
    let mut bench = standing(true);
    let first = bench.session.entries().last().expect("an entry").n;
    bench.tell(mix());
    bench.tell(Command::Strike { n: first });
    bench.tell(mix());
    let letters: Vec<String> =
        bench.session.state().pots.iter().map(|pot| pot.id.clone()).collect();
    assert_eq!(letters, ["B", "C"]);
}

#[test]
fn a_coat_from_a_dead_pot_is_taken_and_flagged() {
    let mut bench = standing(true);
    bench.at(30.0).tell(begin("panel-a"));
    let n = bench.at(131.0).tell(on("panel-a"));
    assert_eq!(bench.session.entry(n).expect("an entry").breaks, ["dead A"]);
    assert_eq!(bench.session.state().faces[0].coats_on(1), 1);
}

#[test]
fn going_past_an_old_pot_is_written_with_its_reason() {
    let mut bench = standing(true);
    let n = bench.at(110.0).tell(begin_past("panel-a"));
    let entry = bench.session.entry(n).expect("an entry");
    let json = serde_json::to_value(&entry.events[0]).expect("an event");
    let wanted = json!({ "hold": "stop-and-clean A", "reason": "own_decision" });
    assert_eq!(json["hold_overridden"], wanted);
}
