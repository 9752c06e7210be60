//! Mixing and stock against exact fractions.

use crate::support::{Check, Row, Status, Tolerance, table};
use boothside_core::material::recipe::{Basis, Component, Plan, Recipe};
use boothside_core::material::stock::{Content, Cycle};
use boothside_core::units::{Density, Mass, Share, Volume};

const EXACT: &str = "exact fractions";

fn exact(figure: &'static str) -> Check {
    Check::new(figure, EXACT, Status::Computed, Tolerance::Relative(1e-12))
}

/// The rows of a table by their case, in order.
fn cases(name: &str) -> Vec<Vec<Row>> {
    let mut cases: Vec<Vec<Row>> = Vec::new();
    for row in table(name) {
        match cases.last_mut() {
            Some(rows) if rows.first().is_some_and(|r| r.text("case") == row.text("case")) => {
                rows.push(row);
            }
            _ => cases.push(vec![row]),
        }
    }
    cases
}

fn recipe(rows: &[Row]) -> Recipe {
    let basis = match rows.first().expect("a row").text("basis") {
        "volume" => Basis::Volume,
        "weight" | "mass" => Basis::Weight,
        other => panic!("basis {other}"),
    };
    let component = |row: &Row| Component {
        parts: row.number("ratio"),
        density: Density::from_g_per_ml(row.number("density")),
    };
    Recipe::new(basis, rows.iter().map(component).collect()).expect("a recipe")
}

fn plan(rows: &[Row]) -> Plan {
    let first = rows.first().expect("a row");
    let target = first.number("target");
    let plan = match first.text("target_kind") {
        "V" => recipe(rows).for_volume(Volume::from_ml(target)),
        "M" => recipe(rows).for_mass(Mass::from_g(target)),
        other => panic!("target {other}"),
    };
    plan.expect("a plan")
}

fn label(row: &Row) -> String {
    format!("case {} component {}", row.text("case"), row.text("component"))
}

/// One mix is one situation, whatever is asked about its components.
fn mix(row: &Row) -> String {
    format!("mix {}", row.text("case"))
}

fn over_pour(row: &Row) -> String {
    format!("over-pour {}", row.text("case"))
}

fn plans() -> Check {
    let mut check = exact("components, running totals and marks of a mix");
    for rows in cases("mixing.csv") {
        let plan = plan(&rows);
        for (row, line) in rows.iter().zip(plan.lines()) {
            for (got, column) in [
                (line.volume.ml(), "volume"),
                (line.mass.g(), "mass"),
                (line.scale_total.g(), "scale_target"),
                (line.mark.ml(), "cum_volume"),
            ] {
                check.case_of(mix(row), label(row), got, row.number(column));
            }
        }
        let last = rows.last().expect("a row");
        let density = plan.density().g_per_ml();
        check.case_of(mix(last), label(last), density, last.number("mix_density"));
    }
    check
}

fn largest_pots() -> Check {
    let mut check = exact("largest pot from a short component");
    for rows in cases("mixing.csv") {
        let want = rows.last().expect("a row").number("scale_target");
        for (index, row) in rows.iter().enumerate() {
            let (recipe, component) = (recipe(&rows), index + 1);
            let (mass, volume) = (row.number("mass"), row.number("volume"));
            let by_mass = recipe.from_component_mass(component, Mass::from_g(mass));
            let by_volume = recipe.from_component_volume(component, Volume::from_ml(volume));
            for pot in [by_mass, by_volume] {
                let got = pot.expect("a pot").total_mass().g();
                check.case(format!("from {}", label(row)), got, want);
            }
        }
    }
    check
}

fn over_pours() -> Check {
    let mut check = exact("additions after an over-pour");
    for rows in cases("mixing_overshoot.csv") {
        let first = rows.first().expect("a row");
        let planned: f64 = rows.iter().map(|row| row.number("planned_g")).sum();
        let plan = recipe(&rows).for_mass(Mass::from_g(planned)).expect("a plan");
        let poured: Vec<Mass> =
            rows.iter().map(|row| Mass::from_g(row.number("poured_g"))).collect();
        let after = plan.after_pours(&poured).expect("a pot");
        for (got, column) in [
            (after.scale_factor, "scale_factor"),
            (after.new_mass.g(), "new_total_g"),
            (after.new_volume.ml(), "new_total_mL"),
        ] {
            check.case_of(over_pour(first), label(first), got, first.number(column));
        }
        for (row, line) in rows.iter().zip(&after.lines) {
            check.case_of(over_pour(row), label(row), line.new.g(), row.number("new_g"));
            // an addition is a difference of large numbers: measure it against the component
            let add = (line.add.g() - row.number("add_g")) / row.number("new_g");
            check.case_of(over_pour(row), label(row), 1.0 + add, 1.0);
        }
    }
    check
}

fn drift() -> Check {
    let mut check = exact("thinner in a can after returns");
    for rows in cases("mixing_drift.csv") {
        let first = rows.first().expect("a row");
        let mut can = Content::new(
            Volume::from_ml(first.number("can_start_volume")),
            Share::from_fraction(first.number("fraction_before")),
        )
        .expect("a can");
        for row in &rows {
            let label = format!("can {} cycle {}", row.text("case"), row.text("cycle"));
            let (numerator, denominator) =
                row.text("thinner_per_poured").split_once('/').expect("a fraction");
            let ratio: f64 = numerator.parse::<f64>().expect("a number")
                / denominator.parse::<f64>().expect("a number");
            let after = can.after(&Cycle {
                poured: Volume::from_ml(row.number("poured")),
                thinner_per_poured: ratio,
                used: Volume::from_ml(row.number("used")),
            });
            let after = after.expect("a cycle");
            check.case(&label, after.cup.fraction(), row.number("fraction_in_cup"));
            check.case(&label, after.returned.ml(), row.number("returned"));
            check.case(&label, after.can.volume.ml(), row.number("volume_after"));
            check.case(&label, after.can.thinner.fraction(), row.number("fraction_after"));
            can = after.can;
        }
    }
    check
}

pub(crate) fn checks() -> Vec<Check> {
    vec![
        plans().expecting(300),
        largest_pots().expecting(100),
        over_pours().expecting(200),
        drift().expecting(200),
    ]
}

#[test]
fn mixing_agrees_with_exact_fractions() {
    checks().iter().for_each(Check::assert_holds);
}

#[test]
fn a_scale_keeps_the_tolerance_from_the_smallest_pot_on() {
    for rows in cases("mixing.csv") {
        let (step, tolerance) = (Mass::from_g(0.1), Share::from_fraction(0.01));
        let recipe = recipe(&rows);
        let smallest = plan(&rows).smallest_mass(step, tolerance).expect("a mass");
        for extra in 0..40 {
            let pot = recipe.for_mass(smallest * (1.0 + f64::from(extra) * 0.013)).expect("a pot");
            let error = pot.ratio_error(step).expect("an error");
            assert!(error <= Share::from_fraction(0.01 + 1e-9), "{error:?} {rows:?}");
        }
    }
}
