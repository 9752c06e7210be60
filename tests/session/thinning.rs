//! A reducer that may be left out: 'thin 0 to 10 %'.

use boothside_core::board::Next;
use boothside_core::board::mixing::OnBench;
use boothside_core::material::recipe::Told;
use boothside_core::material::sheet::{Basis, Sheet};
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::mixing::Ratio;

use crate::bench::{Bench, example_work};
use crate::mixing::{bench_with, grams, mix, pour};

/// The bench of 100:25:0 by weight, of which 10 parts of reducer are allowed; densities all known
/// or none.
fn bench(density: Option<f64>) -> Bench {
    let mut work = example_work();
    let sheet: &mut Sheet = work.sheets.get_mut("grey-primer").unwrap();
    let like = bench_with([100.0, 25.0, 10.0], [density; 3], 2.0).session.state().work.clone();
    sheet.mix = like.sheets["grey-primer"].mix.clone();
    sheet.mix.components[2].parts = 0.0;
    sheet.mix.components[2].max_parts = Some(10.0);
    work.system.layers[0].prep.clear();
    work.system.layers[0].ready.clear();
    assert_eq!(work.check(), Vec::new());
    Bench::new(work)
}

fn planned(bench: &mut Bench, g: f64) {
    let (wanted, short) = (grams(g), Vec::new());
    bench.tell(Command::PlanPot { layer: 1, wanted, short, container_ml: None });
}

fn poured(bench: &mut Bench, reducer: f64) {
    bench.read(22.0, 50.0);
    bench.tell(Command::SomeoneKnows);
    planned(bench, 250.0);
    pour(bench, 0, Poured::Amount(grams(200.0)));
    pour(bench, 1, Poured::Amount(grams(50.0)));
    if reducer > 0.0 {
        pour(bench, 2, Poured::Amount(grams(reducer)));
    }
}

#[test]
fn a_pour_of_nothing_is_not_asked() {
    for density in [None, Some(1.2)] {
        let mut bench = bench(density);
        poured(&mut bench, 0.0);
        let board = mix(&bench);
        assert_eq!((board.next_pour(), board.stands), (None, OnBench::Mixing));
        assert!(matches!(board.ratio(), Ratio::Within { short_pct, .. } if short_pct < 1e-9));
        let next = bench.board().next;
        assert!(matches!(next, Next::Stir { .. }), "{next:?}");
        let line = board.now.unwrap().pot.lines[2];
        assert_eq!((line.wanted.g, line.add, line.poured), (Some(0.0), None, None));
        bench.space();
        assert!(bench.session.state().pot("A").is_some(), "stirred");
    }
}

#[test]
fn what_the_sheet_allows_of_it_is_no_over_pour_and_more_is() {
    let mut within = bench(None);
    poured(&mut within, 20.0);
    let now = mix(&within).now.unwrap();
    assert_eq!((now.pot.over, now.pot.next()), (None, None));
    assert!((now.pot.makes.g.unwrap() - 270.0).abs() < 1e-9);
    // 22 g belong to 220 g of base and 55 g of activator at the least
    let mut over = bench(None);
    poured(&mut over, 22.0);
    let board = mix(&over);
    let now = board.now.as_ref().unwrap();
    assert_eq!(now.pot.over.map(|(at, _)| at), Some(2));
    assert!((now.pot.factor - 1.1).abs() < 1e-9);
    assert_eq!(board.next_pour().map(|(at, _)| at), Some(0));
    assert!(matches!(board.ratio(), Ratio::Out { .. }));
}

#[test]
fn neither_its_lack_nor_the_scale_limits_the_pot() {
    let mut bench = bench(None);
    let short = vec![(2, grams(1.0))];
    bench.tell(Command::PlanPot { layer: 1, wanted: grams(250.0), short, container_ml: None });
    let now = mix(&bench).now.unwrap();
    assert!((now.pot.makes.g.unwrap() - 250.0).abs() < 1e-9);
    assert_eq!((now.limited, now.too_coarse), (None, None));
    planned(&mut bench, 2.0);
    let coarse = mix(&bench).now.unwrap().too_coarse.expect("a scale too coarse for 0.4 g");
    assert_eq!(coarse.component, 1);
    assert!(coarse.smallest.g.unwrap().is_finite());
}

#[test]
fn every_figure_of_a_pot_without_it_is_a_number() {
    for by in [Basis::Weight, Basis::Volume] {
        let mut work = bench(Some(1.1)).session.state().work.clone();
        work.sheets.get_mut("grey-primer").unwrap().mix.by = by;
        let mut bench = Bench::new(work);
        let wanted = Told { ml: Some(300.0), g: None };
        let short = Vec::new();
        bench.tell(Command::PlanPot { layer: 1, wanted, short, container_ml: None });
        bench.tell(Command::MixPot { layer: 1, amount_ml: Some(300.0), lots: Vec::new() });
        let board = mix(&bench);
        let text = format!("{board:?}");
        assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
        assert!(board.need.is_ok());
    }
}
