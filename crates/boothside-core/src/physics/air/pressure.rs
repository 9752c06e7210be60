//! Air pressure at a height.

use super::AirError;
use crate::units::{Length, Pressure};

/// Standard air pressure at sea level.
pub const STANDARD_PRESSURE: Pressure = Pressure::from_pa(101_325.0);

/// Air pressure at a height above the sea, −500…11,000 m.
///
/// Source: ICAO standard atmosphere, troposphere: 288.15 K at sea level, falling 6.5 K a kilometre.
///
/// # Errors
/// [`AirError::Height`] outside the range.
pub fn pressure_at_height(height: Length) -> Result<Pressure, AirError> {
    let metres = height.m();
    if !(-500.0..=11_000.0).contains(&metres) {
        return Err(AirError::Height(metres));
    }
    // g M / (R L) with the constants of the standard
    const EXPONENT: f64 = 9.806_65 * 0.028_964_4 / (8.314_32 * 0.006_5);
    let cooling = 1.0 - 0.006_5 * metres / 288.15;
    Ok(STANDARD_PRESSURE * cooling.powf(EXPONENT))
}
