//! The clauses of a said timing.

use super::SaidError;
use crate::material::timing::{
    DOUBLES_C, DURATION_S, ENERGY_KJ_PER_MOL, FLOOR_C, HUMIDITY_PCT, STATED_C,
};
use crate::units::parse::{
    parse_duration_s, parse_energy, parse_humidity, parse_plain, parse_temperature_delta,
    parse_temperature_or,
};
use crate::units::show::plain;

/// A time with the air for which it is stated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stated {
    pub(super) duration_s: f64,
    pub(super) up_to_s: Option<f64>,
    pub(super) at_c: Option<f64>,
    pub(super) at_pct: Option<f64>,
}

/// What one clause says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Clause {
    Stated(Stated),
    /// A humidity behind a comma of its own.
    Humidity(f64),
    DoublesPer(f64),
    Energy(f64),
    Water,
    Floor(f64),
}

/// Reads clauses for one shop.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reader {
    pub(super) us: bool,
}

impl Reader {
    pub(super) fn clause(self, text: &str) -> Result<Clause, SaidError> {
        let small = text.to_ascii_lowercase();
        let after = |words: &[&str]| {
            let found = words.iter().find(|words| small.starts_with(**words))?;
            text.get(found.len()..).map(str::trim)
        };
        if let Some(step) = after(&["halves every", "halves per", "twice as fast every"]) {
            return self.difference(step).map(Clause::DoublesPer);
        }
        if small.starts_with("double") {
            return Err(SaidError::Doubles(text.to_owned()));
        }
        if let Some(floor) = after(&["not below"]) {
            return self.temperature(floor, FLOOR_C).map(Clause::Floor);
        }
        if matches!(small.as_str(), "as water" | "like water" | "water") {
            return Ok(Clause::Water);
        }
        if !small.starts_with(|first: char| first.is_ascii_digit() || "-+.".contains(first)) {
            return Err(SaidError::Unknown(text.to_owned()));
        }
        if small.contains("/mol") || small.contains("per mol") {
            let energy = parse_energy(text)?.kj_per_mol();
            return within(text, energy, ENERGY_KJ_PER_MOL, "kJ/mol").map(Clause::Energy);
        }
        if text.contains('%') && around(text, '@', "at").is_none() {
            return humidity(text).map(Clause::Humidity);
        }
        self.stated(text).map(Clause::Stated)
    }

    /// `10-15min at 24C 50%`.
    pub(super) fn stated(self, text: &str) -> Result<Stated, SaidError> {
        let (time, air) = match around(text, '@', "at") {
            Some((time, air)) => (time, Some(air)),
            None => (text, None),
        };
        let (duration_s, up_to_s) = range(time)?;
        let (at_c, at_pct) = match air {
            Some("") => return Err(SaidError::NoTemperature(text.to_owned())),
            Some(air) => self.air(air)?,
            None => (None, None),
        };
        Ok(Stated { duration_s, up_to_s, at_c, at_pct })
    }

    /// `24C`, `24C 50%`, `50%`.
    fn air(self, text: &str) -> Result<(Option<f64>, Option<f64>), SaidError> {
        let Some(percent) = text.find('%') else {
            return Ok((Some(self.temperature(text, STATED_C)?), None));
        };
        let is_number = |c: char| c.is_ascii_digit() || c == '.' || c == ' ';
        let before = text[..percent].trim_end_matches(is_number);
        // the blank before the number belongs to it: '75 50%' is 75 and 50 %
        let number = text[before.len()..percent].trim();
        let (bare, number) = number.rsplit_once(' ').unwrap_or(("", number));
        let temperature = format!("{before}{bare}");
        let joined = |c: char| c.is_whitespace() || matches!(c, '/' | '&' | '+');
        let temperature = temperature.trim_end_matches(joined);
        let temperature = temperature.strip_suffix("and").unwrap_or(temperature).trim();
        let humidity = humidity(&format!("{number}{}", &text[percent..]))?;
        match temperature {
            "" => Ok((None, Some(humidity))),
            temperature => Ok((Some(self.temperature(temperature, STATED_C)?), Some(humidity))),
        }
    }

