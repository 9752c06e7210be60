//! Water vapour: saturation pressure and what follows from it.

use super::{AirError, fraction, plausible, ranged};
use crate::units::{Humidity, Pressure, Temperature};

/// The lowest temperature that the saturation curve is used for.
pub const MIN_TEMPERATURE: Temperature = Temperature::from_celsius(-10.0);
/// The highest temperature that the saturation curve is used for.
pub const MAX_TEMPERATURE: Temperature = Temperature::from_celsius(60.0);

/// Mass of water per mass of dry air at equal partial pressures (ratio of the molar masses).
const MOLAR_RATIO: f64 = 0.621_945;

/// Saturation pressure over liquid water, Pa, without a check of the range.
pub(in crate::physics) fn saturation_pa(celsius: f64) -> f64 {
    ln_saturation(celsius).exp()
}

fn ln_saturation(celsius: f64) -> f64 {
    34.494 - 4924.99 / (celsius + 237.1) - 1.57 * (celsius + 105.0).ln()
}

/// The slope of [`ln_saturation`], 1/K.
pub(super) fn ln_saturation_slope(celsius: f64) -> f64 {
    4924.99 / (celsius + 237.1).powi(2) - 1.57 / (celsius + 105.0)
}

/// Humidity ratio at a vapour pressure, kg of water per kg of dry air.
pub(super) fn ratio(vapour_pa: f64, pressure_pa: f64) -> f64 {
    MOLAR_RATIO * vapour_pa / (pressure_pa - vapour_pa)
}

/// The slope of [`ratio`] against the vapour pressure, 1/Pa.
pub(super) fn ratio_slope(vapour_pa: f64, pressure_pa: f64) -> f64 {
    MOLAR_RATIO * pressure_pa / (pressure_pa - vapour_pa).powi(2)
}

/// Saturation pressure over liquid water, −10…60 °C.
///
/// Source: 'A simple accurate formula for calculating saturation vapor pressure of water and ice'
/// (2018), the formula over water, used below 0 °C too.
///
/// # Errors
/// [`AirError::Temperature`] outside −10…60 °C.
pub fn saturation_pressure(temperature: Temperature) -> Result<Pressure, AirError> {
    ranged(temperature).map(|celsius| Pressure::from_pa(saturation_pa(celsius)))
}

/// Partial pressure of the water vapour in air.
///
/// # Errors
/// Outside −10…60 °C, or humidity not above 0 and up to 100 %.
pub fn vapour_pressure(temperature: Temperature, humidity: Humidity) -> Result<Pressure, AirError> {
    let share = fraction(humidity)?;
    Ok(saturation_pressure(temperature)? * share)
}

/// The temperature at which this air would be saturated over liquid water; `None` where that lies
/// below −10 °C, outside the formula.
///
/// # Errors
/// Outside −10…60 °C, or humidity not above 0 and up to 100 %.
pub fn dew_point(
    temperature: Temperature,
    humidity: Humidity,
) -> Result<Option<Temperature>, AirError> {
    let ln_vapour = ln_saturation(ranged(temperature)?) + fraction(humidity)?.ln();
    if ln_vapour < ln_saturation(MIN_TEMPERATURE.celsius()) {
        return Ok(None);
    }
    // ln p rises and bends downwards: Newton passes the root at most once, then climbs up to it.
    let mut dew = temperature.celsius();
    for _ in 0..50 {
        let step = (ln_saturation(dew) - ln_vapour) / ln_saturation_slope(dew);
        dew -= step;
        if step.abs() < 1e-12 {
            break;
        }
    }
    Ok(Some(Temperature::from_celsius(dew)))
}

/// Mass of water per mass of dry air: `0.621945 p_v / (P − p_v)` (ASHRAE).
///
/// # Errors
/// Outside −10…60 °C, 0…100 % humidity, or 22–120 kPa.
pub fn humidity_ratio(
    temperature: Temperature,
    humidity: Humidity,
    pressure: Pressure,
) -> Result<f64, AirError> {
    Ok(ratio(vapour_pressure(temperature, humidity)?.pa(), plausible(pressure)?))
}
