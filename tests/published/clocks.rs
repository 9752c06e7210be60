//! Rate clocks against adaptive quadrature.

use crate::support::{Check, Row, Status, Tolerance, celsius, dry_point, percent, point, table};
use boothside_core::physics::rate::{
    AirPoint, AirTrack, Edge, Law, RateClock, Speed, Table, Warmth, Water, edge_due,
};

const SCIPY: &str = "scipy 1.17.1: adaptive quadrature, Brent's method";

/// The law named by a column of the tables, 8 h stated at 20 °C.
fn clock(law: &str) -> RateClock {
    let (name, floor) = match law.strip_suffix("_cut10") {
        Some(name) => (name, Some(celsius(10.0))),
        None => (law, None),
    };
    let speed = match (name.strip_prefix("Ea"), name.strip_prefix("Q10_")) {
        (Some(energy), _) => Speed::Energy { kj_per_mol: energy.parse().expect("an energy") },
        (_, Some(q)) => {
            let q: f64 = q.parse().expect("a factor");
            Speed::DoublesPer { kelvin: 10.0 / q.log2() }
        }
        _ => panic!("law {law}"),
    };
    let warmth = Warmth::new(speed, celsius(20.0)).expect("a law");
    let clock = RateClock::new(Law::Warmth(warmth), 8.0 * 3600.0).expect("a clock");
    clock.with_floor(floor).expect("a floor")
}

/// The temperature history of a row; `samples_hold` gives no samples and cannot be rebuilt.
fn track(history: &str) -> Option<AirTrack> {
    let points: &[(f64, f64)] = match history {
        "const_10" => &[(0.0, 10.0)],
        "const_20" => &[(0.0, 20.0)],
        "const_35" => &[(0.0, 35.0)],
        "ramp_up" => &[(0.0, 8.0), (8.0, 24.0)],
        "step_a" => &[(0.0, 20.0), (2.0, 20.0), (2.0, 10.0), (6.0, 10.0), (6.0, 30.0)],
        "step_bake" => &[(0.0, 20.0), (0.5, 20.0), (0.5, 60.0), (1.5, 60.0), (1.5, 20.0)],
        "samples_hold" => return None,
        other => panic!("history {other}"),
    };
    Some(AirTrack::new(points.iter().map(|(h, c)| dry_point(*h, *c)).collect()))
}

fn histories() -> Vec<(RateClock, AirTrack, Row)> {
    table("arrhenius_histories.csv")
        .into_iter()
        .filter_map(|row| Some((clock(row.text("law")), track(row.text("history"))?, row)))
        .collect()
}

fn rates() -> Check {
    let mut check = Check::new(
        "speed of the law warmth",
        "both forms worked again in Python, 6–60 °C",
        Status::Computed,
        Tolerance::Relative(1e-11),
    );
    let laws = ["Ea40", "Ea50", "Ea60", "Ea70", "Ea80", "Q10_1.5", "Q10_2", "Q10_2.5", "Q10_3"];
    for row in table("arrhenius.csv") {
        for law in laws {
            let got = clock(law).rate(celsius(row.number("T_C")), None);
            check.case(format!("{law} at {} °C", row.text("T_C")), got, row.number(law));
        }
    }
    check
}

fn progress() -> Check {
    let mut check =
        Check::new("progress of a clock", SCIPY, Status::Library, Tolerance::Relative(1e-6));
    for (clock, track, row) in histories() {
        for hours in [4.0, 8.0, 24.0] {
            let got = clock.progress(&track, 0.0, hours * 3600.0) * 8.0;
            let label = format!("{} {} {hours} h", row.text("history"), row.text("law"));
            check.case(label, got, row.number(&format!("eq_h_at_{hours}h")));
        }
    }
    check
}

fn due_times() -> Check {
    let mut check =
        Check::new("due time of a clock", SCIPY, Status::Library, Tolerance::Absolute(0.5, "s"));
    for (clock, track, row) in histories() {
        let got = clock.due(&track, 0.0).at_s().expect("it comes due");
        let label = format!("{} {}", row.text("history"), row.text("law"));
        check.case(label, got, row.number("t_progress1_h") * 3600.0);
    }
    check
}

/// An invented pot: 180 min at 20 °C, halving with every 10 °C, at 26 °C.
fn pot_life() -> Check {
    let mut check = Check::new(
        "pot life in a warm shop",
        "a pot: 180 min at 20 °C, half with every 10 °C more, at 26 °C",
        Status::Invented,
        Tolerance::Absolute(0.05, "min"),
    );
    let speed = Speed::DoublesPer { kelvin: 10.0 };
    let law = Warmth::new(speed, celsius(20.0)).expect("a law");
    let clock = RateClock::new(Law::Warmth(law), 180.0 * 60.0).expect("a clock");
    let due = clock.due(&AirTrack::new(vec![dry_point(0.0, 26.0)]), 0.0);
    check.case("26 °C", due.at_s().expect("it comes due") / 60.0, 118.8);
    check
}

const EDGES: &str = "tests/published/data/clock_edges.py: logarithms, and steps of 1 s";

