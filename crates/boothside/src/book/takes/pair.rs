//! Two figures typed into one field, as sheets and tapes give them: `20-24s`, `10-20%`, `12 x 14`.

use boothside_core::units::parse::{parse_plain, without_fractions};

use crate::book::spec::Pair;

/// The two figures in `text`, each with its unit: a bare first one has the unit of the second.
#[must_use]
pub fn split(text: &str, pair: Pair) -> Option<(String, String)> {
    let plain = without_fractions(text.trim());
    let plain = plain.replace(['‐', '‑', '‒', '–', '—', '−'], "-").replace('×', "x");
    let (low, high) = match pair {
        Pair::Range(_) => range(&plain)?,
        Pair::Times(_) => plain.split_once(['x', 'X'])?,
    };
    let (low, high) = (low.trim(), high.trim());
    let is_number = |text: &str| text.starts_with(|c: char| c.is_ascii_digit() || ".-".contains(c));
    if !is_number(low) || !is_number(high) {
        return None;
    }
    let number = |c: char| c.is_ascii_digit() || matches!(c, '.' | ' ' | '-');
    let unit = high.trim_start_matches(number);
    let low = if parse_plain(low).is_ok() { format!("{low}{unit}") } else { low.to_owned() };
    Some((low, high.to_owned()))
}

/// The two sides of a hyphen that is no sign, or of 'to'.
fn range(text: &str) -> Option<(&str, &str)> {
    if let Some(sides) = text.split_once(" to ") {
        return Some(sides);
    }
    let signless = text.strip_prefix('-').unwrap_or(text);
    let at = text.len() - signless.len() + signless.find('-')?;
    Some((text.get(..at)?, text.get(at + 1..)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_figures_come_apart_with_their_units() {
        let range = |text| split(text, Pair::Range("x"));
        let both = |low: &str, high: &str| Some((low.to_owned(), high.to_owned()));
        assert_eq!(range("20-24s"), both("20s", "24s"));
        assert_eq!(range("20 – 24 s"), both("20s", "24 s"));
        assert_eq!(range("10-20%"), both("10%", "20%"));
        assert_eq!(range("2.5 to 3 mil"), both("2.5mil", "3 mil"));
        assert_eq!(range("1-1/2-2 mil"), both("1.5mil", "2 mil"));
        assert_eq!(range("60F-90F"), both("60F", "90F"));
        assert_eq!(range("-5-30C"), both("-5C", "30C"));
        assert_eq!(range("60-90"), both("60", "90"));
        assert_eq!(
            (range("-5C"), range("20s"), range("20-"), range("a-b")),
            (None, None, None, None)
        );
        let times = |text| split(text, Pair::Times("x"));
        assert_eq!(times("12 x 14"), both("12", "14"));
        assert_eq!(times("12 × 14 1/2 in"), both("12in", "14.5 in"));
        assert_eq!(times("1.2m"), None);
    }
}
