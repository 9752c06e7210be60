//! What must hold for any input that is accepted.

use crate::support::{celsius, percent, point};
use boothside_core::physics::rate::{
    AirPoint, AirTrack, Due, Edge, Law, RateClock, Rules, Speed, Table, Warmth, Water, edge_due,
};
use boothside_core::units::parse::{
    parse_density, parse_film, parse_mass, parse_temperature, parse_volume,
};
use boothside_core::units::show;
use proptest::prelude::*;

fn law() -> impl Strategy<Value = Law> {
    let warmth =
        (5.0..45.0f64, 20.0..90.0f64, any::<bool>()).prop_map(|(reference, energy, doubles)| {
            let speed = match doubles {
                true => Speed::DoublesPer { kelvin: energy / 5.0 },
                false => Speed::Energy { kj_per_mol: energy },
            };
            Law::Warmth(Warmth::new(speed, celsius(reference)).expect("a law"))
        });
    let water = (10.0..35.0f64, 20.0..85.0f64)
        .prop_map(|(t, rh)| Law::Water(Water::new(celsius(t), percent(rh)).expect("a law")));
    let table = (1.0..30.0f64, 1.0..15.0f64, 600.0..9e4f64, 600.0..9e4f64, 600.0..9e4f64).prop_map(
        |(low, step, a, b, c)| {
            let pairs =
                vec![(celsius(low), a), (celsius(low + step), b), (celsius(low + 2.0 * step), c)];
            Law::Table(Table::new(pairs).expect("a law"))
        },
    );
    prop_oneof![Just(Law::Steady), warmth, water, table]
}

/// Clocks of every law, with and without a floor, by today's rules and by the first.
fn clock() -> impl Strategy<Value = RateClock> {
    let edge = prop::sample::select(vec![Edge::Bare, Edge::Min, Edge::Max]);
    let rules = prop::sample::select(vec![Rules::NOW, Rules::FIRST]);
    let floor = proptest::option::of(-5.0..15.0f64);
    (law(), 60.0..200_000.0f64, edge, rules, floor).prop_map(
        |(law, duration, edge, rules, floor)| {
            let clock = RateClock::new(law, duration).expect("a clock").with_edge(edge);
            clock.by_rules(rules).with_floor(floor.map(celsius)).expect("a floor")
        },
    )
}

fn readings() -> impl Strategy<Value = Vec<AirPoint>> {
    let surface = proptest::option::of(-9.0..58.0f64);
    let reading = (-3600.0..90_000.0f64, -9.0..58.0f64, 3.0..100.0f64, surface).prop_map(
        |(at, t, rh, surface)| AirPoint { surface: surface.map(celsius), ..point(at, t, rh) },
    );
    proptest::collection::vec(reading, 0..12)
}

/// The same readings, all warmer or drier by a step.
fn changed(readings: &[AirPoint], kelvin: f64, drier: f64) -> AirTrack {
    let change = |p: &AirPoint| AirPoint {
        at_s: p.at_s,
        temperature: celsius(p.temperature.celsius() + kelvin),
        humidity: p.humidity.map(|humidity| percent(humidity.percent() * drier)),
        // what counts is the air: a surface that stays makes no film warmer
        surface: None,
    };
    AirTrack::new(readings.iter().map(change).collect())
}

