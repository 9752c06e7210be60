//! A timing as it is said.

use boothside_core::fault::Faults;
use boothside_core::material::timing::said::{read, say};
use boothside_core::material::timing::{LawName, TablePoint, Timing};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

fn fits(timing: &Timing) -> bool {
    let mut faults = Faults::default();
    timing.check(&mut faults);
    faults.into_found().is_empty()
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-9 * one.abs().max(1.0)
}

fn alike(one: Option<f64>, other: Option<f64>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => near(one, other),
        (one, other) => one == other,
    }
}

/// The same timing, its durations to a relative 1e-9 and its other figures to 1e-9 of them or of 1.
fn same(one: &Timing, other: &Timing) -> bool {
    let short = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs();
    let row = |(a, b): (&TablePoint, &TablePoint)| {
        near(a.at_c, b.at_c) && short(a.duration_s, b.duration_s)
    };
    short(one.duration_s, other.duration_s)
        && one.up_to_s.is_some() == other.up_to_s.is_some()
        && one.up_to_s.zip(other.up_to_s).is_none_or(|(a, b)| short(a, b))
        && alike(one.at_c, other.at_c)
        && alike(one.at_pct, other.at_pct)
        && one.law == other.law
        && alike(one.energy_kj_per_mol, other.energy_kj_per_mol)
        && alike(one.doubles_per_c, other.doubles_per_c)
        && alike(one.floor_c, other.floor_c)
        && one.table.len() == other.table.len()
        && one.table.iter().zip(&other.table).all(row)
}

fn stated(duration_s: f64, at_c: Option<f64>, at_pct: Option<f64>) -> Timing {
    Timing { at_c, at_pct, ..Timing::steady(duration_s) }
}

fn rows(rows: &[(f64, f64)], stated: usize) -> Timing {
    let table: Vec<TablePoint> = rows
        .iter()
        .map(|(at_c, duration_s)| TablePoint { at_c: *at_c, duration_s: *duration_s })
        .collect();
    let row = table[stated];
    let at_c = Some(row.at_c);
    Timing { at_c, law: LawName::Table, table, ..Timing::steady(row.duration_s) }
}

const F75: f64 = 43.0 / 1.8;

#[test]
fn what_a_sheet_prints_is_read() {
    let range = Timing { up_to_s: Some(900.0), ..Timing::steady(600.0) };
    let hours = Timing { up_to_s: Some(7200.0), ..Timing::steady(2700.0) };
    let list = rows(&[(18.0, 36_000.0), (24.0, 21_600.0), (32.0, 10_800.0)], 1);
    let listed = Timing { at_pct: Some(50.0), ..list.clone() };
    let warm = |at_c| stated(14_400.0, Some(at_c), None);
    let halves = Timing { law: LawName::Warmth, doubles_per_c: Some(10.0), ..warm(24.0) };
    let energy = Timing {
        law: LawName::Warmth,
        energy_kj_per_mol: Some(60.0),
        floor_c: Some(5.0),
        ..warm(24.0)
    };
    let water = Timing { law: LawName::Water, ..stated(900.0, Some(23.0), Some(50.0)) };
    let headline = Timing { at_c: None, ..rows(&[(10.0, 1800.0), (20.0, 960.0)], 1) };
    let headline = Timing { duration_s: 900.0, ..headline };
    let cases: [(&str, Timing); 31] = [
        ("15min", Timing::steady(900.0)),
        (" 15 MIN ", Timing::steady(900.0)),
        ("1h30min", Timing::steady(5400.0)),
        ("1 h 30 min", Timing::steady(5400.0)),
        ("2d", Timing::steady(172_800.0)),
        ("1 week", Timing::steady(604_800.0)),
        ("10-15min", range.clone()),
        ("10 – 15 min", range.clone()),
        ("10min—15min", range.clone()),
        ("10 to 15 minutes", range.clone()),
        ("45min-2h", hours.clone()),
        ("4h at 75F", warm(F75)),
        ("4 h @ 75 °F", warm(F75)),
        ("4h at 24C 50%", stated(14_400.0, Some(24.0), Some(50.0))),
        ("4h at 24 °C / 50 % RH", stated(14_400.0, Some(24.0), Some(50.0))),
        ("4h at 24C, 50% relative humidity", stated(14_400.0, Some(24.0), Some(50.0))),
        ("4h at 24 50%", stated(14_400.0, Some(24.0), Some(50.0))),
        ("4h at 50%", stated(14_400.0, None, Some(50.0))),
        ("4h at -5C", warm(-5.0)),
        ("4h at −5C", warm(-5.0)),
        ("6h at 24C, 10h at 18C, 3h at 32C", list.clone()),
        ("3h at 32; 6h at 24;10h at 18;", list.clone()),
        ("6h at 24C 50%, 10h at 18C 50%, 3h at 32C 50%", listed.clone()),
        ("6h at 24C, 50%, 10h at 18C, 3h at 32C", listed),
        ("15min: 30min at 10C, 16min at 20C", headline),
        ("4h at 24C, halves every 10C", halves.clone()),
        ("4h at 24C; Halves every 18F", halves.clone()),
        ("4h at 24C, twice as fast every 10", halves),
        ("4h at 24C, 60kJ/mol, not below 5C", energy.clone()),
        ("not below 5, 60 kJ per mol, 4h at 24", energy),
        ("15min at 23C 50%, as water", water),
    ];
    for (text, timing) in cases {
        let got = read(text, false).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert!(same(&got, &timing), "{text}: {got:?}");
        assert!(fits(&got), "{text}");
    }
    let us = read("4h at 75, halves every 18, not below 41", true).expect("a timing");
    assert!(alike(us.at_c, Some(F75)) && alike(us.doubles_per_c, Some(10.0)), "{us:?}");
    assert!(alike(us.floor_c, Some(5.0)));
    // of two as near to 23 °C the colder; the last bits of 26 °C do not count
    let tie = read("2h at 78.8F, 4h at 68F", false).expect("a timing");
    assert!(near(tie.duration_s, 14_400.0));
}

