//! The page that lists what is checked against what, made from the checks themselves.

use crate::support::{Check, Tolerance};
use std::fmt::Write;
use std::path::Path;

const HEAD: &str = "\
# What is checked against what

Made from the checks in `tests/published`, and compared with them by a test: each figure, the source
it is held against, how that source is known, how many cases were tried, the worst error found and the
error allowed. To write it anew after a change:

    UPDATE_DOCS=1 cargo test -p boothside-core --test published the_page

'memory' shows only that we compute what is remembered; an invented case was worked by hand and stands for
nothing outside. Tables are in `tests/published/data`, each with its own header. Ten rows of
`arrhenius_histories.csv` (`samples_hold`) cannot be tried: the table does not hold the samples.

";

fn all() -> Vec<(&'static str, Vec<Check>)> {
    vec![
        ("Units", crate::units::checks()),
        ("Air", crate::air::checks()),
        ("Clocks", crate::clocks::checks()),
        ("Drying", crate::water::checks()),
        ("Flow cups", crate::cups::checks()),
        ("Mixing and stock", crate::mixing::checks()),
        ("Film, and cases of the trade", crate::practice::checks()),
        ("Booth air", crate::booth::checks()),
        ("Emission", crate::emission::checks()),
        ("Weight", crate::weight::checks()),
    ]
}

/// A figure in the unit of its tolerance, and that unit.
fn measured(value: f64, tolerance: Tolerance) -> (f64, &'static str) {
    match tolerance {
        Tolerance::Relative(_) => (value * 100.0, "%"),
        Tolerance::Absolute(_, unit) => (value, unit),
    }
}

/// The worst error with two digits, so that the last bits of another machine's mathematics do
/// not show.
fn worst(check: &Check) -> String {
    let (value, unit) = measured(check.worst, check.tolerance);
    if value < 1e-6 {
        return format!("under 0.000001 {unit}");
    }
    let decimals = (1.0 - value.log10().floor()).max(0.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 7")]
    let decimals = decimals as usize;
    format!("{value:.decimals$} {unit}")
}

fn allowed(check: &Check) -> String {
    let (Tolerance::Relative(limit) | Tolerance::Absolute(limit, _)) = check.tolerance;
    let (value, unit) = measured(limit, check.tolerance);
    let value = format!("{value:.10}");
    format!("{} {unit}", value.trim_end_matches('0').trim_end_matches('.'))
}

fn page() -> String {
    let mut page = HEAD.to_owned();
    for (topic, checks) in all() {
        let _ = writeln!(page, "## {topic}\n");
        page.push_str("| figure | against | known by | cases | worst error | allowed |\n");
        page.push_str("| --- | --- | --- | ---: | ---: | ---: |\n");
        for check in checks {
            let (figure, source, status) = (check.figure, check.source, check.status.word());
            let (cases, worst, allowed) = (check.cases, worst(&check), allowed(&check));
            let _ = writeln!(
                page,
                "| {figure} | {source} | {status} | {cases} | {worst} | {allowed} |"
            );
        }
        page.push('\n');
    }
    page.truncate(page.trim_end().len());
    page.push('\n');
    page
}

#[test]
fn the_page_of_checks_is_what_the_checks_say() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/checked.md");
    let page = page();
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("the folder docs");
        std::fs::write(&path, &page).expect("docs/checked.md is writable");
    }
    let stored = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(stored.replace("\r\n", "\n"), page, "docs/checked.md differs from the checks");
}
