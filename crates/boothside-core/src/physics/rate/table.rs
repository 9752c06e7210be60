//! The law `table`: the sheet's own durations at several temperatures.

use super::{RateError, real_celsius, real_duration};
use crate::units::Temperature;

/// Durations at temperatures: `ln D` is linear in T between them, and the nearer end is held
/// outside ([`Table::is_outside`] tells, so that the screen can say so).
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// (°C, seconds), rising temperature, at least two.
    points: Vec<(f64, f64)>,
}

impl Table {
    /// A table from two or more pairs of a temperature and a duration in seconds, in any order.
    ///
    /// # Errors
    /// Fewer than two pairs, a temperature given twice, or a duration that is not above zero.
    pub fn new(pairs: Vec<(Temperature, f64)>) -> Result<Self, RateError> {
        if pairs.len() < 2 {
            return Err(RateError::TableTooShort(pairs.len()));
        }
        let mut points = pairs
            .into_iter()
            .map(|(t, d)| Ok((real_celsius(t.celsius())?, real_duration(d)?)))
            .collect::<Result<Vec<_>, RateError>>()?;
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        match points.windows(2).find(|pair| matches!(pair, [a, b] if a.0 >= b.0)) {
            Some(pair) => Err(RateError::TableTwice(pair.first().map_or(0.0, |point| point.0))),
            None => Ok(Self { points }),
        }
    }

    /// The sheet's pairs (temperature, seconds), coldest first.
    pub fn pairs(&self) -> impl Iterator<Item = (Temperature, f64)> + '_ {
        self.points.iter().map(|(t, seconds)| (Temperature::from_celsius(*t), *seconds))
    }

    /// The duration at a temperature, s.
    #[must_use]
    pub fn duration_s(&self, temperature: Temperature) -> f64 {
        let celsius = temperature.celsius();
        let after = self.points.partition_point(|point| point.0 <= celsius);
        let before = after.checked_sub(1).and_then(|index| self.points.get(index));
        match (before, self.points.get(after)) {
            (Some((t0, d0)), Some((t1, d1))) => d0 * (d1 / d0).powf((celsius - t0) / (t1 - t0)),
            (Some((_, end)), None) | (None, Some((_, end))) => *end,
            (None, None) => 1.0,
        }
    }

    /// Whether a temperature lies outside the sheet's own, where its nearer end is held.
    #[must_use]
    pub fn is_outside(&self, temperature: Temperature) -> bool {
        let celsius = temperature.celsius();
        self.points.first().is_none_or(|point| celsius < point.0)
            || self.points.last().is_none_or(|point| celsius > point.0)
    }

    pub(super) fn kinks(&self) -> impl Iterator<Item = f64> + '_ {
        self.points.iter().map(|point| point.0)
    }
}
