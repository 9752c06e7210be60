//! What else is told of a pot: flow cup, lots, topping up, weighing, returning.

use boothside_core::board::Next;
use boothside_core::material::recipe::Told;
use boothside_core::session::Refusal;
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::event::{Event, Lot, Reading};
use boothside_core::session::mixing::{Advice, FlowVerdict, NoAdvice};

use crate::bench::{Bench, example_work};
use crate::mixing::{grams, mix, pour};

const fn ml(ml: f64) -> Told {
    Told { g: None, ml: Some(ml) }
}

/// Pot A by the sheet's recipe, 600 mL: 400 base, 100 activator, 100 water; at 23 °C.
fn poured_pot() -> Bench {
    let mut bench = Bench::example();
    bench.at(1.0).read(23.0, 50.0);
    let wanted = ml(600.0);
    bench.tell(Command::PlanPot { layer: 1, wanted, short: vec![], container_ml: None });
    for (component, amount) in [400.0, 100.0, 100.0].into_iter().enumerate() {
        pour(&mut bench, component, Poured::Amount(ml(amount)));
    }
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    bench
}

fn flow(bench: &mut Bench, seconds: f64) {
    bench.tell(Command::ReadFlowCup { pot: "A".into(), seconds });
}

fn advice(bench: &Bench) -> Advice {
    mix(bench).flow.expect("a flow cup").advice
}

#[test]
fn the_flow_cup_is_compared_in_seconds_and_advice_is_small() {
    let mut bench = poured_pot();
    assert_eq!(advice(&bench), Advice::None(NoAdvice::NoReading));
    flow(&mut bench, 45.0);
    assert_eq!(mix(&bench).flow.unwrap().verdict, Some(FlowVerdict::Within));
    assert_eq!(advice(&bench), Advice::None(NoAdvice::NotThick));
    let mut bench = poured_pot();
    flow(&mut bench, 60.0);
    let now = mix(&bench).flow.unwrap();
    assert_eq!(now.verdict, Some(FlowVerdict::Thick));
    // iso-4: 1.37 t − 200 / t
    assert!((now.mm2_per_s.unwrap() - (1.37 * 60.0 - 200.0 / 60.0)).abs() < 1e-9);
    let Advice::Add { component, add, then_s } = now.advice else { panic!("{now:?}") };
    assert_eq!(component, 2);
    // 6 % less for each percent: 60 → 45 takes ln(0.75)/ln(0.94) = 4.65 %; half the way is 2.32 %
    // of share, 17.2 mL into 600; held to 2 % of what is in the pot
    assert!((add.ml.unwrap() - 12.0).abs() < 1e-6, "{add:?}");
    let share = |water: f64| water / (500.0 + water);
    let expected = 60.0 * 0.94f64.powf((share(112.0) - share(100.0)) * 100.0);
    assert!((then_s - expected).abs() < 1e-6);
}

#[test]
fn two_readings_outrank_the_sheets_slope_and_the_cap_holds() {
    let mut bench = poured_pot();
    flow(&mut bench, 60.0);
    let water = |bench: &mut Bench, amount| {
        bench.tell(Command::Pour {
            pot: Some("A".into()),
            layer: 1,
            component: 2,
            amount: Poured::Amount(ml(amount)),
        });
    };
    water(&mut bench, 12.0);
    flow(&mut bench, 55.0);
    let Advice::Add { then_s, add, .. } = advice(&bench) else { panic!("{:?}", advice(&bench)) };
    let share = |water: f64| water / (500.0 + water);
    let slope = (55f64 / 60.0).ln() / (share(112.0) - share(100.0));
    let expected = 55.0 * (slope * (share(112.0 + add.ml.unwrap()) - share(112.0))).exp();
    assert!((then_s - expected).abs() < 1e-6, "{then_s} {expected}");
    water(&mut bench, 26.0);
    flow(&mut bench, 52.0);
    let Advice::Add { add, .. } = advice(&bench) else { panic!("{:?}", advice(&bench)) };
    assert!(add.ml.unwrap() <= 2.0 + 1e-6, "the sheet allows 140 mL: {add:?}");
    water(&mut bench, 2.0);
    flow(&mut bench, 51.0);
    assert_eq!(advice(&bench), Advice::None(NoAdvice::AtCap));
}

