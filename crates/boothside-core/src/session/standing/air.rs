//! The air by the last reading, against the sheet of the layer in work.

use std::fmt;

use crate::material::sheet::Limits;
use crate::physics::air::{STANDARD_PRESSURE, dew_point, pressure_at_height, wet_bulb};
use crate::session::Session;
use crate::session::event::Reading;
use crate::session::state::{State, Taken};
use crate::session::time::Moment;
use crate::session::watch::Watch;
use crate::units::{Humidity, Length, Pressure, Temperature};

use super::gate::STALE;
use super::trend::{
    MarginRule, MarginTrend, is_rising, margin_k, margin_over_k, margin_rule, trend,
};

/// A reading outside the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OutOfLimits {
    /// Air or surface colder than the sheet allows, °C.
    TooCold {
        /// The sheet's limit.
        limit_c: f64,
        /// What was read.
        read_c: f64,
    },
    /// Air or surface warmer than the sheet allows, °C.
    TooWarm {
        /// The sheet's limit.
        limit_c: f64,
        /// What was read.
        read_c: f64,
    },
    /// Air drier than the sheet allows, %.
    TooDry {
        /// The sheet's limit.
        limit_pct: f64,
        /// What was read.
        read_pct: f64,
    },
    /// Air more humid than the sheet allows, %.
    TooHumid {
        /// The sheet's limit.
        limit_pct: f64,
        /// What was read.
        read_pct: f64,
    },
    /// The surface is too near to the dew point, K.
    NearDewPoint {
        /// The least margin.
        wanted_k: f64,
        /// The margin; below 0 water condenses on the part.
        margin_k: f64,
    },
    /// The mixed paint is colder than the sheet allows, °C.
    PaintTooCold {
        /// The sheet's limit.
        limit_c: f64,
        /// What was read.
        read_c: f64,
    },
    /// The mixed paint is warmer than the sheet allows, °C.
    PaintTooWarm {
        /// The sheet's limit.
        limit_c: f64,
        /// What was read.
        read_c: f64,
    },
}

impl OutOfLimits {
    /// Which limit it passes.
    #[must_use]
    pub const fn limit(&self) -> AirLimit {
        match self {
            Self::TooCold { .. } => AirLimit::Cold,
            Self::TooWarm { .. } => AirLimit::Warm,
            Self::TooDry { .. } => AirLimit::Dry,
            Self::TooHumid { .. } => AirLimit::Humid,
            Self::NearDewPoint { .. } => AirLimit::DewPoint,
            Self::PaintTooCold { .. } => AirLimit::PaintCold,
            Self::PaintTooWarm { .. } => AirLimit::PaintWarm,
        }
    }
}

/// A limit of the air, the part or the paint. Its text form is what the log keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AirLimit {
    /// Coldest air and surface.
    Cold,
    /// Warmest air and surface.
    Warm,
    /// Lowest humidity.
    Dry,
    /// Highest humidity.
    Humid,
    /// Least margin over the dew point.
    DewPoint,
    /// The same before a coat begun now has dulled, by the margin's trend.
    DewTrend,
    /// Coldest paint.
    PaintCold,
    /// Warmest paint.
    PaintWarm,
}

impl AirLimit {
    /// Every limit.
    pub const ALL: [Self; 8] = [
        Self::Cold,
        Self::Warm,
        Self::Dry,
        Self::Humid,
        Self::DewPoint,
        Self::DewTrend,
        Self::PaintCold,
        Self::PaintWarm,
    ];

    /// The limit with this text form.
    #[must_use]
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|limit| limit.key() == key)
    }

    const fn key(self) -> &'static str {
        match self {
            Self::Cold => "air-cold",
            Self::Warm => "air-warm",
            Self::Dry => "air-dry",
            Self::Humid => "air-humid",
            Self::DewPoint => "dew-margin",
            Self::DewTrend => "dew-trend",
            Self::PaintCold => "paint-cold",
            Self::PaintWarm => "paint-warm",
        }
    }
}

impl fmt::Display for AirLimit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.key())
    }
}

/// The air by the last reading.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct AirNow {
    /// The figures, each as last read or carried.
    pub reading: Option<Reading>,
    /// When the last reading was taken.
    pub taken: Option<Moment>,
    /// Whether it asks for the next.
    pub stale: bool,
    /// The warmest place of the surface, where the last reading tells it apart, °C.
    pub warmest_c: Option<f64>,
    /// The mixed paint, read since the pot in use was mixed, or carried from there, °C.
    pub paint_c: Option<f64>,
    /// Dew point, °C; nothing where it cannot be told.
    pub dew_point_c: Option<f64>,
    /// Wet bulb, °C.
    pub wet_bulb_c: Option<f64>,
    /// Coldest surface (else air) over dew point, K.
    pub margin_k: Option<f64>,
    /// Where the dew point lies below the range of its formula: the margin is more than this, K.
    pub margin_over_k: Option<f64>,
    /// Whether the margin is over a surface that was read, not the air's temperature.
    pub margin_of_surface: bool,
    /// Which rule says how much margin is enough, and how much.
    pub margin_rule: MarginRule,
    /// Whether the margin is not lower than at the reading before; nothing with one reading alone.
    pub margin_rising: Option<bool>,
    /// Where the margin is going; nothing unless two readings lie far enough apart.
    pub margin_trend: Option<MarginTrend>,
    /// What lies outside the sheet.
    pub out_of_limits: Vec<OutOfLimits>,
}

