//! Readiness: what is computed, what holds, what is passed by a reason. Parts A and C of the trade
//! notes; figures are inventions where no source stands beside them.

use boothside_core::board::{
    Clears, Item, MarginRule, ReadyLine, ReadyNow, air_chart, booth_air, still_to_check,
};
use boothside_core::session::Refusal;
use boothside_core::session::command::Command;
use boothside_core::session::event::{Lot, Reading, Reason, Way};
use boothside_core::session::standing::{Hold, STALE};
use boothside_core::session::time::Span;
use serde_json::json;

use super::same;
use crate::bench::{Bench, begin, begin_past, min, mix};
use crate::jobs::{checked, doubling, plain, sheet, step};

fn line(bench: &Bench, id: &str) -> ReadyLine {
    let lines = bench.board().ready;
    lines.into_iter().find(|line| line.id == id).unwrap_or_else(|| panic!("no line {id}"))
}

fn now(bench: &Bench, id: &str) -> ReadyNow {
    line(bench, id).now
}

fn read(bench: &mut Bench, air_c: f64, humidity_pct: f64, surface_c: f64) {
    bench.tell(Command::Read(Reading {
        air_c: Some(air_c),
        humidity_pct: Some(humidity_pct),
        surface_c: Some(surface_c),
        ..Reading::default()
    }));
}

fn held(bench: &mut Bench, command: &Command) -> Vec<String> {
    match bench.try_tell(command, None) {
        Err(Refusal::Held(holds)) => holds.iter().map(ToString::to_string).collect(),
        told => panic!("{told:?}"),
    }
}

fn limited() -> Bench {
    let limits = json!({ "limits": { "min_c": 15, "max_c": 30, "max_pct": 75 } });
    let mut bench = Bench::new(plain(sheet(limits), 2, 2));
    bench.tell(mix());
    bench
}

/// What is not known never holds: no reading, no limits, no hours, no count.
#[test]
fn what_is_not_known_holds_nothing() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    bench.tell(mix());
    for id in
        ["reading", "air", "surface", "humidity", "dew margin", "paint", "cartridges", "masks"]
    {
        assert_eq!(now(&bench, id), ReadyNow::NotKnown, "{id}");
    }
    bench.tell(begin("panel-a"));
}

#[test]
fn air_outside_the_sheet_holds_until_a_reason_or_another_reading() {
    let mut bench = limited();
    read(&mut bench, 14.0, 80.0, 13.5);
    let held_by = ["air-cold 1", "air-humid 1", "dew-margin 1"];
    assert_eq!(held(&mut bench, &begin("panel-a")), held_by);
    bench.tell(begin_past("panel-a"));
    assert_eq!(bench.board().overridden.len(), 3, "they stay in sight");
    assert_eq!(now(&bench, "air"), ReadyNow::Hold, "it is still not so");
    // the reason was for this reading: the next face is begun without another
    bench.pass(5.0).tell(begin("panel-b"));
    // and a new reading asks anew
    bench.pass(5.0);
    read(&mut bench, 14.2, 70.0, 14.1);
    assert!(bench.board().overridden.is_empty());
}

#[test]
fn a_reason_given_before_an_earlier_reading_is_told_late_does_not_count_for_it() {
    let mut bench = limited();
    bench.pass(30.0);
    read(&mut bench, 14.0, 50.0, 14.0);
    bench.tell(Command::GoPast { hold: "air-cold 1".into(), reason: Reason::Tried });
    bench.pass(1.0);
    let told_late = Reading { air_c: Some(13.0), ..Reading::default() };
    bench.try_tell(&Command::Read(told_late), Some(min(20.0))).expect("taken");
    assert_eq!(held(&mut bench, &begin("panel-a")), ["air-cold 1"]);
}

/// ISO 8502-4 (3 °C, from memory) against MIL-HDBK-1110 9.6.6 (5 °F = 2.78 °C and rising, read):
/// between the two the stricter holds, and the board says by which rule.
#[test]
fn which_rule_holds_is_told() {
    let mut bench = limited();
    // 18 °C, 62 %: dew point 10.61 °C (docs/checked.md, an evening); the surface 2.9 over it
    read(&mut bench, 18.0, 62.0, 13.51);
    let line = line(&bench, "dew margin");
    let Item::DewMargin { margin_k: Some(margin_k), rule, .. } = line.item else { panic!() };
    assert!((margin_k - 2.9).abs() < 0.02, "{margin_k}");
    assert!(margin_k > MarginRule::other_usual_k());
    assert_eq!((rule, line.now), (MarginRule::Usual, ReadyNow::Hold));
    bench.tell(Command::ChangeFigure {
        field: "shop.dew_margin_c".into(),
        new: 2.8,
        why: "the shop's own".into(),
    });
    assert_eq!(now(&bench, "dew margin"), ReadyNow::Clear);
}

