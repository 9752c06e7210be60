//! The page that lists what is checked against what, made from the checks themselves.

use crate::support::{Check, Status, Tolerance};
use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::Path;

const HEAD: &str = "\
# What is checked against what

Made from the checks in `tests/published`, and compared with them by a test: each figure, the source
it is held against, how that source is known, how many numbers were compared in how many situations, the worst
error found and the error allowed. To write it anew after a change:

    UPDATE_DOCS=1 cargo test -p boothside-core --test published the_page

A *situation* is one question: what several figures answer for the same air, mix or booth is one, and so is
what differs in nothing but the unit. 'Read' and 'library, run' stand against somebody else's figures; 'computed'
is our own arithmetic by another route, 'memory' shows only that we compute what is remembered, and an invented
case was worked by hand and stands for nothing outside. Tables are in `tests/published/data`, each with its own
header. Ten rows of `arrhenius_histories.csv` (`samples_hold`) cannot be tried: the table does not hold the samples.

";

const REMEMBERED: &str = "\
## From memory

Rules that the program follows, whose source was not read: a surface 3 °C over its dew point is enough
unless the sheet or the shop says otherwise (ISO 8502-4); sheets state their times for 23 °C (ISO 3270); the openings of
sieves by number (ASTM E11); the mean of spot readings (SSPC-PA 2).

";

const WIDER: &str = "\
A wider net is run by hand: `tests/published/random/against.py` asks the built program and the libraries the same
random questions, as many as one likes. It is no part of these counts.

";

fn all() -> Vec<(&'static str, Vec<Check>)> {
    let with = |mut checks: Vec<Check>, more: Vec<Check>| {
        checks.extend(more);
        checks
    };
    vec![
        ("Units", crate::units::checks()),
        ("Air", with(crate::air::checks(), crate::drawn::air())),
        ("Clocks", with(crate::clocks::checks(), crate::drawn::clocks())),
        ("Drying", crate::water::checks()),
        ("Flow cups", crate::cups::checks()),
        ("Mixing and stock", crate::mixing::checks()),
        ("Film, and cases of the trade", crate::practice::checks()),
        ("Booth air", with(crate::booth::checks(), vec![crate::drawn::purges()])),
        ("Emission", crate::emission::checks()),
        ("Weight", crate::weight::checks()),
    ]
}

/// What was compared in a topic.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Counts {
    numbers: usize,
    situations: usize,
    outside: usize,
}

impl Counts {
    /// A situation counts once in its topic, however many figures are asked about it.
    fn of(checks: &[Check]) -> Self {
        let distinct = |checks: &mut dyn Iterator<Item = &Check>| {
            checks.flat_map(|check| &check.situations).collect::<BTreeSet<_>>().len()
        };
        Self {
            numbers: checks.iter().map(|check| check.numbers).sum(),
            situations: distinct(&mut checks.iter()),
            outside: distinct(&mut checks.iter().filter(|check| check.status.is_outside())),
        }
    }

    fn plus(self, other: Self) -> Self {
        Self {
            numbers: self.numbers + other.numbers,
            situations: self.situations + other.situations,
            outside: self.outside + other.outside,
        }
    }
}

fn total() -> Counts {
    all().iter().map(|(_, checks)| Counts::of(checks)).fold(Counts::default(), Counts::plus)
}

/// How much of it there is.
fn summary() -> String {
    let row = |name: &str, counts: Counts| {
        let Counts { numbers, situations, outside } = counts;
        format!("| {name} | {numbers} | {situations} | {outside} |\n")
    };
    let mut text = "## How much\n\n".to_owned();
    text.push_str("| topic | numbers | situations | against something outside |\n");
    text.push_str("| --- | ---: | ---: | ---: |\n");
    for (topic, checks) in all() {
        text.push_str(&row(topic, Counts::of(&checks)));
    }
    text + &row("all", total()) + "\n" + WIDER + REMEMBERED
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
    let mut page = HEAD.to_owned() + &summary();
    for (topic, checks) in all() {
        let _ = writeln!(page, "## {topic}\n");
        page.push_str(
            "| figure | against | known by | numbers | situations | worst error | allowed |\n",
        );
        page.push_str("| --- | --- | --- | ---: | ---: | ---: | ---: |\n");
        for check in checks {
            let (figure, source, status) = (check.figure, check.source, check.status.word());
            let (numbers, situations) = (check.numbers, check.situations.len());
            let (worst, allowed) = (worst(&check), allowed(&check));
            let _ = writeln!(
                page,
                "| {figure} | {source} | {status} | {numbers} | {situations} | {worst} | {allowed} |"
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

/// What the kept page says of all topics together.
fn counted_on_the_page() -> Option<Counts> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/checked.md");
    let page = std::fs::read_to_string(path).ok()?;
    let row = page.lines().find_map(|line| line.strip_prefix("| all | "))?.trim_end_matches(" |");
    let counts: Vec<usize> = row.split(" | ").map(str::parse).collect::<Result<_, _>>().ok()?;
    match counts.as_slice() {
        [numbers, situations, outside] => {
            Some(Counts { numbers: *numbers, situations: *situations, outside: *outside })
        }
        _ => None,
    }
}

#[test]
fn the_counts_on_the_page_are_counted_and_enough() {
    let total = total();
    assert_eq!(counted_on_the_page(), Some(total), "docs/checked.md counts wrongly");
    assert!(total.situations >= 1_500, "{total:?}");
    assert!(total.outside >= 1_000, "{total:?}");
}

#[test]
fn a_situation_counts_once_and_what_is_our_own_is_not_outside() {
    let check = |status| {
        let mut check = Check::new("figure", "source", status, Tolerance::Relative(1.0));
        check.case("20 °C 50 %", 1.0, 1.0);
        check.case("20 °C 50 %", 2.0, 2.0);
        check.case("21 °C 50 %", 2.0, 2.0);
        check
    };
    let two = [check(Status::Library), check(Status::Read)];
    assert_eq!(Counts::of(&two), Counts { numbers: 6, situations: 2, outside: 2 });
    for own in [Status::Computed, Status::Memory, Status::Practice] {
        assert_eq!(Counts::of(&[check(own)]), Counts { numbers: 3, situations: 2, outside: 0 });
    }
    let invented = Counts::of(&[check(Status::Invented)]);
    assert_eq!(invented, Counts { numbers: 3, situations: 1, outside: 0 }, "one case of the trade");
}
