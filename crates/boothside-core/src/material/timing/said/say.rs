//! From timing to text.

use super::stated_row;
use crate::material::timing::{LawName, TablePoint, Timing};

/// A timing as it is said, with temperatures in °F where `us`, else in °C; [`super::read`] gives
/// the same timing back from it, its figures to a relative 1e-9. That the end of a window goes by the
/// law of its gap's earliest is not said: without the gap it says nothing.
#[must_use]
pub fn say(timing: &Timing, us: bool) -> String {
    let speaker = Speaker { us };
    let mut clauses = match timing.law {
        LawName::Table => vec![speaker.table(timing)],
        _ => vec![speaker.headline(timing)],
    };
    clauses.extend(timing.doubles_per_c.map(|step| {
        let step = if us { step * 1.8 } else { step };
        format!("halves every {}{}", number(step), speaker.degree())
    }));
    clauses.extend(timing.energy_kj_per_mol.map(|energy| format!("{}kJ/mol", number(energy))));
    clauses.extend((timing.law == LawName::Water).then(|| "as water".to_owned()));
    clauses.extend(timing.floor_c.map(|floor| format!("not below {}", speaker.celsius(floor))));
    clauses.join(", ")
}

#[derive(Clone, Copy)]
struct Speaker {
    us: bool,
}

impl Speaker {
    const fn degree(self) -> &'static str {
        if self.us { "F" } else { "C" }
    }

    fn celsius(self, celsius: f64) -> String {
        let shown = if self.us { celsius * 1.8 + 32.0 } else { celsius };
        format!("{}{}", number(shown), self.degree())
    }

    /// `10min-15min at 24C 50%`.
    fn headline(self, timing: &Timing) -> String {
        let range = match timing.up_to_s {
            Some(up_to_s) => between(timing.duration_s, up_to_s),
            None => duration(timing.duration_s),
        };
        self.with_air(range, timing.at_c, timing.at_pct)
    }

    fn with_air(self, time: String, at_c: Option<f64>, at_pct: Option<f64>) -> String {
        let temperature = at_c.map(|celsius| self.celsius(celsius));
        let humidity = at_pct.map(|percent| format!("{}%", number(percent)));
        let air: Vec<String> = temperature.into_iter().chain(humidity).collect();
        if air.is_empty() { time } else { format!("{time} at {}", air.join(" ")) }
    }

    /// The rows, and before them what is stated where that is none of the rows.
    fn table(self, timing: &Timing) -> String {
        let is_stated = |row: &TablePoint| {
            timing.up_to_s.is_none()
                && near(row.duration_s, timing.duration_s)
                && timing.at_c.is_some_and(|at_c| near(row.at_c, at_c))
        };
        let plainly = stated_row(&timing.table).is_some_and(is_stated);
        let at_pct = timing.at_pct.filter(|_| plainly);
        let row =
            |row: &TablePoint| self.with_air(duration(row.duration_s), Some(row.at_c), at_pct);
        let rows = timing.table.iter().map(row).collect::<Vec<_>>().join(", ");
        if plainly { rows } else { format!("{}: {rows}", self.headline(timing)) }
    }
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-10 * one.abs().max(1.0)
}

/// `10-15min` where both are whole in one unit, else `45min-1h30min`.
fn between(low_s: f64, high_s: f64) -> String {
    let (low, high) = (duration(low_s), duration(high_s));
    let cut = |text: &str| {
        let at = text.find(|c: char| c.is_ascii_alphabetic()).unwrap_or(text.len());
        let (number, unit) = text.split_at(at);
        (number.to_owned(), unit.to_owned())
    };
    let ((number, low_unit), (_, high_unit)) = (cut(&low), cut(&high));
    if low_unit == high_unit && !low_unit.contains(|c: char| c.is_ascii_digit()) {
        format!("{number}-{high}")
    } else {
        format!("{low}-{high}")
    }
}

const DAY_S: f64 = 86_400.0;

/// `15min`, `1h30min`, `36h`, `7d`: whole days from three on, else hours, minutes and seconds.
fn duration(seconds: f64) -> String {
    // the last bits of a product are no fractions of a second
    let micros = (seconds * 1e6).round() / 1e6;
    let seconds = if (micros - seconds).abs() <= 1e-10 * seconds { micros } else { seconds };
    if seconds >= 3.0 * DAY_S && seconds % DAY_S <= 0.0 {
        return format!("{}d", seconds / DAY_S);
    }
    let hours = (seconds / 3600.0).floor();
    let minutes = ((seconds - hours * 3600.0) / 60.0).floor();
    let rest = seconds - hours * 3600.0 - minutes * 60.0;
    let pieces = [(hours, "h"), (minutes, "min"), (rest, "s")];
    let told = pieces.into_iter().filter(|(count, _)| *count > 0.0);
    told.map(|(count, unit)| format!("{count}{unit}")).collect()
}

/// A number without the last bits of a product.
fn number(value: f64) -> String {
    let text = format!("{value:.10}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