/// An invented evening: 18 °C, 62 %, surface 15.5 °C falling 1.1 °C an hour: the margin of 3 °C
/// fails in 1.72 h. The two readings lie half an hour apart.
#[test]
fn the_margin_s_end_is_foretold() {
    let mut bench = limited();
    read(&mut bench, 18.0, 62.0, 15.5 + 0.55);
    assert_eq!(now(&bench, "dew margin trend"), ReadyNow::NotKnown, "one reading is no trend");
    bench.pass(30.0);
    read(&mut bench, 18.0, 62.0, 15.5);
    let Item::MarginTrend { trend: Some(trend), .. } = line(&bench, "dew margin trend").item else {
        panic!()
    };
    assert!((trend.per_hour_k + 1.1).abs() < 1e-6, "{trend:?}");
    let (breaks, give_or_take) = trend.breaks.expect("it breaks");
    let hours = breaks.since(bench.now).seconds() / 3600.0;
    assert!((hours - 1.72).abs() < 0.02, "{hours}");
    assert!(give_or_take > Span::from_minutes(10));
}

/// It must hold until the film is dry: 20 min to the next coat, from when the trend's earliest end
/// is nearer than that.
#[test]
fn a_margin_that_ends_before_the_film_is_dry_is_a_caution() {
    let mut bench = limited();
    read(&mut bench, 18.0, 62.0, 17.7);
    bench.pass(120.0);
    read(&mut bench, 18.0, 62.0, 15.5);
    assert_eq!(now(&bench, "dew margin trend"), ReadyNow::Clear);
    let Item::MarginTrend { trend: Some(trend), .. } = line(&bench, "dew margin trend").item else {
        panic!()
    };
    let (breaks, give_or_take) = trend.breaks.expect("it breaks");
    let turns = breaks.minus(give_or_take).minus(Span::from_minutes(20));
    bench.now = turns.minus(Span::from_ms(1));
    assert_eq!(now(&bench, "dew margin trend"), ReadyNow::Clear);
    bench.now = turns;
    assert_eq!(now(&bench, "dew margin trend"), ReadyNow::Caution);
}

#[test]
fn a_reading_grows_stale() {
    let mut bench = limited();
    read(&mut bench, 20.0, 50.0, 20.0);
    assert_eq!(now(&bench, "reading"), ReadyNow::Clear);
    bench.now = bench.now.plus(STALE);
    assert_eq!(now(&bench, "reading"), ReadyNow::Caution);
}

#[test]
fn preparation_is_old_enough_and_not_too_old() {
    let mut job = plain(sheet(json!({})), 1, 1);
    job.system.layers[0].prep = vec![step(json!({
        "id": "etch", "name": "etched", "wait": { "duration_s": 1800 }, "within_s": 7200
    }))];
    let mut bench = Bench::new(checked(job));
    bench.tell(mix());
    assert_eq!(line(&bench, "step etch").clears, Clears::Step);
    bench.tell(Command::StepDone { step: "etch".into() });
    assert!(matches!(line(&bench, "step etch").clears, Clears::Wait { .. }));
    bench.at(30.0);
    assert_eq!(now(&bench, "step etch"), ReadyNow::Clear);
    bench.at(120.0);
    let old = line(&bench, "step etch");
    assert!(matches!(old.item, Item::Step { again: true, .. }));
    assert_eq!((old.now, old.clears), (ReadyNow::Hold, Clears::Step));
    assert_eq!(held(&mut bench, &begin("panel-a")), ["step etch"]);
}

