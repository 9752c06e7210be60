//! A pot poured by figures. The scenarios are invented, their answers worked by hand.

use boothside_core::board::Next;
use boothside_core::board::mixing::{Gauge, MixBoard, OnBench, Shows};
use boothside_core::material::recipe::Told;
use boothside_core::material::sheet::{Basis, Component, Role, Sheet};
use boothside_core::session::Refusal;
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::mixing::{Container, NoPlan, Ratio};
use boothside_core::session::standing::{Hold, PotWhy};
use proptest::prelude::*;

use crate::bench::{Bench, example_work};

pub(crate) const NOTHING: Told = Told { g: None, ml: None };

pub(crate) const fn grams(g: f64) -> Told {
    Told { g: Some(g), ml: None }
}

/// The example with a primer of these parts by weight and this tolerance.
pub(crate) fn bench_with(parts: [f64; 3], densities: [Option<f64>; 3], tolerance: f64) -> Bench {
    let mut work = example_work();
    let sheet: &mut Sheet = work.sheets.get_mut("grey-primer").unwrap();
    let roles = [Role::Base, Role::Activator, Role::Reducer];
    let component = |at: usize| Component {
        name: ["Base", "Activator", "Reducer"][at].into(),
        role: roles[at],
        parts: parts[at],
        density_g_per_ml: densities[at],
        max_parts: None,
    };
    sheet.mix.by = Basis::Weight;
    sheet.mix.components = (0..3).map(component).collect();
    sheet.mix.tolerance_pct = Some(tolerance);
    work.shop.scale_step_g = Some(0.1);
    assert_eq!(work.check(), Vec::new());
    Bench::new(work)
}

pub(crate) fn mix(bench: &Bench) -> MixBoard {
    bench.board().mixing.expect("a pot on the bench")
}

fn plan(bench: &mut Bench, wanted: Told, short: Vec<(usize, Told)>) {
    bench.tell(Command::PlanPot { layer: 1, wanted, short, container_ml: None });
}

pub(crate) fn pour(bench: &mut Bench, component: usize, amount: Poured) {
    bench.tell(Command::Pour { pot: None, layer: 1, component, amount });
}

fn add_g(mix: &MixBoard, component: usize) -> f64 {
    let now = mix.now.as_ref().unwrap();
    now.pot.lines[component].add.map_or(0.0, |add| add.g.unwrap())
}

fn close(one: f64, other: f64) -> bool {
    (one - other).abs() < 0.06
}

/// F 3: 100:25:10, meant 400.0 of base, 412.0 poured; then 112.0 of activator by mistake.
#[test]
fn an_over_pour_is_carried_to_the_rest() {
    let mut bench = bench_with([100.0, 25.0, 10.0], [None; 3], 2.0);
    plan(&mut bench, grams(540.0), Vec::new());
    pour(&mut bench, 0, Poured::ScaleShows(412.0));
    let now = mix(&bench);
    assert_eq!(now.next_pour(), Some((1, Shows::Scale(515.0))));
    assert!(close(add_g(&now, 1), 103.0) && close(add_g(&now, 2), 41.2));
    assert!(close(now.now.as_ref().unwrap().pot.makes.g.unwrap(), 556.2));

    pour(&mut bench, 1, Poured::ScaleShows(524.0));
    let now = mix(&bench);
    assert_eq!(now.next_pour(), Some((0, Shows::Scale(560.0))), "base again: only ever adding");
    assert!(close(add_g(&now, 0), 36.0) && close(add_g(&now, 2), 44.8));
    assert!(close(now.now.as_ref().unwrap().pot.makes.g.unwrap(), 604.8));

    pour(&mut bench, 0, Poured::ScaleShows(560.0));
    pour(&mut bench, 2, Poured::ScaleShows(604.8));
    assert_eq!(mix(&bench).next_pour(), None);
    assert!(matches!(mix(&bench).ratio(), Ratio::Within { short_pct, .. } if short_pct < 0.2));
}

