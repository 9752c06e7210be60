//! Air against CoolProp, psychrolib, IAPWS-95 and printed examples.

use crate::support::{Check, Row, Status, Tolerance, celsius, percent, table};
use boothside_core::physics::air;
use boothside_core::units::{Length, Pressure, TemperatureDelta};

fn saturation() -> Check {
    let mut check = Check::new(
        "saturation pressure, −10…60 °C",
        "CoolProp 8.0.0 (IAPWS-95; Murphy & Koop 2005 below 0.01 °C)",
        Status::Library,
        Tolerance::Relative(5e-4),
    );
    for row in table("saturation_pressure.csv") {
        let got = air::saturation_pressure(celsius(row.number("T_C"))).expect("in range");
        check.case(format!("{} °C", row.text("T_C")), got.pa(), row.number("p_ref"));
    }
    check
}

fn saturation_printed() -> Check {
    let mut check = Check::new(
        "saturation pressure",
        "FAO-56 worked example: 1.705 kPa at 15 °C (by another formula)",
        Status::Read,
        Tolerance::Relative(5e-4),
    );
    let got = air::saturation_pressure(celsius(15.0)).expect("in range");
    check.case("15 °C", got.pa() / 1000.0, 1.705);
    check
}

fn pressure_printed() -> Check {
    let mut check = Check::new(
        "air pressure at a height",
        "FAO-56 worked example: 81.8 kPa at 1800 m (another standard atmosphere)",
        Status::Read,
        Tolerance::Relative(0.004),
    );
    let got = air::pressure_at_height(Length::from_m(1800.0)).expect("in range");
    check.case("1800 m", got.pa() / 1000.0, 81.8);
    check
}

/// The values are those of the ICAO tables as remembered.
fn pressure_standard() -> Check {
    let mut check = Check::new(
        "air pressure at a height",
        "ICAO standard atmosphere, tabulated values",
        Status::Memory,
        Tolerance::Relative(1e-5),
    );
    for (metres, pa) in [
        (0.0, 101_325.0),
        (1000.0, 89_874.6),
        (2000.0, 79_495.2),
        (5000.0, 54_019.9),
        (11_000.0, 22_632.1),
    ] {
        let got = air::pressure_at_height(Length::from_m(metres)).expect("in range");
        check.case(format!("{metres} m"), got.pa(), pa);
    }
    check
}

fn dew_point() -> Check {
    let mut check = Check::new(
        "dew point over liquid water, ≥ −10 °C",
        "CoolProp 8.0.0 (IAPWS-95; Murphy & Koop 2005 below 0.01 °C)",
        Status::Library,
        Tolerance::Absolute(0.01, "°C"),
    );
    for row in table("psychrometrics.csv").iter().filter(|row| row.number("Tdp_liq") >= -10.0) {
        let dew = air::dew_point(celsius(row.number("T_C")), percent(row.number("RH_pct")));
        let dew = dew.expect("in range").expect("not below −10 °C");
        check.case(label(row), dew.celsius(), row.number("Tdp_liq"));
    }
    check
}

pub(crate) fn label(row: &Row) -> String {
    format!("{} °C {} % {} Pa", row.text("T_C"), row.text("RH_pct"), row.text("P_Pa"))
}

/// A column against a library, over the rows that carry no flag.
fn unflagged(mut check: Check, column: &str, figure: impl Fn(&Row) -> f64) -> Check {
    for row in table("psychrometrics.csv").iter().filter(|row| row.text("flag").is_empty()) {
        check.case(label(row), figure(row), row.number(column));
    }
    check
}

pub(crate) const COOLPROP: &str = "CoolProp 8.0.0 (ASHRAE RP-1485)";
pub(crate) const PSYCHROLIB: &str = "psychrolib 2.5.0 (ASHRAE)";

pub(crate) fn wet_bulb_of(row: &Row) -> f64 {
    air::wet_bulb(
        celsius(row.number("T_C")),
        percent(row.number("RH_pct")),
        Pressure::from_pa(row.number("P_Pa")),
    )
    .expect("in range")
    .celsius()
}

pub(crate) fn ratio_of(row: &Row) -> f64 {
    air::humidity_ratio(
        celsius(row.number("T_C")),
        percent(row.number("RH_pct")),
        Pressure::from_pa(row.number("P_Pa")),
    )
    .expect("in range")
}

fn against_libraries() -> Vec<Check> {
    let wet = |source, within| {
        Check::new("wet bulb", source, Status::Library, Tolerance::Absolute(within, "°C"))
    };
    let ratio = |source, within| {
        Check::new("humidity ratio", source, Status::Library, Tolerance::Relative(within))
    };
    vec![
        unflagged(wet(COOLPROP, 0.02), "Twb_cp", wet_bulb_of),
        unflagged(wet(PSYCHROLIB, 0.005), "Twb_pl", wet_bulb_of),
        unflagged(ratio(COOLPROP, 0.006), "W_cp", ratio_of),
        unflagged(ratio(PSYCHROLIB, 0.0005), "W_pl", ratio_of),
    ]
}