#[test]
fn an_ageing_or_thickening_pot_is_never_thinned() {
    let mut bench = poured_pot();
    flow(&mut bench, 55.0);
    assert!(matches!(advice(&bench), Advice::Add { .. }));
    bench.pass(20.0);
    flow(&mut bench, 58.0);
    assert_eq!(advice(&bench), Advice::None(NoAdvice::Thickens));
    let mut bench = poured_pot();
    flow(&mut bench, 55.0);
    // the life is 240 min at 23 °C
    bench.at(120.9);
    assert!(matches!(advice(&bench), Advice::Add { .. }));
    bench.at(121.1);
    assert_eq!(advice(&bench), Advice::None(NoAdvice::PastHalf));
}

#[test]
fn at_another_temperature_the_seconds_say_nothing() {
    let mut bench = poured_pot();
    bench.read(19.0, 50.0);
    flow(&mut bench, 60.0);
    let now = mix(&bench).flow.unwrap();
    assert!((now.off_k.unwrap() + 4.0).abs() < 1e-9);
    assert_eq!(now.advice, Advice::None(NoAdvice::OtherTemperature));
    bench.tell(Command::Read(Reading { pot_c: Some(23.2), ..Reading::default() }));
    assert_eq!(mix(&bench).flow.unwrap().off_k, None, "the pot's own reading counts");
}

#[test]
fn a_sheet_without_slope_gives_no_advice_from_one_reading() {
    let mut work = example_work();
    let primer = work.sheets.get_mut("grey-primer").unwrap();
    primer.mix.flow_cup.as_mut().unwrap().falls_pct = None;
    let mut bench = Bench::new(work);
    bench.at(1.0).read(23.0, 50.0);
    bench.tell(Command::MixPot { layer: 1, amount_ml: Some(600.0), lots: Vec::new() });
    flow(&mut bench, 60.0);
    assert_eq!(advice(&bench), Advice::None(NoAdvice::NoSlope));
    let wrong = Command::ReadFlowCup { pot: "A".into(), seconds: 0.0 };
    assert!(matches!(bench.try_tell(&wrong, None), Err(Refusal::Outside { .. })));
}

fn lot(lot: &str, until: &str) -> Lot {
    let until = (!until.is_empty()).then(|| until.to_owned());
    Lot { component: "Base".into(), lot: lot.into(), until }
}

#[test]
fn a_lot_past_its_date_is_taken_and_flagged() {
    for (until, past) in [
        ("2026-04", true),
        ("2026-05", false),
        ("2026-05-11", true),
        ("2026-05-12", false),
        ("", false),
    ] {
        assert_eq!(lot("1", until).is_past("2026-05-12T10:00:00-05:00"), past, "{until}");
    }
    let mut bench = Bench::example();
    let told = boothside_core::session::Told::now(bench.now, "2026-05-12T10:00:00-05:00");
    let lots = vec![lot("24-117", "2026-04")];
    let command = Command::TellLots { pot: "A".into(), layer: 1, lots };
    let entry = boothside_core::session::decide(&bench.session, &command, &told).unwrap();
    assert_eq!(entry.breaks, ["lot-past 24-117 Base"]);
    bench.session.apply(entry);
    assert_eq!(mix(&bench).expired, ["Base"]);
    let unclear = vec![lot("2", "March 27")];
    let command = Command::TellLots { pot: "A".into(), layer: 1, lots: unclear };
    assert!(matches!(bench.try_tell(&command, None), Err(Refusal::Figure { field: "until", .. })));
}

#[test]
fn topping_up_keeps_the_oldest_birth() {
    let mut bench = poured_pot();
    let before = bench.board().pots[0].at.clone();
    bench.pass(60.0);
    bench.tell(Command::TopUpPot { pot: "A".into(), amount_ml: Some(100.0) });
    let after = bench.board().pots[0].at.clone();
    assert_eq!((before.born, before.dead), (after.born, after.dead));
    assert!((after.amount_ml.unwrap() - 700.0).abs() < 1e-6);
}

#[test]
fn a_weighed_pot_outranks_the_estimate() {
    let mut bench = poured_pot();
    bench.tell(Command::WeighPot { pot: "A".into(), left: ml(410.0) });
    assert_eq!(mix(&bench).left_ml, Some(410.0));
    // by weight: the mix has (400 × 1.31 + 100 × 1.07 + 100 × 0.998) / 600 g/mL
    bench.tell(Command::WeighPot { pot: "A".into(), left: grams(365.4) });
    assert!((mix(&bench).left_ml.unwrap() - 300.0).abs() < 0.1, "{:?}", mix(&bench).left_ml);
    bench.tell(Command::TopUpPot { pot: "A".into(), amount_ml: Some(50.0) });
    assert!((mix(&bench).left_ml.unwrap() - 350.0).abs() < 0.1);
    bench.tell(Command::WeighPot { pot: "A".into(), left: ml(700.0) });
    assert!((mix(&bench).more_than_mixed_ml.unwrap() - 50.0).abs() < 1e-6);
}

