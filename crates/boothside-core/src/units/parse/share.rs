//! Shares of a whole, proportions, humidity.

use super::number::number;
use super::scale::normal;
use super::{Problem, UnitError};
use crate::units::{Humidity, Share};

const SHARE: &str = "a share such as 5% or 0.05";
const HUMIDITY: &str = "55%, above 0 and up to 100 %";
/// A proportion above this is taken for a forgotten percent sign.
const LARGEST_PROPORTION: f64 = 10.0;

/// A fraction from `5%` or `0.05`.
fn fraction(text: &str) -> Result<f64, UnitError> {
    let (value, unit) = number(text, SHARE)?;
    if value < 0.0 {
        return Err(UnitError::new(text, Problem::Negative, SHARE));
    }
    match unit {
        "" => Ok(value),
        "%" => Ok(value / 100.0),
        other => Err(UnitError::new(text, Problem::UnknownUnit(other.to_owned()), SHARE)),
    }
}

/// A share of a whole, 0 to 100 %: `5%` or `0.05`.
///
/// # Errors
/// [`UnitError`] naming what was given and what is accepted.
pub fn parse_share(text: &str) -> Result<Share, UnitError> {
    let fraction = fraction(text)?;
    if fraction > 1.0 {
        let problem = Problem::Outside("a share from 0 to 100 %");
        return Err(UnitError::new(text, problem, SHARE));
    }
    Ok(Share::from_fraction(fraction))
}

/// One amount per another, 0 to 1000 %: `12%` or `0.12`, such as thinner per volume of paint.
///
/// # Errors
/// As [`parse_share`].
pub fn parse_proportion(text: &str) -> Result<f64, UnitError> {
    let fraction = fraction(text)?;
    if fraction > LARGEST_PROPORTION {
        let problem = Problem::Outside("a proportion from 0 to 1000 %");
        return Err(UnitError::new(text, problem, "12% or 0.12"));
    }
    Ok(fraction)
}

/// A relative humidity with its percent sign, above 0 and up to 100 %: `55%`.
///
/// # Errors
/// As [`parse_share`].
pub fn parse_humidity(text: &str) -> Result<Humidity, UnitError> {
    humidity(text, false)
}

/// As [`parse_humidity`]; the percent sign may be left out.
///
/// # Errors
/// As [`parse_share`].
pub fn parse_humidity_or_percent(text: &str) -> Result<Humidity, UnitError> {
    humidity(text, true)
}

fn humidity(text: &str, bare: bool) -> Result<Humidity, UnitError> {
    let refuse = |problem| UnitError::new(text, problem, HUMIDITY);
    let (value, unit) = number(text, HUMIDITY)?;
    match normal(unit).as_str() {
        "" if bare => {}
        "" => return Err(refuse(Problem::NoUnit)),
        "%" | "%rh" => {}
        _ => return Err(refuse(Problem::UnknownUnit(unit.to_owned()))),
    }
    if value > 0.0 && value <= 100.0 {
        Ok(Humidity::from_percent(value))
    } else {
        Err(refuse(Problem::Outside("above 0 and up to 100 %")))
    }
}
