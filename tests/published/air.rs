//! Air against CoolProp, psychrolib, IAPWS-95 and printed examples.

use crate::support::{Check, Row, Status, Tolerance, celsius, percent, table};
use boothside_core::physics::air;
use boothside_core::units::{Length, Pressure};

pub(crate) fn saturation() -> Check {
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

pub(crate) fn saturation_printed() -> Check {
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

pub(crate) fn pressure_printed() -> Check {
    let mut check = Check::new(
        "air pressure at a height",
        "FAO-56 worked example: 81.8 kPa at 1800 m (another standard atmosphere)",
        Status::Read,
        Tolerance::Relative(0.005),
    );
    let got = air::pressure_at_height(Length::from_m(1800.0)).expect("in range");
    check.case("1800 m", got.pa() / 1000.0, 81.8);
    check
}

/// The values are those of the ICAO tables as remembered.
pub(crate) fn pressure_standard() -> Check {
    let mut check = Check::new(
        "air pressure at a height",
        "ICAO standard atmosphere, tabulated values",
        Status::Memory,
        Tolerance::Relative(0.001),
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

pub(crate) fn dew_point() -> Check {
    let mut check = Check::new(
        "dew point over liquid water, ≥ −10 °C",
        "CoolProp 8.0.0 (IAPWS-95; Murphy & Koop 2005 below 0.01 °C)",
        Status::Library,
        Tolerance::Absolute(0.02, "°C"),
    );
    for row in table("psychrometrics.csv").iter().filter(|row| row.number("Tdp_liq") >= -10.0) {
        let dew = air::dew_point(celsius(row.number("T_C")), percent(row.number("RH_pct")));
        let dew = dew.expect("in range").expect("not below −10 °C");
        check.case(label(row), dew.celsius(), row.number("Tdp_liq"));
    }
    check
}

fn label(row: &Row) -> String {
    format!("{} °C {} % {} Pa", row.text("T_C"), row.text("RH_pct"), row.text("P_Pa"))
}

/// A column against a library, over the rows that carry no flag.
fn unflagged(mut check: Check, column: &str, figure: impl Fn(&Row) -> f64) -> Check {
    for row in table("psychrometrics.csv").iter().filter(|row| row.text("flag").is_empty()) {
        check.case(label(row), figure(row), row.number(column));
    }
    check
}

fn wet_bulb_of(row: &Row) -> f64 {
    air::wet_bulb(
        celsius(row.number("T_C")),
        percent(row.number("RH_pct")),
        Pressure::from_pa(row.number("P_Pa")),
    )
    .expect("in range")
    .celsius()
}

fn ratio_of(row: &Row) -> f64 {
    air::humidity_ratio(
        celsius(row.number("T_C")),
        percent(row.number("RH_pct")),
        Pressure::from_pa(row.number("P_Pa")),
    )
    .expect("in range")
}

pub(crate) fn against_libraries() -> Vec<Check> {
    let wet =
        |source| Check::new("wet bulb", source, Status::Library, Tolerance::Absolute(0.03, "°C"));
    let ratio =
        |source| Check::new("humidity ratio", source, Status::Library, Tolerance::Relative(0.007));
    vec![
        unflagged(wet("CoolProp 8.0.0 (ASHRAE RP-1485)"), "Twb_cp", wet_bulb_of),
        unflagged(wet("psychrolib 2.5.0 (ASHRAE)"), "Twb_pl", wet_bulb_of),
        unflagged(ratio("CoolProp 8.0.0 (ASHRAE RP-1485)"), "W_cp", ratio_of),
        unflagged(ratio("psychrolib 2.5.0 (ASHRAE)"), "W_pl", ratio_of),
    ]
}

#[test]
fn saturation_pressure_agrees_with_its_sources() {
    saturation().assert_holds(100);
    saturation_printed().assert_holds(1);
}

#[test]
fn pressure_at_a_height_agrees_with_its_sources() {
    pressure_printed().assert_holds(1);
    pressure_standard().assert_holds(5);
}

#[test]
fn dew_point_agrees_with_the_library_over_the_whole_table() {
    dew_point().assert_holds(100);
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
fn wet_bulb_and_humidity_ratio_agree_with_both_libraries() {
    for check in against_libraries() {
        check.assert_holds(100);
    }
}