#[test]
fn what_goes_back_to_the_can_is_flagged_where_it_may_not_or_is_too_much() {
    let mut bench = poured_pot();
    let command = Command::ReturnToCan { pot: "A".into(), amount: ml(700.0), can_ml: None };
    let told = boothside_core::session::Told::now(bench.now, "");
    let entry = boothside_core::session::decide(&bench.session, &command, &told).unwrap();
    assert_eq!(entry.breaks, ["returned-more A", "returned-reacted A"]);
    bench.session.apply(entry);
    assert!((mix(&bench).returned_more_ml.unwrap() - 100.0).abs() < 1e-6);
}

#[test]
fn thinned_one_part_material_dilutes_its_can() {
    let mut work = example_work();
    let primer = work.sheets.get_mut("grey-primer").unwrap();
    primer.mix.components.remove(1);
    primer.pot_life = None;
    primer.induction = None;
    let mut bench = Bench::new(work);
    pour(&mut bench, 0, Poured::Amount(ml(400.0)));
    assert_eq!(bench.session.state().pots.len(), 1, "a one-part material has no birth to wait for");
    pour(&mut bench, 1, Poured::Amount(ml(100.0)));
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    assert_eq!(bench.board().pots[0].at.born, None);
    let amount = ml(250.0);
    bench.tell(Command::ReturnToCan { pot: "A".into(), amount, can_ml: Some(1000.0) });
    let back = mix(&bench).returned.unwrap();
    // 600 mL stayed, 250 came back with 20 % reducer: 50 / 850
    let (can_ml, pct) = back.can.unwrap();
    assert!((back.reducer_pct.unwrap() - 20.0).abs() < 1e-9);
    assert!((can_ml - 850.0).abs() < 1e-6 && (pct - 5000.0 / 850.0).abs() < 1e-6);
    assert_eq!(mix(&bench).left_ml.map(f64::round), Some(250.0));
}

#[test]
fn untold_activator_is_assumed_on_the_safe_side() {
    let mut bench = Bench::example();
    bench.at(5.0);
    pour(&mut bench, 0, Poured::Amount(ml(160.0)));
    let poured = bench.now;
    bench.at(25.0);
    bench.tell(Command::MixPot { layer: 1, amount_ml: Some(240.0), lots: Vec::new() });
    assert_eq!(bench.session.state().pots[0].mixed, poured, "the earliest that it can have been");
}

#[test]
fn a_pot_being_mixed_is_not_in_use_beside_a_good_one() {
    let mut bench = poured_pot();
    bench.tell(Command::PlanPot { layer: 1, wanted: ml(300.0), short: vec![], container_ml: None });
    assert_eq!(mix(&bench).pot, "B");
    pour(&mut bench, 0, Poured::Amount(ml(200.0)));
    pour(&mut bench, 1, Poured::Amount(ml(50.0)));
    let state = bench.session.state();
    assert_eq!(state.pot_in_use(1).map(|pot| pot.id.as_str()), Some("A"));
    assert!(!matches!(bench.board().next, Next::Pour { .. }), "pot A is good: no pour is due");
    bench.tell(Command::EmptyPot { pot: "B".into() });
    assert_eq!(mix(&bench).pot, "A");
    pour(&mut bench, 0, Poured::Amount(ml(10.0)));
    assert_eq!(mix(&bench).pot, "C", "a letter is used once");
}

#[test]
fn figures_change_together_in_one_entry() {
    let mut bench = Bench::example();
    let changes = vec![("shop.loss_ml".to_owned(), 30.0), ("layers.1.dry_um".to_owned(), 15.0)];
    bench.tell(Command::ChangeFigures { changes, why: "as seen at the bench".into() });
    let entry = bench.session.entries().last().unwrap();
    assert!(matches!(entry.events[..], [Event::FigureChanged { .. }, Event::FigureChanged { .. }]));
    let need = mix(&bench).need.unwrap();
    assert_eq!((need.loss_ml, need.dry_um), (Some(30.0), 15.0));
    let wrong = vec![("shop.loss_ml".to_owned(), 30.0), ("shop.transfer_pct".to_owned(), 0.0)];
    let command = Command::ChangeFigures { changes: wrong, why: String::new() };
    assert!(matches!(bench.try_tell(&command, None), Err(Refusal::Unfit(_))));
    assert_eq!(mix(&bench).need.unwrap().loss_ml, Some(30.0));
}
