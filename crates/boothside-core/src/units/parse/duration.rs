//! Durations, and times counted from a start.

use super::UnitError;
use super::number::number;
use super::scale::DURATION;

/// A duration in seconds, not negative: `90s 15min 2h 1h30min`; 0 may stand bare.
///
/// # Errors
/// [`UnitError`] naming what was given and what is accepted.
pub fn parse_duration_s(text: &str) -> Result<f64, UnitError> {
    match number(text, DURATION.accepted)? {
        (value, "") if value.abs() <= 0.0 => Ok(0.0),
        _ => DURATION.parse_sum(text),
    }
}

/// As [`parse_duration_s`]; a bare number is in minutes.
///
/// # Errors
/// As [`parse_duration_s`].
pub fn parse_duration_s_or_minutes(text: &str) -> Result<f64, UnitError> {
    match number(text, DURATION.accepted)? {
        (_, "") => DURATION.parse_or(text, "min"),
        _ => DURATION.parse_sum(text),
    }
}
