//! Situations drawn at random, with what reference libraries answered for them (`random/tables.py`).

use crate::air::{COOLPROP, PSYCHROLIB, label, ratio_of, wet_bulb_of};
use crate::support::{Check, Row, Status, Tolerance, celsius, dry_point, percent, table};
use boothside_core::physics::air as moist;
use boothside_core::physics::rate::{AirTrack, Law, RateClock, Speed, Table, Warmth};
use boothside_core::physics::ventilation::{air_changes_per_h, purge_s};
use boothside_core::units::{Flow, Length, Share, Volume};

fn library(figure: &'static str, source: &'static str, tolerance: Tolerance) -> Check {
    Check::new(figure, source, Status::Library, tolerance)
}

/// A column of the drawn air.
fn column(mut check: Check, name: &str, figure: impl Fn(&Row) -> f64) -> Check {
    for row in table("drawn_air.csv") {
        check.case(label(&row), figure(&row), row.number(name));
    }
    check.expecting(400)
}

fn saturation_of(row: &Row) -> f64 {
    moist::saturation_pressure(celsius(row.number("T_C"))).expect("in range").pa()
}

fn dew_of(row: &Row) -> f64 {
    let dew = moist::dew_point(celsius(row.number("T_C")), percent(row.number("RH_pct")));
    dew.expect("in range").expect("a dew point").celsius()
}

fn heights() -> Check {
    let source = "fluids 1.3.1 (standard atmosphere of 1976)";
    let mut check = library("air pressure at a height", source, Tolerance::Relative(1e-5));
    for row in table("drawn_heights.csv") {
        let got = moist::pressure_at_height(Length::from_m(row.number("h_m"))).expect("in range");
        check.case(format!("{} m", row.text("h_m")), got.pa(), row.number("P_Pa"));
    }
    check.expecting(60)
}

pub(crate) fn air() -> Vec<Check> {
    let degrees = |within| Tolerance::Absolute(within, "°C");
    let relative = Tolerance::Relative;
    let iapws = "CoolProp 8.0.0 (IAPWS-95)";
    vec![
        column(
            library("saturation pressure", PSYCHROLIB, relative(5e-4)),
            "psat_pl",
            saturation_of,
        ),
        column(library("dew point", iapws, degrees(0.01)), "Tdp_cp", dew_of),
        column(library("dew point", PSYCHROLIB, degrees(0.01)), "Tdp_pl", dew_of),
        column(library("wet bulb", COOLPROP, degrees(0.02)), "Twb_cp", wet_bulb_of),
        column(library("wet bulb", PSYCHROLIB, degrees(0.005)), "Twb_pl", wet_bulb_of),
        column(library("humidity ratio", COOLPROP, relative(0.007)), "W_cp", ratio_of),
        column(library("humidity ratio", PSYCHROLIB, relative(5e-4)), "W_pl", ratio_of),
        heights(),
    ]
}

/// `1.5@20;2@18`: pairs of numbers.
fn pairs(text: &str) -> Vec<(f64, f64)> {
    let number = |text: &str| text.parse().expect("a number");
    let pair = |pair: &str| {
        let (first, second) = pair.split_once('@').expect("a pair");
        (number(first), number(second))
    };
    text.split(';').map(pair).collect()
}

fn warmth(speed: Speed, row: &Row) -> Law {
    Law::Warmth(Warmth::new(speed, celsius(row.number("reference_c"))).expect("a law"))
}

fn clock(row: &Row) -> RateClock {
    let law = match row.text("law") {
        "energy" => warmth(Speed::Energy { kj_per_mol: row.number("figure") }, row),
        "doubles" => warmth(Speed::DoublesPer { kelvin: row.number("figure") }, row),
        "table" => {
            let rows = pairs(row.text("figure")).into_iter();
            let rows = rows.map(|(degrees, hours)| (celsius(degrees), hours * 3600.0));
            Law::Table(Table::new(rows.collect()).expect("a law"))
        }
        other => panic!("law {other}"),
    };
    RateClock::new(law, row.number("duration_h") * 3600.0).expect("a clock")
}

pub(crate) fn clocks() -> Vec<Check> {
    let scipy = "scipy 1.17.1 on drawn histories: quadrature piece by piece, Brent's method";
    let mut progress = library("progress of a clock", scipy, Tolerance::Relative(1e-8));
    let mut due = library("due time of a clock", scipy, Tolerance::Absolute(0.001, "s"));
    for row in table("drawn_clocks.csv") {
        let points = pairs(row.text("readings")).into_iter();
        let track = AirTrack::new(points.map(|(hours, t)| dry_point(hours, t)).collect());
        let (clock, at_s) = (clock(&row), row.number("at_h") * 3600.0);
        let situation = ["law", "figure", "reference_c", "duration_h", "readings"]
            .map(|column| row.text(column))
            .join(" ");
        progress.case(&situation, clock.progress(&track, 0.0, at_s), row.number("progress"));
        let got = clock.due(&track, 0.0).at_s().expect("it comes due");
        due.case(&situation, got, row.number("due_h") * 3600.0);
    }
    vec![progress.expecting(330), due.expecting(330)]
}

pub(crate) fn purges() -> Check {
    let source = "scipy 1.17.1: ODE solver with an event, on drawn booths";
    let mut check = library("purge time", source, Tolerance::Relative(1e-8));
    for row in table("drawn_purges.csv") {
        let volume = Volume::from_ml(row.number("V_m3") * 1e6);
        let flow = Flow::from_m3_per_h(row.number("Q_m3_h"));
        let changes = air_changes_per_h(volume, flow).expect("air changes");
        let left = Share::from_fraction(row.number("left"));
        let got = purge_s(changes, left, row.number("mixing")).expect("a purge") / 60.0;
        let situation =
            ["V_m3", "Q_m3_h", "mixing", "left"].map(|column| row.text(column)).join(" ");
        check.case(situation, got, row.number("purge_min"));
    }
    check.expecting(120)
}

#[test]
fn drawn_situations_agree_with_the_libraries() {
    let checks = air().into_iter().chain(clocks()).chain([purges()]);
    checks.for_each(|check| check.assert_holds());
}