#[test]
fn a_timing_is_said_as_a_sheet_would() {
    let range = Timing { up_to_s: Some(900.0), ..Timing::steady(600.0) };
    let list = rows(&[(18.0, 36_000.0), (24.0, 21_600.0)], 1);
    let other = Timing { duration_s: 900.0, at_c: None, ..list.clone() };
    let bent = Timing {
        law: LawName::Warmth,
        doubles_per_c: Some(10.0),
        floor_c: Some(5.0),
        ..stated(14_400.0, Some(F75), None)
    };
    let water = Timing { law: LawName::Water, ..stated(900.0, Some(23.0), Some(50.0)) };
    let cases = [
        (Timing::steady(900.0), "15min", "15min"),
        (Timing::steady(1.1 * 3600.0), "1h6min", "1h6min"),
        (Timing::steady(90.5), "1min30.5s", "1min30.5s"),
        (Timing::steady(172_800.0), "48h", "48h"),
        (Timing::steady(604_800.0), "7d", "7d"),
        (range, "10-15min", "10-15min"),
        (
            Timing { up_to_s: Some(5400.0), ..Timing::steady(2700.0) },
            "45min-1h30min",
            "45min-1h30min",
        ),
        (stated(60.0, Some(0.0), None), "1min at 0C", "1min at 32F"),
        (list, "10h at 18C, 6h at 24C", "10h at 64.4F, 6h at 75.2F"),
        (other, "15min: 10h at 18C, 6h at 24C", "15min: 10h at 64.4F, 6h at 75.2F"),
        (
            bent,
            "4h at 23.8888888889C, halves every 10C, not below 5C",
            "4h at 75F, halves every 18F, not below 41F",
        ),
        (water, "15min at 23C 50%, as water", "15min at 73.4F 50%, as water"),
    ];
    for (timing, metric, us) in cases {
        assert_eq!((say(&timing, false).as_str(), say(&timing, true).as_str()), (metric, us));
    }
}

#[test]
fn what_is_no_timing_is_named_with_what_is_accepted() {
    let cases = [
        ("", "nothing was given"),
        (" , ;", "no time"),
        ("15", "'15' has no unit"),
        ("-15min", "negative"),
        ("soon", "'soon' is not understood"),
        ("15min, soon", "'soon' is not understood"),
        ("1,5h", "comma between digits"),
        ("1:30", "hours or minutes"),
        ("15-10min", "shorter time first"),
        ("0min", "0.001s to 3652d"),
        ("4000d", "0.001s to 3652d"),
        ("4h at", "at which temperature"),
        ("4h at warm", "number"),
        ("4h at 24X", "'x'"),
        ("4h at 24C 50% and so on", "not understood"),
        ("4h at 24C 0%", "above 0"),
        ("4h at 200C", "-10C to 60C"),
        ("4h at 24C, halves every 0.5C", "1C to 100C"),
        ("4h at 24C, doubles every 10C", "halves every 10C"),
        ("4h at 24C, 900kJ/mol", "1kJ/mol to 200kJ/mol"),
        ("4h, halves every 10C", "at which temperature"),
        ("4h at 24C, as water", "in which air"),
        ("4h at 24C 100%, as water", "below 100%"),
        ("4h at 24C, 6h", "each at its own temperature"),
        ("4h at 24C, 6h at 24C", "each at its own temperature"),
        ("15min: 4h at 24C", "each at its own temperature"),
        ("4-5h at 24C, 6h at 18C", "one time at each temperature"),
        ("4h at 24C 50%, 6h at 18C 40%", "twice"),
        ("4h at 24C, 6h at 18C, as water", "the list alone"),
        ("4h at 24C, as water, 60kJ/mol", "twice"),
        ("not below 5C", "no time"),
    ];
    for (text, part) in cases {
        let error =
            read(text, false).map_or_else(|error| error.to_string(), |got| format!("{got:?}"));
        assert!(error.to_lowercase().contains(&part.to_lowercase()), "{text}: {error}");
        assert!(error.contains("accepted"), "{text}: {error}");
    }
    let hot = read("4h at 200", true).expect_err("too hot").to_string();
    assert!(hot.contains("14F to 140F"), "{hot}");
}

