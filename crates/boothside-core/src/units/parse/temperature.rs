//! Temperatures, and differences of them, which are another thing.

use super::number::number;
use super::scale::normal;
use super::{Problem, UnitError};
use crate::units::{Temperature, TemperatureDelta};

const TEMPERATURE: &str = "18.3C, 65F, -5C";
const DELTA: &str = "a difference such as 10C or 18F";
const ABSOLUTE_ZERO: f64 = -273.15;

#[derive(Clone, Copy)]
enum Degree {
    Celsius,
    Fahrenheit,
    Kelvin,
}

impl Degree {
    fn of(unit: &str) -> Result<Self, Problem> {
        let mut plain = normal(unit).replace(['°', 'º', '˚'], "");
        for word in ["degrees", "degree", "deg"] {
            if let Some(rest) = plain.strip_prefix(word) {
                plain = rest.to_owned();
                break;
            }
        }
        match plain.as_str() {
            "c" | "celsius" | "℃" => Ok(Self::Celsius),
            "f" | "fahrenheit" | "℉" => Ok(Self::Fahrenheit),
            "k" | "kelvin" => Ok(Self::Kelvin),
            "" => Err(Problem::NoUnit),
            _ => Err(Problem::UnknownUnit(unit.to_owned())),
        }
    }
}

/// A temperature with its unit, above absolute zero: `65F 18.3C "18.3 °C" -5C`.
///
/// # Errors
/// [`UnitError`] naming what was given and what is accepted.
pub fn parse_temperature(text: &str) -> Result<Temperature, UnitError> {
    parse_temperature_or(text, "")
}

/// As [`parse_temperature`]; a bare number is in `default_unit` (`C` or `F`).
///
/// # Errors
/// As [`parse_temperature`].
pub fn parse_temperature_or(text: &str, default_unit: &str) -> Result<Temperature, UnitError> {
    let refuse = |problem| UnitError::new(text, problem, TEMPERATURE);
    let (value, unit) = number(text, TEMPERATURE)?;
    let unit = if unit.is_empty() { default_unit } else { unit };
    let celsius = match Degree::of(unit).map_err(refuse)? {
        Degree::Celsius => value,
        Degree::Fahrenheit => (value - 32.0) / 1.8,
        Degree::Kelvin => value + ABSOLUTE_ZERO,
    };
    if celsius <= ABSOLUTE_ZERO {
        return Err(refuse(Problem::Outside("above absolute zero")));
    }
    Ok(Temperature::from_celsius(celsius))
}

/// A difference of two temperatures, which may be negative: `18F` is 10 K.
///
/// # Errors
/// As [`parse_temperature`].
pub fn parse_temperature_delta(text: &str) -> Result<TemperatureDelta, UnitError> {
    let (value, unit) = number(text, DELTA)?;
    match Degree::of(unit).map_err(|problem| UnitError::new(text, problem, DELTA))? {
        Degree::Celsius | Degree::Kelvin => Ok(TemperatureDelta::from_kelvin(value)),
        Degree::Fahrenheit => Ok(TemperatureDelta::from_kelvin(value / 1.8)),
    }
}
