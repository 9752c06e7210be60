//! What was typed, as what the file holds; or, in words, why not.

use boothside_core::material::timing::said;
use boothside_core::units::parse::{UnitError, parse_duration_s, parse_plain, parse_volume};
use serde_json::Value;

use super::quantity::{self, tidy};
use super::{Around, Takes};

/// The longest text of a field that takes words.
const LONGEST: usize = 200;

impl Takes {
    /// Reads `text`, which is not empty, at `path` of the form.
    ///
    /// # Errors
    /// What was given and what is accepted, in words.
    pub fn read(self, text: &str, path: &str, around: &Around<'_>) -> Result<Value, String> {
        let text = text.trim();
        if self.is_picked() {
            return self.picked(text, path, around);
        }
        if let Some(quantity) = quantity::of(self) {
            let text = self.completed(text, around.us);
            return (quantity.read)(&text).map(number).map_err(|error| words(&error));
        }
        match self {
            Self::Timing => {
                let timing = said::read(text, around.us).map_err(|why| why.to_string())?;
                serde_json::to_value(timing).map_err(|why| why.to_string())
            }
            Self::Span => parse_duration_s(text).map(number).map_err(|error| words(&error)),
            Self::Volumes => volumes(&self.with_units(text, around.us)),
            Self::Number => parse_plain(text).map(number).map_err(|error| words(&error)),
            Self::Count => text
                .parse::<u32>()
                .map(Value::from)
                .map_err(|_| format!("'{text}' was given; accepted: a whole number such as 2")),
            Self::Parts => parts(text, path, around),
            Self::Date => date(text, around.us),
            _ if text.chars().count() > LONGEST => {
                Err(format!("it has more than {LONGEST} characters"))
            }
            _ => Ok(text.into()),
        }
    }

    pub(super) fn with_units(self, text: &str, us: bool) -> String {
        let each = text.split([',', ';']).map(str::trim).filter(|one| !one.is_empty());
        let volume = |one: &str| Self::Volume.completed(one, us);
        match self {
            Self::Volumes => each.map(volume).collect::<Vec<_>>().join(", "),
            _ => text.to_owned(),
        }
    }
}

fn number(value: f64) -> Value {
    tidy(value).into()
}

fn words(error: &UnitError) -> String {
    error.to_string()
}

fn volumes(text: &str) -> Result<Value, String> {
    let each = text.split(',').map(str::trim).filter(|one| !one.is_empty());
    let read = |one: &str| parse_volume(one).map(|it| number(it.ml()));
    each.map(read).collect::<Result<Vec<_>, _>>().map(Value::Array).map_err(|error| words(&error))
}

/// Parts in a ratio, or with `%` that share of all components that are no reducer.
fn parts(text: &str, path: &str, around: &Around<'_>) -> Result<Value, String> {
    let Some(percent) = text.strip_suffix('%') else {
        return parse_plain(text).map(number).map_err(|error| words(&error));
    };
    let percent = parse_plain(percent).map_err(|error| words(&error))?;
    let (list, _) = path.rsplit_once('[').unwrap_or((path, ""));
    let rows = 0..around.draft.rows(list);
    let text = |row: usize, key: &str| around.draft.text(&format!("{list}[{row}].{key}"));
    let others = rows.filter(|row| text(*row, "role") != "reducer");
    let each: Vec<f64> =
        others.filter_map(|row| parse_plain(text(row, "parts").trim()).ok()).collect();
    if each.is_empty() {
        return Err(format!("{percent} % of what: the parts before it are not filled in"));
    }
    Ok(number(each.iter().sum::<f64>() * percent / 100.0))
}

/// A date in figures, or with the month in letters as cans and sheets print it.
fn date(text: &str, us: bool) -> Result<Value, String> {
    if text.contains('/') {
        return with_strokes(text, us).map(Value::from);
    }
    let plain = text.replace([',', '.'], " ").split_whitespace().collect::<Vec<_>>().join(" ");
    let month = chrono::NaiveDate::parse_from_str(&format!("1 {plain}"), "%d %B %Y");
    if let Ok(month) = month {
        return Ok(month.format("%Y-%m").to_string().into());
    }
    let days = ["%B %d %Y", "%d %B %Y"];
    let day = days.iter().find_map(|form| chrono::NaiveDate::parse_from_str(&plain, form).ok());
    match day {
        Some(day) => Ok(day.format("%Y-%m-%d").to_string().into()),
        None => date_in_figures(text),
    }
}

/// `06/2025` and `2/25` are a month and its year; of three figures a US shop has the month first, and another
/// one must say which it is where both could be.
fn with_strokes(text: &str, us: bool) -> Result<String, String> {
    let figures: Vec<&str> = text.split('/').map(str::trim).collect();
    let year = |text: &str| match (text.len(), text.parse::<i32>()) {
        (2, Ok(year)) => Some(2000 + year),
        (4, Ok(year)) => Some(year),
        _ => None,
    };
    let small = |text: &str| text.parse::<u32>().ok().filter(|number| (1..=31).contains(number));
    let refused =
        || format!("'{text}' was given; accepted: 2027-03-15, 06/2025, 2025 or March 2027");
    match figures.as_slice() {
        [month, of] => {
            let month = small(month).filter(|month| *month <= 12);
            let (month, year) = month.zip(year(of)).ok_or_else(refused)?;
            Ok(format!("{year:04}-{month:02}"))
        }
        [first, second, of] => {
            let both = small(first).zip(small(second)).zip(year(of));
            let ((first, second), year) = both.ok_or_else(refused)?;
            if !us && first <= 12 && second <= 12 && first != second {
                return Err(format!(
                    "'{text}': which of them is the month? accepted: 15 March 2027"
                ));
            }
            let month_first = us || second > 12;
            let (month, day) = if month_first { (first, second) } else { (second, first) };
            let day = chrono::NaiveDate::from_ymd_opt(year, month, day).ok_or_else(refused)?;
            Ok(day.format("%Y-%m-%d").to_string())
        }
        _ => Err(refused()),
    }
}

fn date_in_figures(text: &str) -> Result<Value, String> {
    let digits = |part: &str, length: usize, most: u32| {
        let fits = part.len() == length && part.bytes().all(|byte| byte.is_ascii_digit());
        fits && part.parse().is_ok_and(|number: u32| (1..=most).contains(&number))
    };
    let parts: Vec<&str> = text.split('-').collect();
    let fits = match parts.as_slice() {
        [year] => digits(year, 4, 9999),
        [year, month] => digits(year, 4, 9999) && digits(month, 2, 12),
        [year, month, day] => {
            digits(year, 4, 9999)
                && digits(month, 2, 12)
                && digits(day, 2, 31)
                && chrono::NaiveDate::parse_from_str(text, "%Y-%m-%d").is_ok()
        }
        _ => false,
    };
    let refused =
        || format!("'{text}' was given; accepted: 2027-03-15, 2027-03, 2027 or March 2027");
    fits.then(|| text.into()).ok_or_else(refused)
}
