//! The law `water` against a script by another route, and against a heat balance.

use crate::support::{Check, Row, Status, Tolerance, celsius, percent, point, table};
use boothside_core::physics::rate::{AirTrack, Edge, Law, RateClock, Water, edge_due};

const SCRIPT: &str = "tests/published/data/water_law.py: Simpson's rule, wet bulb by bisection";
const BALANCE: &str =
    "heat balance of a wet film (CoolProp 8.0.0), to which the law was fitted, 15–30 °C, 30–80 %";

fn clock(reference_c: f64, reference_pct: f64) -> RateClock {
    let law = Water::new(celsius(reference_c), percent(reference_pct)).expect("a law");
    RateClock::new(Law::Water(law), 1200.0).expect("a clock")
}

fn clock_of(row: &Row) -> RateClock {
    clock(row.number("ref_c"), row.number("ref_pct"))
}

/// The histories of the script.
fn track(history: &str) -> AirTrack {
    let points: &[(f64, f64, f64)] = match history {
        "steady" => &[(0.0, 20.0, 65.0)],
        "damp evening" => &[(0.0, 21.0, 55.0), (1800.0, 18.0, 68.0), (3600.0, 15.5, 80.0)],
        "heating" => &[(0.0, 14.0, 75.0), (1200.0, 24.0, 42.0)],
        "step" => &[(0.0, 18.0, 60.0), (600.0, 18.0, 60.0), (600.0, 28.0, 35.0)],
        "nearly wet" => &[(0.0, 16.0, 90.0), (2400.0, 16.5, 97.0), (3600.0, 19.0, 70.0)],
        other => panic!("history {other}"),
    };
    AirTrack::new(points.iter().map(|(at, c, pct)| point(*at, *c, *pct)).collect())
}

fn by_script() -> Vec<Check> {
    let check = |figure, tolerance| Check::new(figure, SCRIPT, Status::Computed, tolerance);
    let mut rates = check("speed of the law water", Tolerance::Relative(1e-8));
    let mut progress = check("progress by the law water", Tolerance::Relative(1e-6));
    let mut due = check("due time by the law water", Tolerance::Absolute(0.5, "s"));
    for row in table("water_law.csv") {
        let (clock, want) = (clock_of(&row), row.number("value"));
        match row.text("kind") {
            "rate" => {
                let label = format!("{} °C {} %", row.text("t_c"), row.text("rh_pct"));
                let humidity = percent(row.number("rh_pct"));
                rates.case(label, clock.rate(celsius(row.number("t_c")), Some(humidity)), want);
            }
            "progress" => {
                let (history, at_s) = (row.text("history"), row.number("at_s"));
                let got = clock.progress(&track(history), 0.0, at_s);
                progress.case(format!("{history} {at_s} s"), got, want);
            }
            _ => {
                let history = row.text("history");
                let got = clock.due(&track(history), 0.0).at_s().expect("it comes due");
                due.case(history, got, want);
            }
        }
    }
    vec![rates.expecting(200), progress.expecting(40), due.expecting(10)]
}

/// Consistency more than proof: the 0.2 of the law was fitted to this balance.
fn by_balance() -> Check {
    let tolerance = Tolerance::Relative(0.14);
    let mut check = Check::new("speed of drying", BALANCE, Status::Computed, tolerance);
    let clock = clock(25.0, 50.0);
    for row in table("drying_rate.csv") {
        let (t, rh) = (row.number("T_C"), row.number("RH_pct"));
        if (15.0..=30.0).contains(&t) && (30.0..=80.0).contains(&rh) {
            let label = format!("{t} °C {rh} % {} m/s", row.text("v_m_s"));
            check.case(label, clock.rate(celsius(t), Some(percent(rh))), row.number("r_rad"));
        }
    }
    check
}

pub(crate) fn checks() -> Vec<Check> {
    let mut checks = by_script();
    checks.push(by_balance().expecting(90));
    checks
}

#[test]
fn the_law_water_agrees_with_its_checks() {
    checks().iter().for_each(Check::assert_holds);
}

#[test]
fn saturated_air_never_dries_and_a_maximum_keeps_its_word() {
    let wet = AirTrack::new(vec![point(0.0, 20.0, 100.0)]);
    let clock = clock(25.0, 50.0);
    assert_eq!(clock.due(&wet, 0.0).at_s(), None);
    let max = clock.clone().with_edge(Edge::Max);
    assert_eq!(edge_due(&max, &wet, 0.0, 1.0).at_s(), Some(1200.0));
    assert!(clock.progress(&wet, 0.0, 1e6) <= 0.0);
}