/// F 13: 100:18:6, only 61.0 g of activator; 460 g are wanted.
#[test]
fn a_short_component_gives_the_largest_pot() {
    let mut bench = bench_with([100.0, 18.0, 6.0], [None; 3], 2.0);
    plan(&mut bench, grams(460.0), vec![(1, grams(61.0))]);
    let now = mix(&bench).now.unwrap();
    let planned = |at: usize| now.pot.lines[at].planned.g.unwrap();
    assert!(close(planned(0), 338.9) && close(planned(1), 61.0) && close(planned(2), 20.3));
    assert!(close(now.pot.makes.g.unwrap(), 420.2));
    // more than enough of it changes nothing
    plan(&mut bench, grams(460.0), vec![(1, grams(90.0))]);
    assert!(close(mix(&bench).now.unwrap().pot.makes.g.unwrap(), 460.0));
    assert_eq!(mix(&bench).pot, "A", "the same pot, planned anew");
}

/// F 2: 100:22:8, 87.2 g needed, the scale shows 0.1 g, 1 % wanted.
#[test]
fn too_little_for_the_scale_gives_the_smallest_pot() {
    let mut bench = bench_with([100.0, 22.0, 8.0], [None; 3], 1.0);
    plan(&mut bench, grams(87.2), Vec::new());
    let coarse = mix(&bench).now.unwrap().too_coarse.expect("too coarse");
    assert_eq!(coarse.component, 2);
    assert!(close(coarse.smallest.g.unwrap(), 162.5), "{coarse:?}");
    assert!(close(coarse.step_pct, 1.9));
    plan(&mut bench, grams(165.0), Vec::new());
    let now = mix(&bench).now.unwrap();
    assert_eq!(now.too_coarse, None);
    let planned = |at: usize| now.pot.lines[at].planned.g.unwrap();
    assert!(close(planned(0), 126.9) && close(planned(1), 27.9) && close(planned(2), 10.2));
}

#[test]
fn space_pours_as_planned_and_the_birth_is_when_activator_meets_base() {
    let mut bench = Bench::example();
    bench.at(800.0);
    bench.tell(Command::PlanPot {
        layer: 1,
        wanted: NOTHING,
        short: Vec::new(),
        container_ml: None,
    });
    assert_eq!(mix(&bench).stands, OnBench::Mixing);
    let base = mix(&bench).now.unwrap().pot.lines[0].add.unwrap();
    pour(&mut bench, 0, Poured::Amount(base));
    assert!(bench.session.state().pots.is_empty(), "base alone is no pot yet");
    bench.at(803.0);
    let (component, shows) = mix(&bench).next_pour().unwrap();
    let Shows::Scale(g) = shows else { panic!("{shows:?}") };
    pour(&mut bench, component, Poured::ScaleShows(g));
    let pot = &bench.session.state().pots[0];
    assert_eq!((pot.id.as_str(), pot.mixed, pot.stirred), ("A", bench.now, None));
    let born = pot.mixed;
    let before = pot.amount_ml.unwrap();
    bench.at(805.0);
    let (component, shows) = mix(&bench).next_pour().unwrap();
    let Shows::Scale(g) = shows else { panic!("{shows:?}") };
    pour(&mut bench, component, Poured::ScaleShows(g));
    assert!(bench.session.state().pots[0].amount_ml.unwrap() > before, "later pours grow it");
    bench.at(807.0);
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    let pot = &bench.session.state().pots[0];
    assert_eq!((pot.mixed, pot.stirred.map(|it| it.at)), (born, Some(bench.now)));
    assert!((pot.amount_ml.unwrap() - 239.0).abs() < 0.2, "{pot:?}");
    assert_eq!(mix(&bench).stands, OnBench::Mixed);
    // the stand, a minimum, counts from the stir; the life from the birth
    let standing = bench.board().pots[0].at.clone();
    assert_eq!(standing.born, Some(born));
    assert!(standing.stands_until.unwrap().moment().unwrap() > bench.now);
}

