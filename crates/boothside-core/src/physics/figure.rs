//! What makes a figure's input unusable.

use crate::units::Share;
use crate::units::show::plain;

/// Why a figure could not be computed from what was given.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum FigureError {
    /// A value that must be above zero is not.
    #[error("the {what} is {}, and must be above 0", plain(*value))]
    NotPositive {
        /// Which value.
        what: &'static str,
        /// What it is, in its base unit.
        value: f64,
    },
    /// A value that must not be negative is, or is no number.
    #[error("the {what} is {}, and cannot be negative", plain(*value))]
    Negative {
        /// Which value.
        what: &'static str,
        /// What it is, in its base unit.
        value: f64,
    },
    /// A share that is not from 0 to 100 %.
    #[error("the {what} is {} %, and must be {range}", plain(*percent))]
    Share {
        /// Which share.
        what: &'static str,
        /// What it is, percent.
        percent: f64,
        /// What is accepted.
        range: &'static str,
    },
    /// A vapour share left over half: most likely the share removed was meant.
    #[error(
        "{} % left is hardly a purge: give what is still there, 1% for 99 % removed",
        plain(*percent)
    )]
    LeftOverHalf {
        /// The share left, percent.
        percent: f64,
    },
    /// A mixing factor outside 1 to 10.
    #[error("the mixing factor is {}, and must be from 1 (perfect mixing) to 10", plain(*.0))]
    MixingFactor(f64),
    /// Parts of a whole that add up to more than the whole.
    #[error("{what} add to {} %, more than {} %", plain(*percent), plain(*limit))]
    AddsUp {
        /// Which parts.
        what: &'static str,
        /// What they add to, percent.
        percent: f64,
        /// What they may add to, percent.
        limit: f64,
    },
    /// An exempt solvent whose density is needed and missing.
    #[error("the density of the exempt solvent is missing")]
    ExemptDensity,
    /// Nothing was given to add up.
    #[error("nothing was given to add up")]
    Nothing,
}

pub(super) fn positive(what: &'static str, value: f64) -> Result<f64, FigureError> {
    if value.is_finite() && value > 0.0 {
        Ok(value)
    } else {
        Err(FigureError::NotPositive { what, value })
    }
}

pub(super) fn not_negative(what: &'static str, value: f64) -> Result<f64, FigureError> {
    if value.is_finite() && value >= 0.0 {
        Ok(value)
    } else {
        Err(FigureError::Negative { what, value })
    }
}

/// A share above 0 and up to 100 %, as a fraction.
pub(super) fn some_share(what: &'static str, share: Share) -> Result<f64, FigureError> {
    let fraction = share.fraction();
    if fraction > 0.0 && fraction <= 1.0 {
        return Ok(fraction);
    }
    let range = "above 0 and up to 100 %";
    Err(FigureError::Share { what, percent: fraction * 100.0, range })
}

/// A share from 0 to 100 %, as a fraction.
pub(super) fn any_share(what: &'static str, share: Share) -> Result<f64, FigureError> {
    let fraction = share.fraction();
    if (0.0..=1.0).contains(&fraction) {
        return Ok(fraction);
    }
    Err(FigureError::Share { what, percent: fraction * 100.0, range: "from 0 to 100 %" })
}