#[test]
fn another_pot_s_temperature_says_nothing_of_this_one() {
    let limits = json!({ "limits": { "paint_min_c": 15 } });
    let mut bench = Bench::new(plain(sheet(limits), 1, 1));
    let cold = Reading { air_c: Some(20.0), pot_c: Some(12.0), ..Reading::default() };
    bench.tell(Command::Read(cold));
    bench.pass(1.0).tell(mix());
    assert_eq!(now(&bench, "paint"), ReadyNow::NotKnown);
    bench.pass(1.0).tell(Command::Read(cold));
    assert_eq!(held(&mut bench, &begin("panel-a")), ["paint-cold 1"]);
}

/// Two faces of 0.5 m² in 5 min each: 10 min/m². The rest of coat 2 takes 10 min.
#[test]
fn a_pot_is_measured_against_the_coat_ahead_at_the_pace_of_this_hand() {
    let life = json!({
        "pot_life": { "life": { "duration_s": 3600 }, "cleaning_reserve_s": 600 }
    });
    let mut bench = Bench::new(plain(sheet(life), 2, 2));
    bench.tell(mix());
    assert_eq!(now(&bench, "pot lasts"), ReadyNow::NotKnown, "no pace yet");
    bench.coat("panel-a", 1.0, 6.0).coat("panel-b", 6.0, 11.0);
    let Item::PotLasts { coat: Some(coat), .. } = line(&bench, "pot lasts").item else { panic!() };
    assert_eq!(coat, Span::from_minutes(10));
    // last trigger at 50 min: from 40 min on the coat does not fit before it
    bench.now = min(40.0).minus(Span::from_ms(1));
    assert_eq!(now(&bench, "pot lasts"), ReadyNow::Clear);
    bench.at(40.0);
    assert_eq!(now(&bench, "pot lasts"), ReadyNow::Caution);
    bench.at(50.0);
    assert_eq!(line(&bench, "pot").clears, Clears::CleanAndMix);
}

#[test]
fn two_lots_of_one_colour_are_a_caution() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    let pot = |lot: &str| {
        let lots = vec![Lot { component: "Base".into(), lot: lot.into(), until: None }];
        Command::MixPot { layer: 1, amount_ml: None, lots }
    };
    bench.tell(pot("24-117"));
    assert_eq!(now(&bench, "one colour"), ReadyNow::Clear);
    bench.tell(pot("24-118"));
    assert_eq!(now(&bench, "one colour"), ReadyNow::Caution);
    let Item::OneColour { lots, untold } = line(&bench, "one colour").item else { panic!() };
    assert_eq!((lots, untold), (vec!["24-117".to_owned(), "24-118".to_owned()], 0));
}

/// 19.8 h told, then two faces of 6 min: at least 20.0 h. At the painter's own 20 h the next coat is
/// held; new cartridges clear it.
#[test]
fn cartridges_age_with_the_gun() {
    let mut job = plain(sheet(json!({})), 2, 2);
    job.shop.cartridge_h = Some(20.0);
    let mut bench = Bench::new(checked(job));
    bench.tell(mix());
    bench.tell(Command::ReadCartridges { used_h: 19.8 });
    bench.coat("panel-a", 1.0, 7.0).coat("panel-b", 7.0, 13.0);
    let Item::Cartridges { used_h: Some(used_h), .. } = line(&bench, "cartridges").item else {
        panic!()
    };
    assert!((used_h - 20.0).abs() < 1e-9, "{used_h}");
    bench.at(40.0);
    assert_eq!(held(&mut bench, &begin("panel-a")), ["cartridges"]);
    bench.tell(Command::ReadCartridges { used_h: 0.0 });
    bench.tell(begin("panel-a"));
}

#[test]
fn plugs_and_masks_come_out_as_they_went_in() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    bench.tell(mix());
    bench.tell(Command::CountMasks { way: Way::In, number: 14 });
    bench.coat("panel-a", 1.0, 3.0);
    let close = Command::Close { past: None };
    assert_eq!(held(&mut bench, &close), ["masks-out"]);
    bench.tell(Command::CountMasks { way: Way::Out, number: 13 });
    let Err(Refusal::Held(holds)) = bench.try_tell(&close, None) else { panic!() };
    assert_eq!(holds, [Hold::Masks { counted_in: 14, counted_out: Some(13) }]);
    bench.tell(Command::CountMasks { way: Way::Out, number: 14 });
    assert_eq!(now(&bench, "masks"), ReadyNow::Clear);
    bench.tell(close);
}

