//! Flow cups against their equations and against published pairs.

use crate::support::{Check, Status, Tolerance, table};
use boothside_core::physics::viscosity::{CUPS, Cup};

const ENDS: &str = "viscosity at both ends of a cup's range";

fn at(cup: &str, seconds: f64) -> f64 {
    let cup = Cup::named(cup).expect("a cup");
    cup.kinematic(seconds).expect("in range").mm2_per_s()
}

/// Equations of one standing, worked again apart from the program: the coefficients are the standard's, the
/// figures at the ends (rounded to three digits or more) are not printed there.
fn ends(status: Status, word: &str, source: &'static str) -> Check {
    let mut check = Check::new(ENDS, source, status, Tolerance::Relative(6e-4));
    for row in table("cup_equations.csv").iter().filter(|row| row.text("status") == word) {
        let cup = Cup::named(row.text("cup")).expect("a cup");
        let range = (row.number("t_min_s"), row.number("t_max_s"));
        assert!(cup.range_s() == range, "{cup:?}");
        for (seconds, column) in [(range.0, "nu_at_tmin"), (range.1, "nu_at_tmax")] {
            let label = format!("{} {seconds} s", cup.name());
            check.case(label, at(cup.name(), seconds), row.number(column));
        }
    }
    check
}

fn pairs() -> Check {
    let mut check = Check::new(
        "viscosity of calibration liquids",
        "table of a viscosity-standards laboratory, 25 °C (nominal, rounded)",
        Status::Read,
        Tolerance::Relative(0.04),
    );
    for row in table("cup_rows.csv") {
        let label = format!("{} {} s", row.text("cup"), row.text("t_s"));
        check.case(label, at(row.text("cup"), row.number("t_s")), row.number("published_nu_mm2s"));
    }
    check
}

fn back() -> Check {
    let mut check = Check::new(
        "seconds of a viscosity",
        "our own inverse",
        Status::Computed,
        Tolerance::Relative(1e-9),
    );
    for cup in CUPS {
        let (from, to) = cup.range_s();
        for step in 0..=20 {
            let seconds = from + (to - from) * f64::from(step) / 20.0;
            let kinematic = cup.kinematic(seconds).expect("in range");
            let got = cup.seconds(kinematic).expect("in range");
            check.case(format!("{} {seconds} s", cup.name()), got, seconds);
        }
    }
    check
}

pub(crate) fn checks() -> Vec<Check> {
    let read = "formulas of ASTM D1200 (Ford 1, 2) and ASTM D4212 (Zahn), read, worked again";
    let memory = "formulas of ISO 2431, DIN 53211 (withdrawn), ASTM D1200 (Ford 3–5), remembered";
    vec![
        ends(Status::Computed, "read", read).expecting(14),
        ends(Status::Memory, "memory", memory).expecting(16),
        pairs().expecting(10),
        back().expecting(15 * 21),
    ]
}

#[test]
fn cups_agree_with_their_sources() {
    checks().iter().for_each(Check::assert_holds);
}