/// An evening at 18 °C and 62 %, the surface at 15.5 °C falling 1.1 °C an hour.
fn evening() -> Vec<Check> {
    let source = "an evening: 18 °C, 62 %, surface 15.5 °C falling 1.1 °C an hour";
    let mut dew =
        Check::new("dew point", source, Status::Invented, Tolerance::Absolute(0.01, "°C"));
    let mut margin =
        Check::new("surface margin", source, Status::Invented, Tolerance::Absolute(0.01, "°C"));
    let mut breaks = Check::new(
        "when the margin breaks",
        source,
        Status::Invented,
        Tolerance::Absolute(0.02, "h"),
    );
    let (warm, damp) = (celsius(18.0), percent(62.0));
    let dew_point = air::dew_point(warm, damp).expect("in range").expect("a dew point");
    dew.case("evening", dew_point.celsius(), 10.61);
    let above = |surface| {
        let margin = air::surface_margin(celsius(surface), warm, damp);
        margin.expect("in range").expect("a margin")
    };
    margin.case("evening", above(15.5).kelvin(), 4.89);
    let readings = [(0.0, above(15.5 + 1.1)), (3600.0, above(15.5))];
    let error = TemperatureDelta::from_kelvin(0.5);
    let trend = air::margin_trend(&readings, air::USUAL_MARGIN, error).expect("a trend");
    let at_s = trend.breaks.expect("it breaks").at_s;
    breaks.case("evening", (at_s - 3600.0) / 3600.0, 1.72);
    vec![dew, margin, breaks]
}

pub(crate) fn checks() -> Vec<Check> {
    let mut checks = vec![
        saturation().expecting(100),
        saturation_printed(),
        pressure_printed(),
        pressure_standard().expecting(5),
        dew_point().expecting(100),
    ];
    checks.extend(against_libraries().into_iter().map(|check| check.expecting(100)));
    checks.extend(evening());
    checks
}

#[test]
fn air_agrees_with_its_sources() {
    checks().iter().for_each(Check::assert_holds);
}

#[test]
fn there_is_no_dew_point_below_minus_ten() {
    let below = table("psychrometrics.csv");
    let below: Vec<_> = below.iter().filter(|row| row.number("Tdp_liq") < -10.01).collect();
    assert!(below.len() > 20);
    for row in below {
        let dew = air::dew_point(celsius(row.number("T_C")), percent(row.number("RH_pct")));
        assert_eq!(dew, Ok(None), "{row:?}");
    }
}

#[test]
fn a_trend_needs_ten_minutes_and_claims_no_more_than_its_readings() {
    let kelvin = TemperatureDelta::from_kelvin;
    let trend = |readings: &[(f64, TemperatureDelta)]| {
        air::margin_trend(readings, kelvin(3.0), kelvin(0.5))
    };
    assert_eq!(trend(&[(0.0, kelvin(5.0)), (500.0, kelvin(4.0))]), None);
    let rising = trend(&[(0.0, kelvin(4.0)), (900.0, kelvin(5.0))]).expect("a trend");
    assert!(rising.per_hour.kelvin() > 0.0 && rising.breaks.is_none());
    let falling = trend(&[(0.0, kelvin(6.0)), (1800.0, kelvin(5.0))]).expect("a trend");
    let breaks = falling.breaks.expect("it breaks");
    assert!((breaks.at_s - 5400.0).abs() < 1e-6);
    // ±0.5 K on readings half an hour apart, an hour on: the line is good to 0.5 √(1/2 + 4.5²/4.5)
    assert!(breaks.give_or_take_s > 1800.0, "{breaks:?}");
    assert!(!air::is_rising(kelvin(5.0), kelvin(4.9)) && air::is_rising(kelvin(5.0), kelvin(5.0)));
}

#[test]
fn air_outside_the_formula_is_refused() {
    for temperature in [-10.1, 60.1, f64::NAN, f64::INFINITY] {
        assert!(air::saturation_pressure(celsius(temperature)).is_err());
        assert!(air::dew_point(celsius(temperature), percent(50.0)).is_err());
    }
    for humidity in [0.0, -1.0, 100.1, f64::NAN] {
        assert!(air::vapour_pressure(celsius(20.0), percent(humidity)).is_err());
        assert!(air::wet_bulb(celsius(20.0), percent(humidity), air::STANDARD_PRESSURE).is_err());
    }
    for pressure in [0.0, 21_000.0, 130_000.0, f64::NAN] {
        let pressure = Pressure::from_pa(pressure);
        assert!(air::humidity_ratio(celsius(20.0), percent(50.0), pressure).is_err());
    }
    for height in [-501.0, 11_001.0, f64::NAN] {
        assert!(air::pressure_at_height(Length::from_m(height)).is_err());
    }
}