fn durations() -> impl Strategy<Value = f64> {
    let minutes = (1..600_000_u32).prop_map(|minutes| f64::from(minutes) * 60.0);
    let hours = (0.01..2000.0_f64).prop_map(|hours| hours * 3600.0);
    prop_oneof![minutes, hours, 0.001..60.0_f64, 0.001..(3652.0 * 86_400.0)]
}

fn celsius() -> impl Strategy<Value = f64> {
    let fahrenheit = (14..=140_i32).prop_map(|f| (f64::from(f) - 32.0) / 1.8);
    prop_oneof![(-10..=60_i32).prop_map(f64::from), fahrenheit, -10.0..=60.0_f64]
}

fn tables() -> impl Strategy<Value = Vec<TablePoint>> {
    let row = (celsius(), durations());
    let row = row.prop_map(|(at_c, duration_s)| TablePoint { at_c, duration_s });
    vec(row, 2..5).prop_map(|mut rows| {
        rows.sort_by(|a, b| a.at_c.total_cmp(&b.at_c));
        rows
    })
}

fn timings() -> impl Strategy<Value = Timing> {
    let laws = prop_oneof![
        Just(LawName::Steady),
        Just(LawName::Table),
        Just(LawName::Warmth),
        Just(LawName::Water),
    ];
    let air = (option::of(celsius()), option::of(1.0..=100.0_f64), option::of(-50.0..=60.0_f64));
    let bend = (any::<bool>(), 1.0..=200.0_f64, 1.0..=100.0_f64);
    let range = option::of(1.0..3.0_f64);
    // half of the tables state one of their rows
    (laws, durations(), range, air, bend, tables(), option::of(any::<prop::sample::Index>()))
        .prop_map(|(law, duration_s, wider, (at_c, at_pct, floor_c), bend, table, row)| {
            let (by_energy, energy, step) = bend;
            let warm = law == LawName::Warmth;
            let mut timing = Timing {
                duration_s,
                up_to_s: wider.map(|by| duration_s * by),
                at_c,
                at_pct,
                law,
                energy_kj_per_mol: (warm && by_energy).then_some(energy),
                doubles_per_c: (warm && !by_energy).then_some(step),
                floor_c,
                table: Vec::new(),
            };
            if law == LawName::Table {
                if let Some(row) = row {
                    let row = row.get(&table);
                    (timing.duration_s, timing.up_to_s, timing.at_c) =
                        (row.duration_s, None, Some(row.at_c));
                }
                timing.table = table;
            }
            timing
        })
        .prop_filter("what the check accepts", fits)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(4000) })]

    #[test]
    fn what_is_said_is_read_again(timing in timings(), us in any::<bool>()) {
        let text = say(&timing, us);
        let again = read(&text, us);
        prop_assert!(again.is_ok(), "{text}: {again:?}");
        let again = again.expect("a timing");
        prop_assert!(same(&again, &timing), "{text}: {again:?} is not {timing:?}");
        prop_assert!(fits(&again), "{text}");
        // every temperature carries its unit: the other shop reads the same
        prop_assert!(read(&text, !us).is_ok_and(|other| same(&other, &timing)), "{text}");
    }

    #[test]
    fn any_text_is_read_or_refused(text in "[0-9a-zA-Z .,;:@%°–−/+-]{0,40}|\\PC{0,20}", us in any::<bool>()) {
        if let Ok(timing) = read(&text, us) {
            prop_assert!(fits(&timing), "{text}: {timing:?}");
        }
    }
}