#[test]
fn what_a_person_said_is_said_and_never_clear() {
    let mut job = plain(sheet(json!({})), 1, 1);
    job.shop.cartridge_h = Some(20.0);
    let check = json!({ "id": "gloves", "name": "gloves on", "group": "protection" });
    job.system.layers[0].ready.push(serde_json::from_value(check).expect("a check"));
    let mut bench = Bench::new(checked(job));
    // the gloves, and that somebody knows
    assert_eq!(still_to_check(&bench.board().ready), 2);
    let lone = line(&bench, "someone");
    assert_eq!((lone.now, &lone.clears), (ReadyNow::NotKnown, &Clears::Answer));
    assert_eq!(lone.hold, None, "asked, and holds nothing");
    bench.pass(7.0);
    let said = bench.now;
    bench.tell(Command::PassCheck { layer: 1, coat: 0, check: "gloves".into() });
    bench.tell(Command::ReadCartridges { used_h: 3.0 });
    bench.tell(Command::CountMasks { way: Way::In, number: 14 });
    bench.tell(Command::SomeoneKnows);
    bench.pass(5.0);
    let board = bench.board();
    for id in ["check gloves", "cartridges", "masks", "someone"] {
        let line = board.ready.iter().find(|line| line.id == id).expect(id);
        assert_eq!((line.now, line.said), (ReadyNow::Said, Some(said)), "{id}");
    }
    assert_eq!(still_to_check(&board.ready), 0);
}

/// That somebody knows is said for a sitting; gone past it is no answer, and stays in sight.
#[test]
fn that_someone_knows_is_asked_anew_and_gone_past_is_no_answer() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    bench.tell(Command::GoPast { hold: "someone".into(), reason: Reason::Tried });
    let lone = line(&bench, "someone");
    assert_eq!((lone.now, lone.said), (ReadyNow::NotKnown, None));
    assert_eq!(lone.overridden.map(|past| past.at), Some(bench.now));
    assert_eq!(still_to_check(&bench.board().ready), 0);
    bench.pass(1.0).tell(Command::SomeoneKnows);
    let lone = line(&bench, "someone");
    assert_eq!((lone.now, lone.said), (ReadyNow::Said, Some(bench.now)));
    assert_eq!((lone.hold, lone.overridden), (None, None), "answered after all");
    // eight hours without a key end the sitting
    bench.pass(9.0 * 60.0);
    let lone = line(&bench, "someone");
    assert_eq!((lone.now, lone.said), (ReadyNow::NotKnown, None));
}

#[test]
fn the_fan_runs_for_the_purge_from_the_end_of_the_last_flash() {
    let mut job = plain(sheet(json!({})), 2, 1);
    job.shop.booth_volume_m3 = Some(47.52);
    job.shop.booth_flow_m3_per_h = Some(950.4);
    job.shop.mixing_factor = Some(1.0);
    let mut bench = Bench::new(checked(job));
    bench.tell(mix());
    assert_eq!(booth_air(&bench.session).fan_until, None, "nothing is sprayed");
    bench.coat("panel-a", 1.0, 6.0);
    bench.coat("panel-b", 6.0, 11.0);
    let booth = booth_air(&bench.session);
    let board = bench.board();
    let flash = board.faces[1].at.look.or(board.faces[1].at.opens).and_then(|due| due.moment());
    let purge = booth.purge.expect("a purge");
    let on = board.faces[1].at.finished.expect("it is on");
    let until = booth.fan_until.expect("a time");
    assert!(until > on.plus(purge), "the wet film counts");
    if let Some(flash) = flash {
        assert!(until >= flash.plus(purge));
    }
}

#[test]
fn impossible_counts_and_hours_are_refused_with_what_is_accepted() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    for command in [
        Command::CountMasks { way: Way::In, number: 10_000 },
        Command::ReadCartridges { used_h: -1.0 },
        Command::ReadCartridges { used_h: f64::NAN },
    ] {
        let refused = bench.try_tell(&command, None);
        assert!(matches!(refused, Err(Refusal::Outside { .. })), "{command:?}: {refused:?}");
    }
}

