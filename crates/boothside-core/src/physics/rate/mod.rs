//! Rate clocks: a duration stated at reference conditions, and a law that says how fast it runs
//! in the air that the shop really has.
//!
//! `progress(t) = 1/D ∫ r(air(τ)) dτ`. This module gives the bare integral and its inverse, and
//! the safe edges ([`edge_due`]). Where humidity is not known to a law that needs it, or no
//! reading was taken at all, a clock runs at rate 1 and the caller says 'air not known'.

mod clock;
mod due;
mod edge;
mod piece;
mod rules;
mod table;
mod track;
mod warmth;
mod water;

pub use clock::{Law, RateClock};
pub(crate) use due::HAIR;
pub use due::{Due, HORIZON_S, NeverBecause};
pub use edge::{Edge, edge_due};
pub use rules::Rules;
pub use table::{Outside, Table};
pub use track::{AirPoint, AirTrack};
pub(crate) use track::{between, humidity_between};
pub use warmth::{Speed, Warmth};
pub use water::Water;

use crate::units::show::plain;

/// Why a clock or its law was refused.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum RateError {
    /// The stated duration is not above zero.
    #[error("the stated duration of {} s is not above zero", plain(*.0))]
    Duration(f64),
    /// A table of durations with fewer than two temperatures.
    #[error("a table needs durations at two temperatures or more, not {0}")]
    TableTooShort(usize),
    /// A table that gives one temperature twice.
    #[error("the table gives {} °C twice", plain(*.0))]
    TableTwice(f64),
    /// A temperature that cannot be: below absolute zero, or not a number.
    #[error("{} °C is not a temperature", plain(*.0))]
    Temperature(f64),
    /// An activation energy outside what a coating can have.
    #[error("an activation energy of {} kJ/mol is not above 0 and up to 500 kJ/mol", plain(*.0))]
    Energy(f64),
    /// A 'doubles every n' outside what a coating can have.
    #[error("doubling every {} °C is not between 1 and 1000 °C", plain(*.0))]
    Doubling(f64),
    /// A reference temperature outside the range of the law `water`.
    #[error("the reference of {} °C is outside −10 to 60 °C (14 to 140 °F)", plain(*.0))]
    ReferenceTemperature(f64),
    /// A reference humidity at which nothing would dry, or that cannot be.
    #[error("the reference humidity of {} % is not above 0 and below 100 %", plain(*.0))]
    ReferenceHumidity(f64),
}

/// A temperature above absolute zero, °C.
fn real_celsius(celsius: f64) -> Result<f64, RateError> {
    if celsius.is_finite() && celsius > -273.15 {
        Ok(celsius)
    } else {
        Err(RateError::Temperature(celsius))
    }
}

/// A duration above zero, s.
fn real_duration(seconds: f64) -> Result<f64, RateError> {
    if seconds.is_finite() && seconds > 0.0 {
        Ok(seconds)
    } else {
        Err(RateError::Duration(seconds))
    }
}
