//! Air for which a sheet does not speak, as the painter sees it.

use boothside_core::board::Next;
use boothside_core::material::sheet::{Gap, OpenedBy};
use boothside_core::material::timing::{LawName, TablePoint, Timing};
use boothside_core::work::job::FullJob;
use boothside_core::work::job::ShopUnits;

use crate::play::{on_until, screen};
use crate::rig::Rig;

/// The example with another gap between the coats of its first layer, and no limits of air. Where the
/// earliest follows the temperature, the latest does too, as the earliest.
fn with_gap(earliest: &Timing, units: ShopUnits) -> Rig {
    Rig::with(|work: &mut FullJob| {
        let sheet = work.sheets.get_mut("grey-primer").expect("a sheet");
        let lent = earliest.law == LawName::Warmth;
        let law = if lent { LawName::AsEarliest } else { LawName::Steady };
        let open_until = Some(Timing { at_c: Some(24.0), law, ..Timing::steady(86_400.0) });
        let (dulls, wipe_until) = (None, None);
        let by = OpenedBy::Clock;
        let earliest = earliest.clone();
        sheet.between_coats = Gap { earliest, dulls, by, open_until, wipe_until };
        sheet.limits = boothside_core::material::sheet::Limits::default();
        work.shop.units = units;
    })
}

/// One face sprayed in air and on a part of so many degrees.
fn sprayed_at(rig: &mut Rig, celsius: &str) {
    on_until(rig, "a reading", |rig| matches!(rig.desk.board().next, Next::Reading { .. }));
    rig.space();
    for text in [celsius, "50%", celsius, "", "", ""] {
        rig.enter(text);
    }
    on_until(rig, "a coat", |rig| matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    rig.space().pass(60.0).space();
}

fn stated() -> Timing {
    Timing { at_c: Some(24.0), ..Timing::steady(1800.0) }
}

#[test]
fn a_row_says_for_which_air_its_clock_is_stated() {
    let mut rig = with_gap(&stated(), ShopUnits::Metric);
    sprayed_at(&mut rig, "6C");
    rig.leap_to(rig.t.plus(boothside_core::session::time::Span::from_minutes(40)));
    rig.pass(8.0);
    let wide = screen(&rig, (120, 40));
    assert!(wide.contains("open · stated at 24, was 6"), "{wide}");
    for size in [(80, 24), (100, 30)] {
        let shown = screen(&rig, size);
        assert!(shown.contains("was 6") && shown.contains("to Wed"), "{shown}");
    }
    rig.key('3');
    let ready = screen(&rig, (120, 60));
    assert!(ready.contains("earliest coat: Hatch · top"), "{ready}");
    assert!(ready.contains("stated at 24 °C, was 6 °C"), "{ready}");
    assert!(ready.contains("a general rule, not this sheet's"), "{ready}");
}

#[test]
fn a_us_shop_reads_it_in_its_own_degrees() {
    let mut rig = with_gap(&stated(), ShopUnits::Us);
    sprayed_at(&mut rig, "43F");
    rig.leap_to(rig.t.plus(boothside_core::session::time::Span::from_minutes(40)));
    rig.pass(8.0);
    let wide = screen(&rig, (120, 40));
    assert!(wide.contains("open · stated at 75.2, was 43"), "{wide}");
    rig.key('3');
    let ready = screen(&rig, (120, 60));
    assert!(ready.contains("stated at 75.2 °F, was 43 °F"), "{ready}");
    assert!(ready.contains("50 to 90 °F: a general rule"), "{ready}");
    assert!(!ready.contains("°C:") && !ready.contains("6.1 °C"), "{ready}");
}

#[test]
fn a_table_that_is_carried_on_and_a_floor_say_so() {
    let row = |at_c: f64, duration_s: f64| TablePoint { at_c, duration_s };
    let table = vec![row(15.0, 3600.0), row(23.0, 1800.0), row(35.0, 900.0)];
    let carried = Timing { law: LawName::Table, table, ..stated() };
    let mut rig = with_gap(&carried, ShopUnits::Metric);
    sprayed_at(&mut rig, "6C");
    rig.pass(8.0);
    let shown = screen(&rig, (100, 30));
    assert!(shown.contains("carried on beyond the sheet's table"), "{shown}");
    let stands = Timing { floor_c: Some(10.0), ..stated() };
    let mut rig = with_gap(&stands, ShopUnits::Metric);
    sprayed_at(&mut rig, "6C");
    rig.pass(8.0);
    let shown = screen(&rig, (100, 30));
    assert!(shown.contains("does not run below 10 °C"), "{shown}");
}

/// A maximum without a law of its own that goes by the earliest's: in the heat it ends sooner, and row
/// and Ready say why.
#[test]
fn a_window_that_closes_by_the_law_of_the_earliest_says_so() {
    let halves = Timing { law: LawName::Warmth, doubles_per_c: Some(10.0), ..stated() };
    let shown = |celsius: &str| {
        let mut rig = with_gap(&halves, ShopUnits::Metric);
        sprayed_at(&mut rig, celsius);
        rig.leap_to(rig.t.plus(boothside_core::session::time::Span::from_minutes(40)));
        rig.pass(8.0);
        let rows = [(80, 24), (100, 30), (120, 40)].map(|size| screen(&rig, size));
        rig.key('3');
        (rows, screen(&rig, (140, 60)))
    };
    let ([narrow, middle, wide], ready) = shown("34C");
    assert!(wide.contains("open · sooner, as the earliest"), "{wide}");
    assert!(narrow.contains("open · sooner"), "{narrow}");
    assert!(middle.contains("open · sooner"), "{middle}");
    assert!(ready.contains("latest coat: Hatch · top"), "{ready}");
    assert!(ready.contains("sooner than stated, by the earliest's law"), "{ready}");
    let ([_, _, wide], ready) = shown("24C");
    assert!(!wide.contains("sooner") && !ready.contains("sooner"), "{wide}\n{ready}");
}

/// The first checklist line never says 'clear' of limits that no sheet sets.
#[test]
fn without_limits_the_checklist_says_that_the_sheet_sets_none() {
    let mut rig = with_gap(&stated(), ShopUnits::Metric);
    on_until(&mut rig, "a reading", |rig| matches!(rig.desk.board().next, Next::Reading { .. }));
    rig.space();
    for text in ["5C", "50%", "5C", "", "", ""] {
        rig.enter(text);
    }
    rig.pass(8.0);
    let shown = screen(&rig, (120, 40));
    assert!(shown.contains("the sheet sets no limit"), "{shown}");
    assert!(!shown.contains("within the sheet"), "{shown}");
}

/// 18 °C, 12 %, part 17 °C: the dew point lies below the range of its formula.
#[test]
fn dry_winter_air_is_more_than_so_far_over_the_dew_point() {
    let mut rig = Rig::example();
    on_until(&mut rig, "a reading", |rig| matches!(rig.desk.board().next, Next::Reading { .. }));
    rig.space();
    for text in ["18C", "12%", "17C", "", "", ""] {
        rig.enter(text);
    }
    rig.pass(8.0);
    assert!(screen(&rig, (100, 30)).contains("over 27.0 over dew point"));
    rig.key('6');
    let air = screen(&rig, (100, 30));
    assert!(air.contains("surface over dew point more than 27.0; the sheet wants 3.0"), "{air}");
}
