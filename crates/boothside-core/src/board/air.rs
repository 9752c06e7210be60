//! The air by the last reading, against the sheet of the layer in work.

use crate::material::sheet::Limits;
use crate::physics::air::{STANDARD_PRESSURE, dew_point, wet_bulb};
use crate::session::Session;
use crate::session::clocks::air_at;
use crate::session::event::Reading;
use crate::session::standing::STALE;
use crate::session::time::Moment;
use crate::session::watch::Watch;
use crate::units::{Humidity, Temperature};

/// Least margin of a surface over the dew point where neither sheet nor shop says otherwise, K.
/// ISO 8502-4, from memory.
const DEW_MARGIN_K: f64 = 3.0;

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
    /// Dew point, °C; nothing where it cannot be told.
    pub dew_point_c: Option<f64>,
    /// Wet bulb, °C.
    pub wet_bulb_c: Option<f64>,
    /// Coldest surface (else air) over dew point, K.
    pub margin_k: Option<f64>,
    /// Whether the margin is over a surface that was read, not the air's temperature.
    pub margin_of_surface: bool,
    /// What lies outside the sheet.
    pub out_of_limits: Vec<OutOfLimits>,
}

/// The air of `session` at the moment of `watch`.
#[must_use]
pub fn air_now(session: &Session, watch: &Watch) -> AirNow {
    let state = session.state();
    let (Some(reading), Some(last)) = (air_at(&state.readings), state.readings.last()) else {
        return AirNow::default();
    };
    let mut now = AirNow {
        reading: Some(reading),
        taken: Some(last.at),
        stale: watch.reached(last.at.plus(STALE)),
        margin_of_surface: reading.surface_c.is_some(),
        ..AirNow::default()
    };
    if let (Some(air_c), Some(humidity_pct)) = (reading.air_c, reading.humidity_pct) {
        let air = Temperature::from_celsius(air_c);
        let humidity = Humidity::from_percent(humidity_pct);
        now.dew_point_c = dew_point(air, humidity).ok().flatten().map(Temperature::celsius);
        let bulb = wet_bulb(air, humidity, STANDARD_PRESSURE);
        now.wet_bulb_c = bulb.ok().map(Temperature::celsius);
    }
    let surface_c = reading.surface_c.or(reading.air_c);
    now.margin_k = surface_c.zip(now.dew_point_c).map(|(surface, dew)| surface - dew);
    let layer = state.layer_in_work().unwrap_or_else(|| state.layer_count());
    let limits = state.sheet(layer).map(|sheet| sheet.limits).unwrap_or_default();
    now.out_of_limits = out_of_limits(&now, &reading, &limits);
    now
}

fn out_of_limits(now: &AirNow, reading: &Reading, limits: &Limits) -> Vec<OutOfLimits> {
    let temperatures = [reading.air_c, reading.surface_c, reading.surface_warmest_c];
    let read = || temperatures.into_iter().flatten();
    let coldest = read().min_by(f64::total_cmp).zip(limits.min_c);
    let warmest = read().max_by(f64::total_cmp).zip(limits.max_c);
    let humid = reading.humidity_pct.zip(limits.max_pct);
    let wanted_k = limits.dew_margin_c.unwrap_or(DEW_MARGIN_K);
    let outside = [
        coldest
            .filter(|(read_c, limit_c)| read_c < limit_c)
            .map(|(read_c, limit_c)| OutOfLimits::TooCold { limit_c, read_c }),
        warmest
            .filter(|(read_c, limit_c)| read_c > limit_c)
            .map(|(read_c, limit_c)| OutOfLimits::TooWarm { limit_c, read_c }),
        humid
            .filter(|(read_pct, limit_pct)| read_pct > limit_pct)
            .map(|(read_pct, limit_pct)| OutOfLimits::TooHumid { limit_pct, read_pct }),
        now.margin_k
            .filter(|margin_k| *margin_k < wanted_k)
            .map(|margin_k| OutOfLimits::NearDewPoint { wanted_k, margin_k }),
    ];
    outside.into_iter().flatten().collect()
}