proptest! {
    #[test]
    fn progress_never_decreases_and_is_finite(
        clock in clock(), readings in readings(), from in 0.0..50_000.0f64, step in 0.0..50_000.0f64
    ) {
        let track = AirTrack::new(readings);
        let first = clock.progress(&track, 0.0, from);
        let second = clock.progress(&track, 0.0, from + step);
        prop_assert!(first.is_finite() && second.is_finite() && first >= 0.0);
        prop_assert!(second >= first * (1.0 - 1e-12), "{second} {first}");
        let split = first + clock.progress(&track, from, from + step);
        prop_assert!((split - second).abs() <= 1e-6 * second.max(1e-9), "{split} {second}");
    }

    #[test]
    fn due_is_where_progress_reaches_what_is_wanted(
        clock in clock(), readings in readings(), start in -5_000.0..50_000.0f64,
        wanted in 0.2..3.0f64
    ) {
        let track = AirTrack::new(readings);
        if let Due::At(at_s) = clock.due_at_progress(&track, start, wanted) {
            prop_assert!(at_s >= start);
            let reached = clock.progress(&track, start, at_s);
            prop_assert!((reached - wanted).abs() <= 1e-6 * wanted, "{reached} {wanted}");
        }
    }

    #[test]
    fn a_segment_at_a_time_gives_the_same(clock in clock(), readings in readings()) {
        let track = AirTrack::new(readings);
        let pairs = track.points().iter().zip(track.points().iter().skip(1));
        let by_segment: f64 = pairs.map(|(a, b)| clock.segment_progress(a, b)).sum();
        if let (Some(first), Some(last)) = (track.points().first(), track.points().last()) {
            let whole = clock.progress(&track, first.at_s, last.at_s);
            prop_assert!((whole - by_segment).abs() <= 1e-9 * whole.max(1.0));
        }
    }

    #[test]
    fn warmer_never_slows_warmth(
        reference in 5.0..40.0f64, energy in 1.0..200.0f64, readings in readings(),
        warmer in 0.0..20.0f64, at in 1.0..100_000.0f64
    ) {
        for speed in [Speed::Energy { kj_per_mol: energy }, Speed::DoublesPer { kelvin: energy }] {
            let law = Warmth::new(speed, celsius(reference)).expect("a law");
            let clock = RateClock::new(Law::Warmth(law), 3600.0).expect("a clock");
            let clock = clock.with_floor(Some(celsius(8.0))).expect("a floor");
            let cool = clock.progress(&changed(&readings, 0.0, 1.0), 0.0, at);
            let warm = clock.progress(&changed(&readings, warmer, 1.0), 0.0, at);
            prop_assert!(warm >= cool * (1.0 - 1e-9), "{warm} {cool}");
        }
    }

    #[test]
    fn drier_never_slows_water(
        reference in 10.0..35.0f64, readings in readings(), drier in 0.2..1.0f64,
        at in 1.0..100_000.0f64
    ) {
        let law = Water::new(celsius(reference), percent(50.0)).expect("a law");
        let clock = RateClock::new(Law::Water(law), 3600.0).expect("a clock");
        let damp = clock.progress(&changed(&readings, 0.0, 1.0), 0.0, at);
        let dry = clock.progress(&changed(&readings, 0.0, drier), 0.0, at);
        prop_assert!(dry >= damp * (1.0 - 1e-9), "{dry} {damp}");
    }

    #[test]
    fn edges_stay_on_the_safe_side(
        clock in clock(), readings in readings(), start in 0.0..20_000.0f64, factor in 0.5..2.0f64
    ) {
        let track = AirTrack::new(readings);
        let by = |edge| edge_due(&clock.clone().with_edge(edge), &track, start, factor);
        let (bare, stated) = (by(Edge::Bare), start + clock.duration_s());
        if matches!(clock.law(), Law::Table(_)) {
            prop_assert_eq!(by(Edge::Min), bare);
        } else {
            if let Due::At(min) = by(Edge::Min) {
                prop_assert!(min >= stated);
                prop_assert!(bare.at_s().is_some_and(|at| at <= min));
            }
            let max = by(Edge::Max).at_s();
            prop_assert!(max.is_some_and(|max| max <= stated));
        }
    }

    #[test]
    fn no_rule_since_the_first_lets_a_minimum_come_sooner_or_a_maximum_later(
        clock in clock(), readings in readings(), start in 0.0..20_000.0f64
    ) {
        let track = AirTrack::new(readings);
        let by = |edge, rules| {
            let due = edge_due(&clock.clone().with_edge(edge).by_rules(rules), &track, start, 1.0);
            due.at_s().unwrap_or(f64::INFINITY)
        };
        for edge in [Edge::Bare, Edge::Min] {
            let (now, first) = (by(edge, Rules::NOW), by(edge, Rules::FIRST));
            prop_assert!(now >= first - 1e-3, "{edge:?} {now} {first}");
        }
        let (now, first) = (by(Edge::Max, Rules::NOW), by(Edge::Max, Rules::FIRST));
        prop_assert!(now <= first + 1e-3, "{now} {first}");
    }

    #[test]
    fn units_come_back_to_twelve_digits(value in 1e-3..1e6f64) {
        let near = |got: f64| (got / value - 1.0).abs() <= 1e-12;
        let one = |text: &str| parse_volume(text).expect("a volume").ml();
        for unit in ["mL", "L", "floz", "pt", "qt", "gal"] {
            let ratio = one(&format!("{value}{unit}")) / one(&format!("1{unit}"));
            prop_assert!(near(ratio), "{} {}", ratio, unit);
        }
        for unit in ["g", "kg", "oz", "lb"] {
            let got = parse_mass(&format!("{value} {unit}")).expect("a mass");
            let ratio = got / parse_mass(&format!("1{unit}")).expect("a mass");
            prop_assert!(near(ratio), "{} {}", ratio, unit);
        }
        let mil = parse_film(&format!("{value}mil")).expect("a film").um();
        let film = parse_film(&format!("{mil}um")).expect("a film");
        prop_assert!(near(film.um() / 25.4));
        let density = parse_density(&format!("{value}lb/gal")).expect("a density").g_per_ml();
        let again = parse_density(&format!("{density}g/mL")).expect("a density").g_per_ml();
        prop_assert!(near(again / (453.59237 / 3785.411784)));
        let fahrenheit = parse_temperature(&format!("{value}F")).expect("a temperature");
        prop_assert!(near(fahrenheit.celsius().mul_add(1.8, 32.0)) || value < 1.0);
    }

    #[test]
    fn nothing_typed_makes_a_parser_stumble(text in "\\PC{0,24}") {
        let _ = parse_volume(&text);
        let _ = parse_temperature(&text);
        let _ = boothside_core::units::parse::parse_duration_s(&text);
        let _ = boothside_core::units::parse::parse_mass_or(&text, "g");
        let _ = boothside_core::units::parse::parse_humidity(&text);
    }

    #[test]
    fn a_duration_is_always_shown(seconds in proptest::num::f64::NORMAL) {
        prop_assert!(!show::duration_s(seconds).is_empty());
    }
}