/// 10 min/m² and, of 50 % solids at 25 µm with half of it landing, 100 mL/m²: 10 mL/min, half of it
/// solvent: 0.3 L/h. At 0.2 m³ of vapour a litre and 1 % that wants 4 × 99 × 0.2 = 79.2 m³ a litre to
/// stay at a quarter: 23.76 m³/h. The fan moves 950.4 m³/h, of which a tenth counts: a sixteenth.
#[test]
fn the_share_of_the_flammable_limit_is_estimated() {
    let figures = json!({ "vapour": { "lel_pct": 1.0, "m3_per_l": 0.2, "source": "invented" } });
    let mut material = sheet(figures);
    material.mix.solids_pct = Some(50.0);
    let mut job = plain(material, 2, 2);
    job.system.layers[0].dry_um = Some(25.0);
    job.shop.transfer_pct = Some(50.0);
    job.shop.booth_volume_m3 = Some(47.52);
    job.shop.booth_flow_m3_per_h = Some(950.4);
    job.shop.mixing_factor = Some(10.0);
    let mut bench = Bench::new(checked(job));
    bench.tell(mix());
    assert!(booth_air(&bench.session).share_of_limit.is_err(), "no pace yet");
    bench.coat("panel-a", 1.0, 6.0).coat("panel-b", 6.0, 11.0);
    let booth = booth_air(&bench.session);
    assert!(booth.air_changes_per_h.is_ok_and(|changes| same(changes, 20.0)));
    // −ln(0.01) / 20 an hour, ten times as long for poor mixing: 138.2 min
    assert!(booth.purge.is_ok_and(|purge| (purge.seconds() / 60.0 - 138.155).abs() < 1e-3));
    let share = booth.share_of_limit.expect("an estimate");
    assert!((share.spraying_ml_per_min - 10.0).abs() < 1e-9, "{share:?}");
    assert!(share.solvent_assumed);
    assert!((share.share - 0.0625).abs() < 1e-9, "{share:?}");
}

#[test]
fn a_booth_without_figures_says_what_it_lacks() {
    let bench = Bench::new(plain(sheet(json!({})), 1, 1));
    let booth = booth_air(&bench.session);
    assert_eq!(booth.air_changes_per_h.err().map(|lacks| lacks.len()), Some(2));
    assert_eq!(booth.purge.err().map(|lacks| lacks.len()), Some(3));
}

/// Rates by 'doubles every 10 °C' from 20 °C: 1 at 20, 2^-0.5 at 15.
#[test]
fn the_chart_begins_with_the_sitting() {
    let eye = json!({ "between_coats": { "earliest": doubling(1200.0), "by": "eye" } });
    let mut bench = Bench::new(plain(sheet(eye), 1, 1));
    read(&mut bench, 25.0, 50.0, 25.0);
    bench.pass(9.0 * 60.0);
    read(&mut bench, 20.0, 50.0, 20.0);
    bench.pass(30.0);
    read(&mut bench, 16.0, 50.0, 15.0);
    let chart = air_chart(&bench.session);
    assert_eq!(chart.from, min(540.0), "a break of eight hours begins a sitting");
    assert_eq!(chart.air_c, [(min(540.0), 20.0), (min(570.0), 16.0)]);
    assert_eq!(chart.surface_c, [(min(540.0), 20.0), (min(570.0), 15.0)]);
    let (_, points) = &chart.speeds[0];
    assert!((points[0].1 - 1.0).abs() < 1e-9, "{points:?}");
    assert!((points[1].1 - 0.5f64.sqrt()).abs() < 1e-9, "{points:?}");
}

#[test]
fn figures_of_one_reading_that_cannot_both_be_are_refused() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    let reading = |air_c, humidity_pct, surface_c, surface_warmest_c| {
        let pot_c = None;
        Command::Read(Reading { air_c, humidity_pct, surface_c, surface_warmest_c, pot_c })
    };
    let refused = |bench: &mut Bench, command: &Command| match bench.try_tell(command, None) {
        Err(Refusal::Figure { field, .. }) => Some(field),
        _ => None,
    };
    let colder = reading(Some(20.0), Some(50.0), Some(19.0), Some(18.9));
    assert_eq!(refused(&mut bench, &colder), Some("warmest surface"));
    let alone = reading(None, Some(50.0), Some(19.0), None);
    assert_eq!(refused(&mut bench, &alone), Some("humidity"), "it says nothing without the air");
    bench.tell(reading(Some(20.0), None, Some(19.0), Some(19.0)));
    bench.tell(reading(None, None, Some(19.0), None));
}
