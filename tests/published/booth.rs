//! Booth air against printed tables and a solver.

use crate::support::{Check, Status, Tolerance, table};
use boothside_core::physics::ventilation::{air_changes_per_h, dilution_air, purge_s, share_left};
use boothside_core::units::parse::parse_vapour_volume;
use boothside_core::units::{Flow, Share, Volume};

fn purge() -> Check {
    let mut check = Check::new(
        "purge time",
        "MMWR 1994;43(RR-13) table S3-1, printed to the minute",
        Status::Read,
        Tolerance::Absolute(0.5, "min"),
    );
    for row in table("purge.csv") {
        let left = Share::from_fraction(1.0 - row.number("removal_pct") / 100.0);
        let got = purge_s(row.number("ACH"), left, 1.0).expect("a purge") / 60.0;
        let label = format!("{} ACH, {} %", row.text("ACH"), row.text("removal_pct"));
        check.case(label, got, row.number("published_min"));
    }
    check
}

/// The rows of a purge: clean air coming in, nothing given off.
fn decay() -> Check {
    let mut check = Check::new(
        "vapour left after a time",
        "scipy 1.17.1: ODE solver on the well-mixed balance",
        Status::Library,
        // the solver's own noise is absolute, and larger than what is left after 40 air changes
        Tolerance::Absolute(1e-9, "of the start"),
    );
    let zero = |value: f64| value.abs() <= 0.0;
    for row in table("air_change.csv") {
        let Some(solved) = row.maybe("C_ode") else {
            continue;
        };
        let start = row.number("C0");
        let flow = row.number("Q_m3_h");
        let purged = zero(row.number("Cb")) && zero(row.number("G_per_h"));
        if !purged || zero(start) || zero(flow) {
            continue;
        }
        let volume = Volume::from_ml(row.number("V_m3") * 1e6);
        let changes = air_changes_per_h(volume, Flow::from_m3_per_h(flow)).expect("air changes");
        let got = share_left(changes, row.number("t_h") * 3600.0, 1.0).expect("a share");
        let label = format!("{} {} h", row.text("label"), row.text("t_h"));
        check.case(label, got.fraction(), solved / start);
    }
    check
}

fn dilution() -> Check {
    let mut check = Check::new(
        "air to a quarter of the flammable limit",
        "29 CFR 1910.94(c)(6), worked from what is remembered of table G-11",
        Status::Memory,
        Tolerance::Absolute(0.5, "ft³/gal"),
    );
    for row in table("vapour_dilution.csv") {
        let vapour = parse_vapour_volume(&format!("{}ft3/gal", row.text("ft3_vapour_per_gal")));
        let limit = Share::from_fraction(row.number("LEL_pct") / 100.0);
        let air = dilution_air(limit, vapour.expect("a vapour volume")).expect("an amount of air");
        let one = parse_vapour_volume("1ft3/gal").expect("a vapour volume");
        let got = air.m3_per_l() / one.m3_per_l();
        check.case(row.text("solvent"), got, row.number("dilution_ft3_per_gal"));
    }
    check
}

pub(crate) fn checks() -> Vec<Check> {
    vec![purge().expecting(30), decay().expecting(8), dilution().expecting(9)]
}

#[test]
fn booth_air_agrees_with_its_sources() {
    checks().iter().for_each(Check::assert_holds);
}

#[test]
fn a_mixing_factor_stretches_a_purge() {
    let left = Share::from_fraction(0.01);
    let perfect = purge_s(10.0, left, 1.0).expect("a purge");
    let poor = purge_s(10.0, left, 3.0).expect("a purge");
    assert!((poor / perfect - 3.0).abs() < 1e-12);
    let after = share_left(10.0, poor, 3.0).expect("a share").fraction();
    assert!((after - 0.01).abs() < 1e-12);
    for (left, mixing) in [(0.51, 1.0), (0.0, 1.0), (0.1, 0.9), (0.1, 11.0), (f64::NAN, 1.0)] {
        assert!(purge_s(10.0, Share::from_fraction(left), mixing).is_err());
    }
}
