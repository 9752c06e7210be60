//! The wet bulb, from the balance of heat and water at a wetted thermometer.

use super::vapour::{ln_saturation_slope, ratio, ratio_slope, saturation_pa};
use super::{AirError, MIN_TEMPERATURE, fraction, plausible, ranged};
use crate::units::{Humidity, Pressure, Temperature};

/// The wet-bulb temperature of air, over liquid water.
///
/// Source: ASHRAE Handbook, Fundamentals, psychrometrics:
/// `W = ((2501 − 2.326 Tw) Ws(Tw) − 1.006 (T − Tw)) / (2501 + 1.86 T − 4.186 Tw)`.
///
/// # Errors
/// Outside −10…60 °C, 0…100 % humidity, 22–120 kPa, or a wet bulb below −10 °C.
pub fn wet_bulb(
    temperature: Temperature,
    humidity: Humidity,
    pressure: Pressure,
) -> Result<Temperature, AirError> {
    let wet = wet_bulb_c(ranged(temperature)?, fraction(humidity)?, plausible(pressure)?);
    if wet < MIN_TEMPERATURE.celsius() {
        return Err(AirError::WetBulbBelowRange);
    }
    Ok(Temperature::from_celsius(wet))
}

/// The wet bulb in °C, without a check of ranges: humidity a fraction, pressure in Pa.
pub(in crate::physics) fn wet_bulb_c(celsius: f64, humidity: f64, pressure_pa: f64) -> f64 {
    let air_ratio = ratio(humidity * saturation_pa(celsius), pressure_pa);
    let mut wet = celsius;
    // The balance rises and bends upwards with Tw: Newton from the dry bulb comes down on the root.
    for _ in 0..50 {
        let (excess, slope) = balance(celsius, wet, air_ratio, pressure_pa);
        let step = excess / slope;
        wet -= step;
        if step.abs() < 1e-11 {
            break;
        }
    }
    wet
}

/// What the balance is off by at a supposed wet bulb, and its slope.
fn balance(celsius: f64, wet: f64, air_ratio: f64, pressure_pa: f64) -> (f64, f64) {
    let vapour = saturation_pa(wet);
    let wet_ratio = ratio(vapour, pressure_pa);
    let wet_ratio_slope = ratio_slope(vapour, pressure_pa) * vapour * ln_saturation_slope(wet);
    let excess = (2501.0 - 2.326 * wet) * wet_ratio
        - 1.006 * (celsius - wet)
        - air_ratio * (2501.0 + 1.86 * celsius - 4.186 * wet);
    let slope =
        (2501.0 - 2.326 * wet) * wet_ratio_slope - 2.326 * wet_ratio + 1.006 + 4.186 * air_ratio;
    (excess, slope)
}