fn edge_of(row: &Row) -> Edge {
    match row.text("edge") {
        "bare" => Edge::Bare,
        "min" => Edge::Min,
        "max" => Edge::Max,
        other => panic!("edge {other}"),
    }
}

/// The tables of the script: (°C, s).
fn rows_of(name: &str) -> Law {
    let rows: &[(f64, f64)] = match name {
        "three rows" => &[(15.0, 36000.0), (23.0, 21600.0), (35.0, 10800.0)],
        "two rows" => &[(10.0, 3600.0), (25.0, 900.0)],
        "odd cold end" => &[(10.0, 3000.0), (20.0, 3600.0), (30.0, 1200.0)],
        other => panic!("table {other}"),
    };
    let rows = rows.iter().map(|(t, seconds)| (celsius(*t), *seconds));
    Law::Table(Table::new(rows.collect()).expect("a law"))
}

/// The laws and stated durations of the script.
fn law_of(name: &str) -> (Law, f64) {
    match name {
        "steady" => (Law::Steady, 3600.0),
        "water" => {
            let law = Water::new(celsius(25.0), percent(50.0)).expect("a law");
            (Law::Water(law), 1200.0)
        }
        _ => {
            let law = Warmth::new(Speed::DoublesPer { kelvin: 10.0 }, celsius(20.0));
            (Law::Warmth(law.expect("a law")), 3600.0)
        }
    }
}

/// The histories of the script, over a surface so far from the air.
fn readings_of(row: &Row) -> AirTrack {
    let readings: &[(f64, f64, f64)] = match row.text("history") {
        "ramp up" => &[(0.0, 2.0, 60.0), (14400.0, 26.0, 60.0)],
        "dip" => &[
            (0.0, 20.0, 50.0),
            (1500.0, 20.0, 50.0),
            (2400.0, 4.0, 60.0),
            (7200.0, 4.0, 60.0),
            (9000.0, 22.0, 45.0),
        ],
        "cold night" => {
            &[(0.0, 14.0, 55.0), (7200.0, 6.0, 75.0), (21600.0, 5.0, 80.0), (36000.0, 18.0, 50.0)]
        }
        other => panic!("history {other}"),
    };
    let under = match row.text("surface") {
        "none" => None,
        "4 under" => Some(4.0),
        "8 under" => Some(8.0),
        other => panic!("surface {other}"),
    };
    let at = |(at, t, pct): &(f64, f64, f64)| {
        let surface = under.map(|under| celsius(t - under));
        AirPoint { surface, ..point(*at, *t, *pct) }
    };
    AirTrack::new(readings.iter().map(at).collect())
}

/// Floors, the ends of tables, and surfaces colder than the film.
fn edges() -> Vec<Check> {
    let mut ends = Check::new(
        "beyond the ends of a sheet's table",
        EDGES,
        Status::Computed,
        Tolerance::Relative(1e-8),
    );
    let mut due = Check::new(
        "due times with a floor and with a surface",
        EDGES,
        Status::Computed,
        Tolerance::Absolute(0.6, "s"),
    );
    for row in table("clock_edges.csv") {
        let (edge, want) = (edge_of(&row), row.number("value"));
        let (law, kind) = (row.text("law"), row.text("kind"));
        if kind == "table" {
            let clock = RateClock::new(rows_of(law), 7200.0).expect("a clock").with_edge(edge);
            let flat = AirTrack::new(vec![dry_point(0.0, row.number("t_c"))]);
            let got = edge_due(&clock, &flat, 0.0, 1.0).at_s().expect("it comes due");
            ends.case(format!("{law} {edge:?} {} °C", row.text("t_c")), got, want);
        } else {
            let (bent, seconds) = law_of(law);
            let clock = RateClock::new(bent, seconds).expect("a clock").with_edge(edge);
            let clock = clock.with_floor(row.maybe("floor_c").map(celsius)).expect("a floor");
            let got = edge_due(&clock, &readings_of(&row), 0.0, 1.0).at_s().expect("it comes due");
            let (floor, surface) = (row.text("floor_c"), row.text("surface"));
            let label = format!("{law} {edge:?} floor {floor} {surface} {}", row.text("history"));
            due.case(label, got, want);
        }
    }
    vec![ends.expecting(117), due.expecting(135)]
}

pub(crate) fn checks() -> Vec<Check> {
    let mut checks = vec![
        rates().expecting(28 * 9),
        progress().expecting(60 * 3),
        due_times().expecting(60),
        pot_life(),
    ];
    checks.extend(edges());
    checks
}

#[test]
fn clocks_agree_with_their_sources() {
    checks().iter().for_each(Check::assert_holds);
}

#[test]
fn averaging_the_temperature_first_would_be_wrong() {
    // 12 to 24 °C over half a day: the integral is more than the rate at the mean
    let clock = clock("Ea60");
    let track = AirTrack::new(vec![dry_point(0.0, 12.0), dry_point(12.0, 24.0)]);
    let integral = clock.progress(&track, 0.0, 12.0 * 3600.0);
    let at_mean = clock.rate(celsius(18.0), None) * 12.0 / 8.0;
    assert!(integral > 1.02 * at_mean, "{integral} {at_mean}");
}
