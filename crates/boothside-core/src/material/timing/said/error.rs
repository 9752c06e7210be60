//! Why a said timing was refused.

use crate::units::parse::UnitError;

/// Why a text is no timing: what was given, and what is accepted.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SaidError {
    /// Nothing was typed.
    #[error("nothing was given; accepted: {ACCEPTED}")]
    Empty,
    /// A quantity that does not parse.
    #[error(transparent)]
    Quantity(#[from] UnitError),
    /// A clause of no known form.
    #[error("'{0}' is not understood; accepted: {ACCEPTED}")]
    Unknown(String),
    /// A comma between digits.
    #[error(
        "'{0}' has a comma between digits; accepted: a decimal point, or a blank after the comma"
    )]
    Comma(String),
    /// A range that does not rise.
    #[error("'{0}' does not rise; accepted: the shorter time first, such as 10-15min")]
    Falls(String),
    /// A range where one time is wanted.
    #[error(
        "'{0}' is a range; accepted: one time at each temperature, such as 6h at 24C, 10h at 18C"
    )]
    RangeInTable(String),
    /// A figure that is too small or too large.
    #[error("'{given}' is too small or too large; accepted: {accepted}")]
    Outside {
        /// What was given.
        given: String,
        /// The range, in the painter's unit.
        accepted: String,
    },
    /// No time stands in it.
    #[error("'{0}' has no time in it; accepted: a time first, such as 4h at 24C")]
    NoTime(String),
    /// A law whose stated temperature is missing.
    #[error(
        "'{0}' does not say at which temperature; accepted: it with the time, such as 4h at 24C"
    )]
    NoTemperature(String),
    /// The law `water` without its stated air.
    #[error(
        "'{0}' does not say in which air; accepted: temperature and humidity, such as 15min at 23C 50%"
    )]
    NoAir(String),
    /// A humidity at which no water dries.
    #[error("'{0}' dries no water; accepted: a humidity below 100%")]
    Saturated(String),
    /// Several times of which one has no temperature, or one temperature twice.
    #[error(
        "'{0}' has several times; accepted: each at its own temperature, such as 6h at 24C, 10h at 18C"
    )]
    Rows(String),
    /// Two figures for one thing.
    #[error("'{0}' says one thing twice; accepted: {ACCEPTED}")]
    Twice(String),
    /// Several times and a law.
    #[error("'{0}' bends a list of times; accepted: the list alone, or one time with its law")]
    TableAndLaw(String),
    /// 'Doubles' where the time becomes shorter.
    #[error(
        "'{0}' may mean that the time grows; accepted: halves every 10C, for it is shorter when warmer"
    )]
    Doubles(String),
}

const ACCEPTED: &str = "15min, 10-15min, 4h at 24C 50%, 6h at 24C, 10h at 18C; behind a comma \
                        halves every 10C, 60kJ/mol, as water, not below 5C";
