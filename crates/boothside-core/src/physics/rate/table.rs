//! The law `table`: the sheet's own durations at several temperatures.

use super::rules::End;
use super::{RateError, real_celsius, real_duration};
use crate::units::Temperature;

/// Keeps every duration finite and above zero for any temperature that a reading may carry.
const MAX_EXPONENT: f64 = 300.0;

/// Durations at temperatures: `ln D` is linear in T between them. Outside, the unsafe end is carried
/// on with the slope of its two nearest rows and the other is held ([`Outside`] tells which).
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// (°C, seconds), rising temperature, at least two.
    points: Vec<(f64, f64)>,
}

/// How a temperature outside a table's own is met.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outside {
    /// The table is carried on beyond its end.
    CarriedOn,
    /// The end is held.
    Held,
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

    /// A table of the same shape for another duration: `duration_s` at a temperature. One beyond the
    /// table's own ends counts as for what must wait, which gives the shorter times here.
    ///
    /// # Errors
    /// [`RateError`] for a duration that is not above zero, or so far off that no row is a number.
    pub fn shaped_to(&self, duration_s: f64, at: Temperature) -> Result<Self, RateError> {
        let share = real_duration(duration_s)? / self.duration_s(at, Some(End::Cold));
        Self::new(self.pairs().map(|(t, seconds)| (t, seconds * share)).collect())
    }

    /// The duration at a temperature, s; beyond `carried` the table's trend goes on, never shorter
    /// than its coldest row, never longer than its hottest.
    pub(super) fn duration_s(&self, temperature: Temperature, carried: Option<End>) -> f64 {
        let celsius = temperature.celsius();
        let after = self.points.partition_point(|point| point.0 <= celsius);
        let before = after.checked_sub(1).and_then(|index| self.points.get(index));
        match (before, self.points.get(after)) {
            (Some(a), Some(b)) => on_line(*a, *b, celsius),
            (Some((_, end)), None) => {
                self.trend(End::Hot, carried, celsius).map_or(*end, |duration| duration.min(*end))
            }
            (None, Some((_, end))) => {
                self.trend(End::Cold, carried, celsius).map_or(*end, |duration| duration.max(*end))
            }
            (None, None) => 1.0,
        }
    }

    /// What the two rows nearest to `end` say of a temperature beyond it, where it is carried on.
    fn trend(&self, end: End, carried: Option<End>, celsius: f64) -> Option<f64> {
        if carried != Some(end) {
            return None;
        }
        match (end, self.points.as_slice()) {
            (End::Cold, [a, b, ..]) | (End::Hot, [.., a, b]) => Some(on_line(*a, *b, celsius)),
            _ => None,
        }
    }

    /// How a temperature is met that lies outside the sheet's own; nothing for one inside.
    pub(super) fn outside(
        &self,
        temperature: Temperature,
        carried: Option<End>,
    ) -> Option<Outside> {
        let celsius = temperature.celsius();
        let end = match (self.points.first(), self.points.last()) {
            (Some(first), _) if celsius < first.0 => End::Cold,
            (_, Some(last)) if celsius > last.0 => End::Hot,
            _ => return None,
        };
        Some(if carried == Some(end) { Outside::CarriedOn } else { Outside::Held })
    }

    pub(super) fn kinks(&self) -> impl Iterator<Item = f64> + '_ {
        self.points.iter().map(|point| point.0)
    }
}

/// The duration on the straight line of `ln D` through two rows.
fn on_line((t0, d0): (f64, f64), (t1, d1): (f64, f64), celsius: f64) -> f64 {
    let exponent = (d1 / d0).ln() * (celsius - t0) / (t1 - t0);
    d0 * exponent.clamp(-MAX_EXPONENT, MAX_EXPONENT).exp()
}
