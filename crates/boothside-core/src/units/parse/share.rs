//! Shares of a whole, proportions, humidity.

use super::number::number;
use super::scale::normal;
use super::{Problem, UnitError};
use crate::units::{Humidity, Share};

const SHARE: &str = "a share such as 5% or 0.05";
const HUMIDITY: &str = "55%, above 0 and up to 100 %";
const PERCENT: &str = "a share with its sign, such as 2%";
const SOLIDS: &str = "45%, 45 or 0.45";
/// The largest proportion.
const LARGEST_PROPORTION: f64 = 10.0;
/// A bare proportion above this is taken for a forgotten percent sign.
const LARGEST_BARE: f64 = 2.0;

/// What was typed, and whether with its percent sign.
fn typed(text: &str, accepted: &'static str) -> Result<(f64, bool), UnitError> {
    let (value, unit) = number(text, accepted)?;
    if value < 0.0 {
        return Err(UnitError::new(text, Problem::Negative, accepted));
    }
    match unit {
        "" => Ok((value, false)),
        "%" => Ok((value, true)),
        other => Err(UnitError::new(text, Problem::UnknownUnit(other.to_owned()), accepted)),
    }
}

fn share(text: &str, fraction: f64, accepted: &'static str) -> Result<Share, UnitError> {
    if fraction > 1.0 {
        return Err(UnitError::new(text, Problem::Outside("a share from 0 to 100 %"), accepted));
    }
    Ok(Share::from_fraction(fraction))
}

/// A share of a whole, 0 to 100 %: `5%` or `0.05`.
///
/// # Errors
/// [`UnitError`] naming what was given and what is accepted.
pub fn parse_share(text: &str) -> Result<Share, UnitError> {
    let (value, percent) = typed(text, SHARE)?;
    share(text, if percent { value / 100.0 } else { value }, SHARE)
}

/// A share that is small by nature, so that a forgotten sign would be a hundredfold: `1.4%`, never bare.
///
/// # Errors
/// As [`parse_share`].
pub fn parse_percent(text: &str) -> Result<Share, UnitError> {
    match typed(text, PERCENT)? {
        (value, true) => share(text, value / 100.0, PERCENT),
        (_, false) => Err(UnitError::new(text, Problem::NoSign, PERCENT)),
    }
}

/// Volume solids, of which sheets print the percent with or without its sign: `45%`, `45`, `0.45`. A
/// bare number from 1 on is percent.
///
/// # Errors
/// As [`parse_share`].
pub fn parse_solids(text: &str) -> Result<Share, UnitError> {
    let (value, percent) = typed(text, SOLIDS)?;
    share(text, if percent || value >= 1.0 { value / 100.0 } else { value }, SOLIDS)
}

/// One amount per another, 0 to 1000 %: `12%` or `0.12`, such as thinner per volume of paint. A bare
/// number above 2 is taken for a forgotten percent sign.
///
/// # Errors
/// As [`parse_share`].
pub fn parse_proportion(text: &str) -> Result<f64, UnitError> {
    const ACCEPTED: &str = "12% or 0.12; 300% is three times as much";
    let (value, percent) = typed(text, ACCEPTED)?;
    let proportion = if percent { value / 100.0 } else { value };
    if proportion > LARGEST_PROPORTION && percent {
        let problem = Problem::Outside("a proportion from 0 to 1000 %");
        return Err(UnitError::new(text, problem, ACCEPTED));
    }
    if !percent && proportion > LARGEST_BARE {
        return Err(UnitError::new(text, Problem::SignOrNot, ACCEPTED));
    }
    Ok(proportion)
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
