//! How far the surface is above the dew point, by which rule that is enough, and where it is going.

use crate::material::sheet::Limits;
use crate::physics::air::{self, MIN_TEMPERATURE, USUAL_MARGIN, margin_trend};
use crate::session::Session;
use crate::session::clocks::{Dues, Kind, Start};
use crate::session::event::Reading;
use crate::session::pace::usual_time;
use crate::session::readings::Readings;
use crate::session::state::State;
use crate::session::time::{Moment, Span};
use crate::units::TemperatureDelta;

use super::air::{air_and_humidity, air_for, dew_point_c};
use crate::session::watch::Watch;

/// A trend is drawn through the readings of so long before the last one: MIL-HDBK-1110 9.6.6 wants
/// one about every 4 h.
const TREND_SPAN: Span = Span::from_hours(4);
/// … and through so many of them at most.
const TREND_MOST: usize = 6;
/// What one margin is good to, K: an air, a humidity and a surface reading of the shop's kind
/// together. Common practice, no source.
const READING_ERROR_K: f64 = 0.5;
/// 5 °F, the margin of MIL-HDBK-1110 9.6.6, K.
const FIVE_FAHRENHEIT_K: f64 = 5.0 / 1.8;

/// Which rule says how much margin over the dew point is enough.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum MarginRule {
    /// The sheet's own, K.
    Sheet(f64),
    /// The shop's own, K.
    Shop(f64),
    #[default]
    /// Neither says: 3 °C (ISO 8502-4, from memory).
    Usual,
}

impl MarginRule {
    /// The least margin, K.
    #[must_use]
    pub const fn wanted_k(self) -> f64 {
        match self {
            Self::Sheet(kelvin) | Self::Shop(kelvin) => kelvin,
            Self::Usual => USUAL_MARGIN.kelvin(),
        }
    }

    /// What the other usual rule wants, MIL-HDBK-1110 9.6.6: 5 °F (2.78 K), and rising.
    #[must_use]
    pub const fn other_usual_k() -> f64 {
        FIVE_FAHRENHEIT_K
    }
}

/// Where the margin is going, by a straight line through the last readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MarginTrend {
    /// How fast it changes, K an hour.
    pub per_hour_k: f64,
    /// When it falls through the rule's limit and how far off that may be either way.
    pub breaks: Option<(Moment, Span)>,
}

pub(super) fn margin_rule(state: &State, limits: &Limits) -> MarginRule {
    match (limits.dew_margin_c, state.work.shop.dew_margin_c) {
        (Some(kelvin), _) => MarginRule::Sheet(kelvin),
        (None, Some(kelvin)) => MarginRule::Shop(kelvin),
        (None, None) => MarginRule::Usual,
    }
}

/// Coldest surface, else air, over the dew point, K.
pub(super) fn margin_k(reading: &Reading) -> Option<f64> {
    let surface_c = reading.surface_c.or(reading.air_c)?;
    Some(surface_c - dew_point_c(reading)?)
}

/// Where the dew point lies below the range of its formula, −10 °C: the margin is more than the
/// surface's height above that, K.
pub(super) fn margin_over_k(reading: &Reading) -> Option<f64> {
    let surface_c = reading.surface_c.or(reading.air_c)?;
    let (air, humidity) = air_and_humidity(reading)?;
    let below = matches!(air::dew_point(air, humidity), Ok(None));
    below.then_some(surface_c - MIN_TEMPERATURE.celsius())
}

/// The margins at the last readings, (when, K), oldest first.
fn margins(readings: &Readings) -> Vec<(Moment, f64)> {
    let Some(last) = readings.last() else { return Vec::new() };
    let from = last.at.minus(TREND_SPAN);
    let first = readings.partition_point(|taken| taken.at < from);
    let first = first.max(readings.len().saturating_sub(TREND_MOST));
    let at = |end: usize| {
        let taken = readings.get(end.checked_sub(1)?)?;
        Some((taken.at, margin_k(&readings.air_after(end)?)?))
    };
    (first + 1..=readings.len()).filter_map(at).collect()
}

/// Whether the margin is not lower than at the reading before (MIL-HDBK-1110: 'and rising').
pub(super) fn is_rising(readings: &Readings) -> Option<bool> {
    let margins = margins(readings);
    let [.., (_, before), (_, now)] = margins.as_slice() else { return None };
    let kelvin = TemperatureDelta::from_kelvin;
    Some(air::is_rising(kelvin(*before), kelvin(*now)))
}

/// Where the margin is going.
pub(super) fn trend(readings: &Readings, rule: MarginRule) -> Option<MarginTrend> {
    let kelvin = TemperatureDelta::from_kelvin;
    let margins: Vec<(f64, TemperatureDelta)> =
        margins(readings).into_iter().map(|(at, k)| (at.seconds(), kelvin(k))).collect();
    let trend = margin_trend(&margins, kelvin(rule.wanted_k()), kelvin(READING_ERROR_K))?;
    let breaks = trend.breaks.map(|breaks| {
        let span = Span::from_seconds(breaks.give_or_take_s);
        (Moment::from_seconds_down(breaks.at_s), span)
    });
    Some(MarginTrend { per_hour_k: trend.per_hour.kelvin(), breaks })
}

/// From the beginning of a coat of `layer` on a face until it has dulled, in the air as it is.
#[must_use]
pub fn wet_time(session: &Session, layer: u32, face: usize) -> Option<Span> {
    let state = session.state();
    let gap = &state.sheet(layer)?.between_coats;
    let timing = gap.dulls.as_ref().unwrap_or(&gap.earliest);
    // after the last reading the air is held as it was, so any start does
    let start = state.readings.last().map_or(Moment::OPENING, |taken| taken.at);
    let due = state.due(timing, Kind::Eye, Start::told(start, start), 1.0);
    let dulls = due.moment()?.since(start);
    let usual = usual_time(state, session.plan(), layer, face).time;
    Some(Span::from_ms(dulls.ms().saturating_add(usual.ms())))
}

/// When by its trend the margin over the dew point is gone, and how long a coat of `layer` that is
/// begun on a face now stays wet, where it is gone before that.
#[must_use]
pub fn trend_breaks(
    session: &Session,
    layer: u32,
    face: usize,
    watch: &Watch,
) -> Option<(Moment, Span)> {
    let air = air_for(session.state(), layer, watch);
    // a margin that is under what is wanted already is a limit of its own
    air.margin_k.filter(|margin_k| *margin_k >= air.margin_rule.wanted_k())?;
    let (gone, _) = air.margin_trend?.breaks?;
    let wet = wet_time(session, layer, face)?;
    watch.reached(gone.minus(wet)).then_some((gone, wet))
}
