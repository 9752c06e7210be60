//! Units against exact definitions and a units library.

use crate::support::{Check, Status, Tolerance, table};
use boothside_core::physics::film::{Demand, spread_m2_per_l};
use boothside_core::units::parse::{
    parse_area, parse_density, parse_film, parse_flow, parse_length, parse_mass, parse_pressure,
    parse_room_volume, parse_temperature, parse_temperature_delta, parse_vapour_volume, parse_voc,
    parse_volume,
};
use boothside_core::units::{Area, Film, Share, Volume};

/// What we make of the left side of a row, in the unit of its right side.
fn ours(from: &str, to: &str) -> Option<f64> {
    let ml = |text| parse_volume(text).expect("a volume").ml();
    Some(match (from, to) {
        ("1 fluid_ounce", _) => ml("1 fl oz"),
        ("1 pint", _) => ml("1pt"),
        ("1 quart", _) => ml("1qt") / 1000.0,
        ("1 gallon", _) => ml("1gal") / 1000.0,
        ("1 pound/gallon", "gram/milliliter") => parse_density("1lb/gal").ok()?.g_per_ml(),
        ("1 pound/gallon", "gram/liter") => parse_voc("1lb/gal").ok()?.g_per_ml() * 1000.0,
        ("1 ounce", _) => parse_mass("1oz").ok()?.g(),
        ("1 pound", _) => parse_mass("1lb").ok()?.g() / 1000.0,
        ("1 thou", _) => parse_film("1mil").ok()?.um(),
        ("1 inch", _) => parse_length("1in").ok()?.m() * 1000.0,
        ("1 psi", "kilopascal") => parse_pressure("1psi").ok()?.pa() / 1e3,
        ("1 psi", "bar") => parse_pressure("1psi").ok()?.pa() / 1e5,
        ("1 bar", _) => parse_pressure("1bar").ok()?.pa() / 1e3,
        ("1 inHg", _) => parse_pressure("1inHg").ok()?.pa(),
        ("1 mmHg", _) => parse_pressure("1mmHg").ok()?.pa(),
        ("1 foot**3/minute", "meter**3/hour") => parse_flow("1cfm").ok()?.m3_per_h(),
        ("1 foot**3/minute", _) => parse_flow("1ft3/min").ok()?.m3_per_h() / 3.6,
        ("1 foot**2", _) => parse_area("1ft2").ok()?.m2(),
        ("1 foot**3", _) => parse_room_volume("1ft3").ok()?.ml() / 1e6,
        ("1 foot**3/gallon", _) => parse_vapour_volume("1ft3/gal").ok()?.m3_per_l() * 1000.0,
        ("1 liter/micrometer", _) => {
            spread_m2_per_l(Film::from_um(1.0), Share::from_fraction(1.0)).ok()?
        }
        ("1 gallon/thou", _) => covered_ft2()?,
        ("1 delta_degF", _) => parse_temperature_delta("1F").ok()?.kelvin(),
        (degrees, "degC") => parse_temperature(&degrees.replace(" degF", "F")).ok()?.celsius(),
        _ => return None,
    })
}

/// The area that takes a gallon for a mil.
fn covered_ft2() -> Option<f64> {
    let demand = Demand {
        area: Area::from_m2(1.0),
        dry_per_coat: parse_film("1mil").ok()?,
        coats: 1,
        as_mixed: Share::from_fraction(1.0),
        transfer: Share::from_fraction(1.0),
        loss: Volume::from_ml(0.0),
        spare: 0.0,
    };
    let gallons = demand.to_mix().ok()? / parse_volume("1gal").ok()?;
    Some(1.0 / gallons / parse_area("1ft2").ok()?.m2())
}

/// All conversions count as one situation: they differ in nothing but the unit.
const UNITS: &str = "units";

fn exact() -> Check {
    let mut check = Check::new(
        "units as typed",
        "exact definitions (NIST SP 811)",
        Status::Computed,
        Tolerance::Relative(1e-12),
    );
    for row in table("units.csv") {
        let ours = ours(row.text("from"), row.text("to"));
        if let Some((got, want)) = ours.zip(row.maybe("exact_decimal")) {
            check.case_of(UNITS, row.text("from"), got, want);
        }
    }
    check
}

fn by_library() -> Check {
    let (source, tolerance) = ("pint 0.25.3", Tolerance::Relative(1e-12));
    let mut check = Check::new("units as typed", source, Status::Library, tolerance);
    for row in table("units.csv") {
        if let Some(got) = ours(row.text("from"), row.text("to")) {
            // where nothing is left, the library keeps a last bit of its way through kelvin
            let want = row.number("pint");
            let want = if want.abs() < 1e-12 { 0.0 } else { want };
            check.case_of(UNITS, row.text("from"), got, want);
        }
    }
    check
}

fn spreading() -> Check {
    let mut check = Check::new(
        "spreading of a gallon at a mil",
        "coatings education article, 2007: 1604 ft²",
        Status::Read,
        Tolerance::Absolute(0.5, "ft²"),
    );
    check.case("1 gal at 1 mil", covered_ft2().expect("a covered area"), 1604.0);
    check
}

pub(crate) fn checks() -> Vec<Check> {
    vec![exact().expecting(25), by_library().expecting(30), spreading()]
}

#[test]
fn units_agree_with_their_definitions() {
    checks().iter().for_each(Check::assert_holds);
}
