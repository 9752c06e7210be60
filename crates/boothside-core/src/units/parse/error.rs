//! Why a typed quantity was refused.

use std::fmt;

/// A typed quantity that was refused.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{}; accepted: {accepted}", self.wrong())]
pub struct UnitError {
    /// What was typed.
    pub given: String,
    /// What is wrong with it.
    pub problem: Problem,
    /// Examples of what is accepted.
    pub accepted: &'static str,
}

/// What is wrong with a typed quantity.
#[derive(Debug, Clone, PartialEq)]
pub enum Problem {
    /// Nothing was typed.
    Empty,
    /// It does not begin with a number.
    NotANumber,
    /// The number is infinite, or far beyond any shop.
    TooLarge,
    /// The number is not zero, but far smaller than anything that can be measured.
    TooSmall,
    /// A comma where a decimal point belongs.
    DecimalComma,
    /// `1:30`, which may be hours or minutes.
    Colon,
    /// A number without its unit.
    NoUnit,
    /// A share without its percent sign, where it needs one.
    NoSign,
    /// A bare number that is large for a proportion.
    SignOrNot,
    /// A mesh that is no sieve of the standard, with those near it in words.
    NoSieve(String),
    /// A unit that is not one of this quantity.
    UnknownUnit(String),
    /// A negative number where none makes sense.
    Negative,
    /// A number outside what the quantity can be, with that range in words.
    Outside(&'static str),
    /// Several parts whose units do not fall from one to the next.
    Order,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSign | Self::SignOrNot => f.write_str("has no % sign"),
            Self::NoSieve(near) => write!(f, "names no opening (sieves near it: {near})"),
            Self::Empty => f.write_str("is empty"),
            Self::NotANumber => f.write_str("does not begin with a number"),
            Self::TooLarge => f.write_str("is not a finite number of this size"),
            Self::TooSmall => f.write_str("is too small to be measured"),
            Self::DecimalComma => {
                f.write_str("has a comma; write 2400, or 2.5 with a decimal point")
            }
            Self::Colon => f.write_str("may mean hours or minutes; name them"),
            Self::NoUnit => f.write_str("has no unit"),
            Self::UnknownUnit(unit) => write!(f, "has the unit '{unit}', which does not fit here"),
            Self::Negative => f.write_str("is negative"),
            Self::Outside(range) => write!(f, "is not {range}"),
            Self::Order => f.write_str("does not go from the larger unit to the smaller"),
        }
    }
}

impl UnitError {
    /// What was given and what is wrong with it.
    fn wrong(&self) -> String {
        let given = &self.given;
        match &self.problem {
            problem @ Problem::SignOrNot => format!("'{given}' {problem}: {given} or {given}%?"),
            problem => format!("'{given}' {problem}"),
        }
    }

    pub(super) fn new(given: &str, problem: Problem, accepted: &'static str) -> Self {
        Self { given: given.trim().to_owned(), problem, accepted }
    }
}
