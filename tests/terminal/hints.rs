//! What the sheet asks for, said where it is needed.

use boothside_core::board::Next;
use boothside_core::material::sheet::{FilmPerCoat, GunRule, MeasuredAt};
use boothside_core::work::job::{FullJob, ShopUnits};

use crate::play::{on_until, screen};
use crate::rig::Rig;

/// The first coat of the example, its primer changed.
fn first_coat(change: impl Fn(&mut FullJob)) -> Rig {
    let mut rig = Rig::with(change);
    on_until(&mut rig, "a coat", |rig| matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    rig
}

fn asking(work: &mut FullJob, units: ShopUnits) {
    let sheet = work.sheets.get_mut("grey-primer").expect("the primer");
    sheet.gun = Some(GunRule {
        nozzle_low_mm: Some(1.2),
        nozzle_high_mm: Some(1.4),
        pressure_low_kpa: Some(41.368_543_8),
        pressure_high_kpa: Some(68.947_572_9),
        measured_at: Some(MeasuredAt::Cap),
    });
    let (wet_low_um, wet_high_um) = (Some(50.8), Some(76.2));
    sheet.film = Some(FilmPerCoat { wet_low_um, wet_high_um, ..FilmPerCoat::default() });
    work.shop.units = units;
}

#[test]
fn the_gun_s_form_says_what_the_sheet_asks_for() {
    for (units, pressure) in [(ShopUnits::Metric, "41 to 69 kPa"), (ShopUnits::Us, "6 to 10 psi")] {
        let mut rig = first_coat(|work| asking(work, units));
        rig.key('g');
        let shown = screen(&rig, (80, 24));
        assert!(shown.contains("sheet: 1.2 to 1.4 mm \u{b7} 1.3"), "{shown}");
        assert!(shown.contains(&format!("sheet: {pressure} at the cap")), "{shown}");
    }
    let mut silent = first_coat(|_| {});
    silent.key('g');
    assert!(!screen(&silent, (80, 24)).contains("sheet:"));
}

#[test]
fn the_film_s_form_says_the_wet_film_of_the_sheet() {
    for (units, film) in [(ShopUnits::Metric, "51 to 76 µm"), (ShopUnits::Us, "2 to 3 mil")] {
        let mut rig = first_coat(|work| asking(work, units));
        rig.space().pass(120.0).space().pass(6.0).key('f');
        let shown = screen(&rig, (80, 24));
        assert!(shown.contains(&format!("sheet: {film} \u{b7}")), "{shown}");
    }
}

#[test]
fn a_reducer_that_may_be_left_out_is_not_poured() {
    let mut rig = Rig::with(|work| {
        let mix = &mut work.sheets.get_mut("grey-primer").expect("the primer").mix;
        let reducer = mix.components.last_mut().expect("components");
        (reducer.parts, reducer.max_parts) = (0.0, Some(10.0));
        assert_eq!(work.check(), Vec::new());
    });
    on_until(&mut rig, "a mix", |rig| {
        matches!(rig.desk.board().next, Next::MixPot { .. } | Next::Pour { .. })
    });
    rig.pass(6.0).key('2');
    let shown = screen(&rig, (80, 24));
    assert!(shown.contains("0–10"), "{shown}");
    let row = shown.lines().find(|line| line.contains("0–10")).unwrap_or_default();
    assert!(!row.contains('+'), "nothing is to be added of it: {row}");
}