#[test]
fn space_alone_leads_through_the_pours() {
    let mut bench = Bench::example();
    bench.space_until(Bench::wants_a_pot);
    let base = mix_first_g(&bench);
    let why = Some(PotWhy::None);
    let first =
        Next::Pour { pot: "A".into(), layer: 1, component: 0, shows: Shows::Scale(base), why };
    assert_eq!(bench.space(), first);
    assert!(matches!(bench.space(), Next::Pour { component: 1, why: None, .. }));
    assert!(matches!(bench.space(), Next::Pour { component: 2, why: None, .. }));
    assert!(matches!(bench.space(), Next::Stir { .. }));
    assert!(matches!(mix(&bench).ratio(), Ratio::Within { .. }));
    let done = bench.until_begin();
    assert!(!done.iter().any(|next| matches!(next, Next::Stir { .. } | Next::Pour { .. })));
}

fn mix_first_g(bench: &Bench) -> f64 {
    match mix(bench).next_pour() {
        Some((0, Shows::Scale(g))) => g,
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_quick_path_is_one_tap() {
    let mut bench = Bench::example();
    bench.space_until(Bench::wants_a_pot);
    assert_eq!(mix(&bench).stands, OnBench::ToMix);
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    assert!(bench.session.state().pots[0].stirred.is_some());
    assert_eq!(mix(&bench).ratio(), Ratio::NotTold);
}

#[test]
fn out_of_ratio_holds_a_coat_until_it_is_righted_or_gone_past() {
    let mut bench = Bench::example();
    bench.space_until(Bench::wants_a_pot);
    pour(&mut bench, 0, Poured::Amount(grams(200.0)));
    pour(&mut bench, 1, Poured::Amount(grams(60.0)));
    pour(&mut bench, 2, Poured::Amount(grams(50.0)));
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    bench.pass(30.0);
    assert!(matches!(mix(&bench).ratio(), Ratio::Out { component: 0, .. }));
    assert!(matches!(bench.board().next, Next::Pour { component: 0, .. }));
    let face = bench.session.plan().faces()[0].id.clone();
    let begin = Command::BeginCoat { face, past: None };
    let Err(Refusal::Held(holds)) = bench.try_tell(&begin, None) else { panic!("not held") };
    assert!(holds.contains(&Hold::OutOfRatio { pot: "A".into() }), "{holds:?}");
    let mut righted = bench.clone();
    while matches!(righted.board().next, Next::Pour { .. }) {
        righted.space();
    }
    assert!(matches!(mix(&righted).ratio(), Ratio::Within { .. }));
    bench.tell(Command::GoPast {
        hold: "ratio A".into(),
        reason: boothside_core::session::event::Reason::Tried,
    });
    assert!(!matches!(bench.board().next, Next::Pour { .. }));
}

#[test]
fn what_the_sheet_lacks_is_said_and_what_can_be_poured_is() {
    let mut bench = bench_with([100.0, 25.0, 10.0], [Some(1.3), None, None], 2.0);
    let now = mix(&bench);
    assert_eq!(now.now, Err(NoPlan::NoAmount), "the need rests on the densities");
    let wanted = Told { ml: Some(300.0), g: None };
    let refused = bench
        .try_tell(&Command::PlanPot { layer: 1, wanted, short: vec![], container_ml: None }, None);
    assert!(matches!(refused, Err(Refusal::Figure { field: "amount", .. })));
    plan(&mut bench, grams(270.0), Vec::new());
    let now = mix(&bench).now.unwrap();
    assert_eq!(now.without_density, [1, 2]);
    assert!(now.weighs && !now.marks && now.container == Container::NotTold);
    let by_mark =
        Command::Pour { pot: None, layer: 1, component: 1, amount: Poured::MarkShows(40.0) };
    assert!(matches!(bench.try_tell(&by_mark, None), Err(Refusal::Figure { .. })));
    pour(&mut bench, 0, Poured::ScaleShows(200.0));
    let lower =
        Command::Pour { pot: None, layer: 1, component: 1, amount: Poured::ScaleShows(190.0) };
    assert!(matches!(bench.try_tell(&lower, None), Err(Refusal::NotMore { field: "poured", .. })));
}

#[test]
fn a_pot_larger_than_its_container_is_said() {
    let mut bench = Bench::example();
    let wanted = Told { ml: Some(290.0), g: None };
    plan(&mut bench, wanted, Vec::new());
    assert_eq!(mix(&bench).now.unwrap().container, Container::Holds { ml: 300.0 });
    // base to 4/6 × 310 mL: it all follows, over the brim
    pour(&mut bench, 0, Poured::MarkShows(310.0 * 4.0 / 6.0));
    let Container::TooSmall { ml, over_ml } = mix(&bench).now.unwrap().container else {
        panic!("{:?}", mix(&bench).now)
    };
    assert!(close(ml, 300.0) && close(over_ml, 10.0));
    assert_eq!(mix(&bench).by, Gauge::Mark, "as the last pour was measured");
    let told = Command::PlanPot { layer: 1, wanted, short: vec![], container_ml: Some(600.0) };
    bench.tell(told);
    assert_eq!(mix(&bench).now.unwrap().container, Container::Holds { ml: 600.0 });
}

#[test]
fn struck_pours_leave_no_trace() {
    let mut bench = Bench::example();
    bench.at(10.0);
    let before = bench.session.state().clone();
    pour(&mut bench, 0, Poured::ScaleShows(200.0));
    pour(&mut bench, 1, Poured::ScaleShows(240.0));
    assert_eq!(bench.session.state().pots.len(), 1);
    bench.tell(Command::TakeBack);
    assert!(bench.session.state().pots.is_empty());
    bench.tell(Command::TakeBack);
    assert_eq!(bench.session.state(), &before);
}

proptest! {
    /// However the painter over-pours, following what the bench asks ends in ratio, and nothing is
    /// ever taken out.
    #[test]
    fn the_ratio_is_kept_after_any_over_pour(
        parts in prop::array::uniform3(1.0..100.0f64),
        densities in prop::array::uniform3(0.6..2.0f64),
        wanted in 100.0..5_000.0f64,
        slips in prop::collection::vec(0.5..1.6f64, 0..6),
        by_mark in any::<bool>(),
    ) {
        let mut bench = bench_with(parts, densities.map(Some), 0.5);
        plan(&mut bench, grams(wanted), Vec::new());
        let mut slips = slips.into_iter();
        for _ in 0..30 {
            let board = bench.board().measured_by(by_mark.then_some(Gauge::Mark));
            let now = board.mixing.unwrap();
            let Some((component, shows)) = now.next_pour() else { break };
            let had = now.now.as_ref().unwrap().pot.poured;
            let slip = slips.next().unwrap_or(1.0);
            let amount = match shows {
                Shows::Scale(g) => {
                    prop_assert!(g > had.g.unwrap());
                    Poured::ScaleShows(had.g.unwrap() + (g - had.g.unwrap()) * slip)
                }
                Shows::Mark(ml) => {
                    prop_assert!(ml > had.ml.unwrap());
                    Poured::MarkShows(had.ml.unwrap() + (ml - had.ml.unwrap()) * slip)
                }
            };
            pour(&mut bench, component, amount);
        }
        let end = mix(&bench);
        prop_assert_eq!(end.next_pour(), None);
        // within the tolerance, or within what one step of the scale can do
        let pot = end.now.unwrap().pot;
        for line in &pot.lines {
            let missing = line.wanted.g.unwrap() - line.poured.unwrap().g.unwrap();
            prop_assert!(line.short_pct <= 0.5 || missing <= 0.1 + 1e-9, "{:?}", line);
        }
        prop_assert!(pot.makes.g.unwrap() >= wanted - 0.3);
    }
}
