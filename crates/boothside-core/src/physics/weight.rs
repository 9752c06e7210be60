//! The weight that a finish adds, and its moment about a hinge.
//!
//! A figure for the balance check in the maker's manual, not a verdict on it.

use super::figure::{FigureError, positive};
use crate::units::{Area, Density, Film, Length, Mass, Moment};

/// The mass of a dry film: `area × dry film × dry density` (1 m² at 1 µm is 1 mL).
///
/// # Errors
/// [`FigureError::NotPositive`] unless each of them is above zero.
pub fn added_mass(area: Area, dry: Film, density: Density) -> Result<Mass, FigureError> {
    let ml = positive("area", area.m2())? * positive("dry film", dry.um())?;
    Ok(Mass::from_g(ml * positive("dry density", density.g_per_ml())?))
}

/// The moment of a mass about the hinge line, positive aft: `mass × arm`.
#[must_use]
pub fn moment(mass: Mass, arm: Length) -> Moment {
    Moment::from_g_m(mass.g() * arm.m())
}

/// Masses at arms added up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    /// All masses together.
    pub mass: Mass,
    /// All moments together.
    pub moment: Moment,
    /// The arm of the whole: moment / mass.
    pub arm: Length,
}

/// Adds up masses at their arms.
///
/// Source: FAA AC 43.13-1B chapter 10, worked examples.
///
/// # Errors
/// [`FigureError::NotPositive`] unless the masses together are above zero.
pub fn balance(items: &[(Mass, Length)]) -> Result<Balance, FigureError> {
    let mass: Mass = items.iter().map(|(mass, _)| *mass).sum();
    let moment: f64 = items.iter().map(|(mass, arm)| moment(*mass, *arm).g_m()).sum();
    let arm = Length::from_m(moment / positive("mass", mass.g())?);
    Ok(Balance { mass, moment: Moment::from_g_m(moment), arm })
}