/// The air of `session` at the moment of `watch`, against the layer in work.
#[must_use]
pub fn air_now(session: &Session, watch: &Watch) -> AirNow {
    let state = session.state();
    let layer = state.layer_in_work().unwrap_or_else(|| state.layer_count());
    air_for(state, layer, watch)
}

/// The air against the sheet of `layer`.
pub(super) fn air_for(state: &State, layer: u32, watch: &Watch) -> AirNow {
    let limits = state.sheet(layer).map(|sheet| sheet.limits).unwrap_or_default();
    let margin_rule = margin_rule(state, &limits);
    let (Some(reading), Some(last)) = (state.readings.air(), state.readings.last()) else {
        return AirNow { margin_rule, ..AirNow::default() };
    };
    let mut now = AirNow {
        reading: Some(reading),
        taken: Some(last.at),
        stale: watch.reached(last.at.plus(STALE)),
        warmest_c: last.reading.surface_warmest_c,
        paint_c: paint_c(state, layer, &reading),
        dew_point_c: dew_point_c(&reading),
        wet_bulb_c: wet_bulb_c(&reading, pressure(state)),
        margin_k: margin_k(&reading),
        margin_over_k: margin_over_k(&reading),
        margin_of_surface: reading.surface_c.is_some(),
        margin_rule,
        margin_rising: is_rising(&state.readings),
        margin_trend: trend(&state.readings, margin_rule),
        out_of_limits: Vec::new(),
    };
    now.out_of_limits = out_of_limits(&now, &reading, &limits);
    now
}

/// The paint's temperature, where it was read in the pot in use: another pot's says nothing of it.
fn paint_c(state: &State, layer: u32, reading: &Reading) -> Option<f64> {
    let mixed = state.pot_in_use(layer)?.mixed;
    let of_this_pot = |taken: &Taken| taken.at >= mixed && taken.reading.pot_c.is_some();
    reading.pot_c.filter(|_| state.readings.iter().any(of_this_pot))
}

/// Dew point of a reading, °C.
pub(crate) fn dew_point_c(reading: &Reading) -> Option<f64> {
    let (air, humidity) = air_and_humidity(reading)?;
    dew_point(air, humidity).ok().flatten().map(Temperature::celsius)
}

fn wet_bulb_c(reading: &Reading, pressure: Pressure) -> Option<f64> {
    let (air, humidity) = air_and_humidity(reading)?;
    wet_bulb(air, humidity, pressure).ok().map(Temperature::celsius)
}

pub(super) fn air_and_humidity(reading: &Reading) -> Option<(Temperature, Humidity)> {
    let air = Temperature::from_celsius(reading.air_c?);
    Some((air, Humidity::from_percent(reading.humidity_pct?)))
}

/// Air pressure at the shop's height, else at sea level.
fn pressure(state: &State) -> Pressure {
    let height = state.work.shop.height_m.map(Length::from_m);
    height.and_then(|height| pressure_at_height(height).ok()).unwrap_or(STANDARD_PRESSURE)
}

/// What rounding leaves between two figures that were typed alike in other units.
const HAIR: f64 = 1e-6;

/// Whether a figure is less than another by more than rounding.
pub(crate) fn is_less(one: f64, other: f64) -> bool {
    one < other - HAIR
}

fn out_of_limits(now: &AirNow, reading: &Reading, limits: &Limits) -> Vec<OutOfLimits> {
    let temperatures = [reading.air_c, reading.surface_c, reading.surface_warmest_c];
    let read = || temperatures.into_iter().flatten();
    let coldest = read().min_by(f64::total_cmp).zip(limits.min_c);
    let warmest = read().max_by(f64::total_cmp).zip(limits.max_c);
    let dry = reading.humidity_pct.zip(limits.min_pct);
    let humid = reading.humidity_pct.zip(limits.max_pct);
    let wanted_k = now.margin_rule.wanted_k();
    let outside = [
        coldest
            .filter(|(read_c, limit_c)| is_less(*read_c, *limit_c))
            .map(|(read_c, limit_c)| OutOfLimits::TooCold { limit_c, read_c }),
        warmest
            .filter(|(read_c, limit_c)| is_less(*limit_c, *read_c))
            .map(|(read_c, limit_c)| OutOfLimits::TooWarm { limit_c, read_c }),
        dry.filter(|(read_pct, limit_pct)| is_less(*read_pct, *limit_pct))
            .map(|(read_pct, limit_pct)| OutOfLimits::TooDry { limit_pct, read_pct }),
        humid
            .filter(|(read_pct, limit_pct)| is_less(*limit_pct, *read_pct))
            .map(|(read_pct, limit_pct)| OutOfLimits::TooHumid { limit_pct, read_pct }),
        now.margin_k
            .filter(|margin_k| is_less(*margin_k, wanted_k))
            .map(|margin_k| OutOfLimits::NearDewPoint { wanted_k, margin_k }),
        now.paint_c
            .zip(limits.paint_min_c)
            .filter(|(read_c, limit_c)| is_less(*read_c, *limit_c))
            .map(|(read_c, limit_c)| OutOfLimits::PaintTooCold { limit_c, read_c }),
        now.paint_c
            .zip(limits.paint_max_c)
            .filter(|(read_c, limit_c)| is_less(*limit_c, *read_c))
            .map(|(read_c, limit_c)| OutOfLimits::PaintTooWarm { limit_c, read_c }),
    ];
    outside.into_iter().flatten().collect()
}
