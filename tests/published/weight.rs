//! Weight and balance against printed examples.

use crate::support::{Check, Status, Tolerance, table};
use boothside_core::physics::weight::{added_mass, balance, moment};
use boothside_core::units::parse::{parse_length, parse_mass};
use boothside_core::units::{Area, Density, Film, Length, Mass};

/// `1169@10.6; 17@-49`: pounds at inches.
fn items(text: &str) -> Vec<(Mass, Length)> {
    let item = |item: &str| {
        let (lb, inches) = item.trim().split_once('@').expect("a weight at an arm");
        let mass = parse_mass(&format!("{lb}lb")).expect("a mass");
        (mass, parse_length(&format!("{inches}in")).expect("an arm"))
    };
    text.split(';').map(item).collect()
}

/// Figure 10-13 is left out: its printed quotient is wrong in the copy that was read.
fn examples() -> Vec<Check> {
    let source = "FAA AC 43.13-1B chapter 10, figures 10-10 and 10-11";
    let check = |figure, tolerance| Check::new(figure, source, Status::Read, tolerance);
    let mut moments = check("moment of several weights", Tolerance::Absolute(0.5, "lb·in"));
    let mut arms = check("arm of several weights", Tolerance::Absolute(0.05, "in"));
    let (lb, inch) =
        (parse_mass("1lb").expect("a pound").g(), parse_length("1in").expect("an inch").m());
    for row in table("weight_balance.csv").iter().filter(|row| row.text("note") == "agrees") {
        let sum = balance(&items(row.text("items lb@in"))).expect("a balance");
        moments.case(row.text("figure"), sum.moment.g_m() / lb / inch, row.number("pub_moment"));
        if let Ok(arm) = row.text("pub_cg").parse() {
            arms.case(row.text("figure"), sum.arm.m() / inch, arm);
        }
    }
    vec![moments.expecting(2), arms]
}

/// An invented case: an aileron.
fn aileron() -> Vec<Check> {
    let source = "aileron 1.10 m², primer 20 µm, topcoat 55 µm, 14.0 cm aft";
    let check = |figure, tolerance| Check::new(figure, source, Status::Invented, tolerance);
    let layer = |um: f64, density: f64| {
        let density = Density::from_g_per_ml(density);
        added_mass(Area::from_m2(1.10), Film::from_um(um), density).expect("a mass")
    };
    let (primer, topcoat) = (layer(20.0, 1.45), layer(55.0, 1.30));
    let mut mass = check("weight of a film", Tolerance::Absolute(0.06, "g"));
    mass.case("primer", primer.g(), 31.9);
    mass.case("topcoat", topcoat.g(), 78.7);
    mass.case("both", (primer + topcoat).g(), 110.6);
    let both = moment(primer + topcoat, Length::from_m(0.14)).g_m();
    let mut moments = check("moment of a film", Tolerance::Absolute(0.5, "g·cm"));
    moments.case("both", both * 100.0, 1548.0);
    let mut opposite =
        check("weight that balances it 9.5 cm forward", Tolerance::Absolute(0.5, "g"));
    opposite.case("both", both / 0.095, 163.0);
    vec![mass, moments, opposite]
}

pub(crate) fn checks() -> Vec<Check> {
    let mut checks = examples();
    checks.extend(aileron());
    checks
}

#[test]
fn weight_agrees_with_its_sources() {
    checks().iter().for_each(Check::assert_holds);
}
