//! The number at the beginning of a typed quantity.

use super::{Problem, UnitError, fraction};

/// Larger numbers (in any base unit) are refused: products of a few of them stay finite.
const LARGEST: f64 = 1e15;
/// Smaller ones than this, but for zero, likewise: quotients stay finite.
const SMALLEST: f64 = 1e-12;

/// The number at the start of a text and the trimmed rest of it. A sign may be `+`, `-` or `−`.
pub(super) fn number<'a>(
    text: &'a str,
    accepted: &'static str,
) -> Result<(f64, &'a str), UnitError> {
    let refuse = |problem| UnitError::new(text, problem, accepted);
    let body = text.trim();
    if body.is_empty() {
        return Err(refuse(Problem::Empty));
    }
    let (sign, digits) = signed(body);
    let (value, rest) = match fraction::mixed(digits) {
        Some(read) => read,
        None => decimal(digits).map_err(refuse)?,
    };
    match rest.chars().next() {
        Some(',') => return Err(refuse(Problem::DecimalComma)),
        Some(':') => return Err(refuse(Problem::Colon)),
        _ => {}
    }
    let value = measurable(sign * value).map_err(refuse)?;
    Ok((value, rest.trim()))
}

/// A decimal number at the start of a text, and what follows it.
fn decimal(digits: &str) -> Result<(f64, &str), Problem> {
    let (literal, rest) = digits.split_at(number_length(digits));
    let value: f64 = literal.parse().map_err(|_| Problem::NotANumber)?;
    // an exponent far below what a number can hold leaves a 0 that nobody typed
    let mantissa = literal.split(['e', 'E']).next().unwrap_or_default();
    match value.abs() <= 0.0 && mantissa.contains(|c: char| ('1'..='9').contains(&c)) {
        true => Err(Problem::TooSmall),
        false => Ok((value, rest)),
    }
}

/// A value within what a shop can mean, or what is wrong with it.
pub(super) fn measurable(value: f64) -> Result<f64, Problem> {
    match value.abs() {
        size if size > LARGEST || size.is_nan() => Err(Problem::TooLarge),
        size if size > 0.0 && size < SMALLEST => Err(Problem::TooSmall),
        _ => Ok(value),
    }
}

fn signed(text: &str) -> (f64, &str) {
    if let Some(rest) = text.strip_prefix(['-', '−']) {
        (-1.0, rest.trim_start())
    } else {
        (1.0, text.strip_prefix('+').unwrap_or(text))
    }
}

/// How many bytes at the start are digits, one point, and an exponent that has digits.
fn number_length(text: &str) -> usize {
    let digits = |from: usize| {
        let tail = text.get(from..).unwrap_or_default();
        tail.find(|letter: char| !letter.is_ascii_digit()).unwrap_or(tail.len())
    };
    let mut end = digits(0);
    if text.get(end..).is_some_and(|rest| rest.starts_with('.')) {
        end += 1 + digits(end + 1);
    }
    let exponent = text.get(end..).unwrap_or_default();
    if exponent.starts_with(['e', 'E']) {
        let sign = usize::from(exponent.get(1..).is_some_and(|rest| rest.starts_with(['+', '-'])));
        let power = digits(end + 1 + sign);
        if power > 0 {
            end += 1 + sign + power;
        }
    }
    end
}

/// A plain number without a unit: parts, a ratio, a mixing factor. May be negative.
///
/// # Errors
/// [`UnitError`] naming what was given and what is accepted.
pub fn parse_plain(text: &str) -> Result<f64, UnitError> {
    const ACCEPTED: &str = "a plain number such as 4, 1.5 or 1 1/2";
    match number(text, ACCEPTED)? {
        (value, "") => Ok(value),
        (_, unit) => Err(UnitError::new(text, Problem::UnknownUnit(unit.to_owned()), ACCEPTED)),
    }
}