    fn temperature(self, text: &str, range: (f64, f64)) -> Result<f64, SaidError> {
        let celsius = parse_temperature_or(text, if self.us { "F" } else { "C" })?.celsius();
        let shown = |c: f64| if self.us { c * 1.8 + 32.0 } else { c };
        self.degrees(text, celsius, range, shown)
    }

    /// A difference of temperatures, °C.
    fn difference(self, text: &str) -> Result<f64, SaidError> {
        let bare = parse_plain(text).is_ok();
        let unit = if self.us { "F" } else { "C" };
        let text = if bare { format!("{text}{unit}") } else { text.to_owned() };
        let kelvin = parse_temperature_delta(&text)?.kelvin();
        let shown = |c: f64| if self.us { c * 1.8 } else { c };
        self.degrees(&text, kelvin, DOUBLES_C, shown)
    }

    fn degrees(
        self,
        text: &str,
        value: f64,
        (low, high): (f64, f64),
        shown: impl Fn(f64) -> f64,
    ) -> Result<f64, SaidError> {
        if (low..=high).contains(&value) {
            return Ok(value);
        }
        let unit = if self.us { "F" } else { "C" };
        let accepted = format!("{}{unit} to {}{unit}", plain(shown(low)), plain(shown(high)));
        Err(SaidError::Outside { given: text.to_owned(), accepted })
    }
}

/// What stands before and after a sign, or after a word between blanks that means the same.
fn around<'a>(text: &'a str, sign: char, word: &str) -> Option<(&'a str, &'a str)> {
    let small = text.to_ascii_lowercase();
    let is_word = |at: usize| {
        let letter = |next: Option<char>| next.is_some_and(char::is_alphabetic);
        !letter(small[..at].chars().next_back()) && !letter(small[at + word.len()..].chars().next())
    };
    let word = small.match_indices(word).find(|(at, _)| is_word(*at));
    let (at, found) = small.match_indices(sign).next().or(word)?;
    Some((text[..at].trim(), text[at + found.len()..].trim()))
}

/// `15min`, `10-15min`, `10min to 15min`.
fn range(text: &str) -> Result<(f64, Option<f64>), SaidError> {
    // a minus sign before it is no range, and refused with the number
    let Some((low, high)) = around(text, '-', "to").filter(|(low, _)| !low.is_empty()) else {
        return Ok((duration(text)?, None));
    };
    let unit = high.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
    let single = !unit.contains(|c: char| c.is_ascii_digit());
    let low = if parse_plain(low).is_ok() && single { format!("{low}{unit}") } else { low.into() };
    let (low_s, high_s) = (duration(&low)?, duration(high)?);
    if high_s < low_s {
        return Err(SaidError::Falls(text.to_owned()));
    }
    Ok((low_s, Some(high_s)))
}

fn duration(text: &str) -> Result<f64, SaidError> {
    let seconds = parse_duration_s(text)?;
    if (DURATION_S.0..=DURATION_S.1).contains(&seconds) {
        return Ok(seconds);
    }
    let accepted = format!("{}s to {}d", plain(DURATION_S.0), plain(DURATION_S.1 / 86_400.0));
    Err(SaidError::Outside { given: text.to_owned(), accepted })
}

/// `50%`, `50% RH`, `50 % relative humidity`.
fn humidity(text: &str) -> Result<f64, SaidError> {
    let (number, words) = text.split_once('%').unwrap_or((text, ""));
    let words = words.trim().to_ascii_lowercase();
    if !matches!(words.as_str(), "" | "rh" | "r.h." | "humidity" | "relative humidity") {
        return Err(SaidError::Unknown(text.to_owned()));
    }
    let percent = parse_humidity(&format!("{number}%"))?.percent();
    within(text, percent, HUMIDITY_PCT, "%")
}

fn within(text: &str, value: f64, (low, high): (f64, f64), unit: &str) -> Result<f64, SaidError> {
    if (low..=high).contains(&value) {
        return Ok(value);
    }
    let accepted = format!("{}{unit} to {}{unit}", plain(low), plain(high));
    Err(SaidError::Outside { given: text.to_owned(), accepted })
}
