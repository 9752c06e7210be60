//! How far a surface is above the dew point, and where that is going.

use super::{AirError, dew_point};
use crate::units::{Humidity, Temperature, TemperatureDelta};

/// The margin that is enough unless the sheet or the shop says otherwise (ISO 8502-4, from memory).
pub const USUAL_MARGIN: TemperatureDelta = TemperatureDelta::from_kelvin(3.0);

/// Readings nearer to each other than this give no trend, seconds.
pub const MIN_TREND_SPAN_S: f64 = 600.0;

/// Surface temperature less dew point; `None` where the dew point lies below −10 °C (the margin is
/// then more than the surface's height above that).
///
/// # Errors
/// As [`dew_point`].
pub fn surface_margin(
    surface: Temperature,
    air: Temperature,
    humidity: Humidity,
) -> Result<Option<TemperatureDelta>, AirError> {
    Ok(dew_point(air, humidity)?.map(|dew| surface - dew))
}

/// Whether a margin rises: it is not lower than at the reading before.
#[must_use]
pub fn is_rising(before: TemperatureDelta, now: TemperatureDelta) -> bool {
    now >= before
}

/// The straight-line trend of a margin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MarginTrend {
    /// How fast the margin changes, kelvin an hour.
    pub per_hour: TemperatureDelta,
    /// When it falls through the limit, if the trend leads there.
    pub breaks: Option<Break>,
}

/// When a margin is expected to fall through its limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Break {
    /// The time at which the line meets the limit, on the readings' own time axis, s.
    pub at_s: f64,
    /// How far off that may be either way: one standard error of the line there, s.
    pub give_or_take_s: f64,
}

/// The trend of margins read at `(time in s, margin)`, by least squares; `None` unless two of them
/// lie at least [`MIN_TREND_SPAN_S`] apart or where a number is not finite. `reading_error` is
/// what one margin is good to: the ± of the answer never claims more than that.
#[must_use]
pub fn margin_trend(
    readings: &[(f64, TemperatureDelta)],
    limit: TemperatureDelta,
    reading_error: TemperatureDelta,
) -> Option<MarginTrend> {
    let line = Line::fit(readings)?;
    let scatter = line.scatter(readings).max(reading_error.kelvin());
    let last_s = readings.iter().map(|(at, _)| *at).fold(f64::NEG_INFINITY, f64::max);
    Some(MarginTrend {
        per_hour: TemperatureDelta::from_kelvin(line.slope * 3600.0),
        breaks: line.meets(limit.kelvin(), last_s, scatter),
    })
}

/// A least-squares line through `(mean_s, mean)`.
struct Line {
    slope: f64,
    mean_s: f64,
    mean: f64,
    spread: f64,
    count: f64,
}

impl Line {
    fn fit(readings: &[(f64, TemperatureDelta)]) -> Option<Self> {
        let times = || readings.iter().map(|(at, _)| *at);
        let span =
            times().fold(f64::NEG_INFINITY, f64::max) - times().fold(f64::INFINITY, f64::min);
        let finite = readings.iter().all(|(at, m)| at.is_finite() && m.kelvin().is_finite());
        if !finite || readings.len() < 2 || span < MIN_TREND_SPAN_S {
            return None;
        }
        #[expect(clippy::cast_precision_loss, reason = "a handful of readings")]
        let count = readings.len() as f64;
        let mean_s = times().sum::<f64>() / count;
        let mean = readings.iter().map(|(_, m)| m.kelvin()).sum::<f64>() / count;
        let spread: f64 = times().map(|at| (at - mean_s).powi(2)).sum();
        let joint: f64 = readings.iter().map(|(at, m)| (at - mean_s) * (m.kelvin() - mean)).sum();
        Some(Self { slope: joint / spread, mean_s, mean, spread, count })
    }

    /// Standard deviation of the readings about the line, 0 for two of them.
    fn scatter(&self, readings: &[(f64, TemperatureDelta)]) -> f64 {
        let off = |(at, m): &(f64, TemperatureDelta)| {
            (m.kelvin() - self.mean - self.slope * (at - self.mean_s)).powi(2)
        };
        if self.count > 2.0 {
            (readings.iter().map(off).sum::<f64>() / (self.count - 2.0)).sqrt()
        } else {
            0.0
        }
    }

    /// Where the line falls through `limit`, not before the last reading (a margin already
    /// under the limit has broken and needs no forecast).
    fn meets(&self, limit: f64, last_s: f64, scatter: f64) -> Option<Break> {
        let at_s = self.mean_s + (limit - self.mean) / self.slope;
        if self.slope >= 0.0 || !at_s.is_finite() || at_s < last_s {
            return None;
        }
        let error =
            scatter * (1.0 / self.count + (at_s - self.mean_s).powi(2) / self.spread).sqrt();
        Some(Break { at_s, give_or_take_s: error / -self.slope })
    }
}
