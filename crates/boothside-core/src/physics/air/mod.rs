//! The air of the shop: vapour, dew point, wet bulb, surface margin, pressure at a height.
//!
//! Humidity is relative humidity over liquid water everywhere, also below 0 °C, as hygrometers
//! report it. Every function refuses input outside its formula's range.

mod margin;
mod pressure;
mod vapour;
mod wet_bulb;

pub use margin::{
    Break, MIN_TREND_SPAN_S, MarginTrend, USUAL_MARGIN, is_rising, margin_trend, surface_margin,
};
pub use pressure::{STANDARD_PRESSURE, pressure_at_height};
pub use vapour::{
    MAX_TEMPERATURE, MIN_TEMPERATURE, dew_point, humidity_ratio, saturation_pressure,
    vapour_pressure,
};
pub use wet_bulb::wet_bulb;
pub(super) use {vapour::saturation_pa, wet_bulb::wet_bulb_c};

use crate::units::show::plain;
use crate::units::{Humidity, Pressure, Temperature};

/// Why a figure of the air was refused.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum AirError {
    /// The temperature lies outside the range of the vapour pressure formula, or is no number.
    #[error(
        "{} °C ({} °F) is outside the vapour pressure formula; accepted: −10 to 60 °C (14 to 140 °F)",
        plain(*.0),
        plain(*.0 * 1.8 + 32.0)
    )]
    Temperature(f64),
    /// The humidity is no number above 0 and up to 100 %.
    #[error("humidity {} % is not above 0 and up to 100 %", plain(*.0))]
    Humidity(f64),
    /// The air pressure is not one at which people work.
    #[error("an air pressure of {} kPa is outside 22 to 120 kPa", plain(*.0 / 1000.0))]
    Pressure(f64),
    /// The height lies outside the troposphere of the standard atmosphere.
    #[error(
        "a height of {} m ({} ft) is outside the standard atmosphere used; \
         accepted: −500 to 11,000 m (−1,640 to 36,089 ft)",
        plain(*.0),
        plain(*.0 / 0.3048)
    )]
    Height(f64),
    /// The wet bulb would lie below the range of the vapour pressure formula.
    #[error("the wet bulb of this air lies below −10 °C, under the range of the formula")]
    WetBulbBelowRange,
}

/// The temperature in °C, within the range of the vapour pressure formula.
fn ranged(temperature: Temperature) -> Result<f64, AirError> {
    let celsius = temperature.celsius();
    let range = MIN_TEMPERATURE.celsius()..=MAX_TEMPERATURE.celsius();
    if range.contains(&celsius) { Ok(celsius) } else { Err(AirError::Temperature(celsius)) }
}

/// The humidity as a fraction above 0 and up to 1.
fn fraction(humidity: Humidity) -> Result<f64, AirError> {
    let percent = humidity.percent();
    if percent > 0.0 && percent <= 100.0 {
        Ok(percent / 100.0)
    } else {
        Err(AirError::Humidity(percent))
    }
}

/// The air pressure in Pa, within 22–120 kPa (above the boiling point of water at 60 °C).
fn plausible(pressure: Pressure) -> Result<f64, AirError> {
    let pa = pressure.pa();
    if (22_000.0..=120_000.0).contains(&pa) { Ok(pa) } else { Err(AirError::Pressure(pa)) }
}
