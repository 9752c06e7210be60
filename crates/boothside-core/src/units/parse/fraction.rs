//! Fractions as a tape and a US sheet print them: `1/2`, `1-1/2`, `2 1/2`, `2½`.

/// What an inch, an hour or a gallon is divided into.
const DIVISORS: [f64; 11] = [2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 32.0, 64.0];

const SIGNS: [(char, f64); 9] = [
    ('½', 1.0 / 2.0),
    ('⅓', 1.0 / 3.0),
    ('⅔', 2.0 / 3.0),
    ('¼', 1.0 / 4.0),
    ('¾', 3.0 / 4.0),
    ('⅛', 1.0 / 8.0),
    ('⅜', 3.0 / 8.0),
    ('⅝', 5.0 / 8.0),
    ('⅞', 7.0 / 8.0),
];

/// A fraction at the start of a text, alone or behind a whole number, and what follows it.
pub(super) fn mixed(text: &str) -> Option<(f64, &str)> {
    if let Some(alone) = proper(text) {
        return Some(alone);
    }
    let (whole, rest) = whole(text)?;
    // one hyphen without blanks, or blanks: '1 - 1/2' is a range
    let behind = rest.strip_prefix('-').unwrap_or_else(|| rest.trim_start_matches(' '));
    let (part, rest) = proper(behind)?;
    Some((whole + part, rest))
}

/// `1/2` or `½`. What is no division of a shop's is none: 75/50 may be °F and % humidity.
fn proper(text: &str) -> Option<(f64, &str)> {
    let sign = |(sign, value): &(char, f64)| text.strip_prefix(*sign).map(|rest| (*value, rest));
    if let Some(found) = SIGNS.iter().find_map(sign) {
        return Some(found);
    }
    let (above, rest) = whole(text)?;
    let (below, rest) = whole(rest.strip_prefix('/')?)?;
    let divides = above < below && DIVISORS.iter().any(|it| (it - below).abs() < 0.5);
    divides.then_some((above / below, rest))
}

/// A whole number that is not the beginning of a decimal one.
fn whole(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    (!rest.starts_with('.')).then_some(())?;
    Some((digits.parse().ok()?, rest))
}

/// `text` with every fraction as a decimal number.
#[must_use]
pub fn without_fractions(text: &str) -> String {
    let (mut plain, mut rest) = (String::new(), text);
    while let Some(letter) = rest.chars().next() {
        let inside = plain.ends_with(|c: char| c.is_ascii_digit() || c == '.');
        let read = if inside { None } else { mixed(rest) };
        let (end, decimal) = match read {
            Some((value, behind)) => (rest.len() - behind.len(), value.to_string()),
            None => (letter.len_utf8(), letter.to_string()),
        };
        plain.push_str(&decimal);
        rest = rest.get(end..).unwrap_or_default();
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_stand_anywhere_in_a_text() {
        for (text, plain) in [
            ("1-1/2 h", "1.5 h"),
            ("2 1/2 hr at 75F", "2.5 hr at 75F"),
            ("1/2-1h", "0.5-1h"),
            ("1-1/2-2h", "1.5-2h"),
            ("2½h", "2.5h"),
            ("4h at 75/50%", "4h at 75/50%"),
            ("1 - 1/2 h", "1 - 0.5 h"),
            ("6/2025", "6/2025"),
            ("1.1/2", "1.1/2"),
            ("12/2 µm", "12/2 µm"),
        ] {
            assert_eq!(without_fractions(text), plain);
        }
    }
}
