//! What a painter types for a quantity: a number with its unit, in any common spelling.
//!
//! Blanks around and between number and unit do not matter, nor does upper or lower case; a number may
//! have a fraction (`1-1/2`, `2 1/2`, `½`). A
//! decimal comma, `1:30`, a missing unit or a number that is not finite is refused with an error
//! that says what was given and what is accepted. The `_or` forms take a default unit for fields
//! that already show one.

mod duration;
mod error;
mod fraction;
mod number;
mod scale;
mod share;
mod temperature;

pub use duration::{parse_duration_s, parse_duration_s_or_minutes};
pub use error::{Problem, UnitError};
pub use fraction::without_fractions;
pub use number::parse_plain;
pub use share::{
    parse_humidity, parse_humidity_or_percent, parse_percent, parse_proportion, parse_share,
    parse_solids,
};
pub use temperature::{parse_temperature, parse_temperature_delta, parse_temperature_or};

use super::{
    ActivationEnergy, Area, Density, Film, Flow, KinematicViscosity, Length, Mass, Pressure,
    VapourVolume, Volume,
};

/// An amount of material: by volume or by weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// By volume.
    Volume(Volume),
    /// By weight.
    Mass(Mass),
}

/// A volume of liquid, not negative: `1.5L 900mL 50floz 2gal 3qt 1pt` (US).
///
/// # Errors
/// [`UnitError`] naming what was given and what is accepted; so for all of these.
pub fn parse_volume(text: &str) -> Result<Volume, UnitError> {
    scale::VOLUME.parse(text).map(Volume::from_ml)
}

/// As [`parse_volume`]; a bare number is in `default_unit`.
///
/// # Errors
/// As [`parse_volume`].
pub fn parse_volume_or(text: &str, default_unit: &str) -> Result<Volume, UnitError> {
    scale::VOLUME.parse_or(text, default_unit).map(Volume::from_ml)
}

/// A mass, not negative: `690g 1.2kg 2lb 4oz`, also `2lb 4oz` together.
///
/// # Errors
/// As [`parse_volume`].
pub fn parse_mass(text: &str) -> Result<Mass, UnitError> {
    scale::MASS.parse_sum(text).map(Mass::from_g)
}

/// As [`parse_mass`]; a bare number is in `default_unit`.
///
/// # Errors
/// As [`parse_volume`].
pub fn parse_mass_or(text: &str, default_unit: &str) -> Result<Mass, UnitError> {
    match number::number(text, scale::MASS.accepted) {
        Ok((_, "")) => scale::MASS.parse_or(text, default_unit).map(Mass::from_g),
        _ => parse_mass(text),
    }
}

/// A film, not negative; a bare number is in `default_unit`.
///
/// # Errors
/// As [`parse_volume`].
pub fn parse_film_or(text: &str, default_unit: &str) -> Result<Film, UnitError> {
    scale::FILM.parse_or(text, default_unit).map(Film::from_um)
}

/// A volume or a mass, told apart by the unit; a plain `oz` is a weight.
///
/// # Errors
/// As [`parse_volume`].
pub fn parse_volume_or_mass(text: &str) -> Result<Amount, UnitError> {
    match parse_volume(text) {
        Ok(volume) => Ok(Amount::Volume(volume)),
        Err(UnitError { problem: Problem::UnknownUnit(_), .. }) => parse_mass(text)
            .map(Amount::Mass)
            .map_err(|error| UnitError { accepted: scale::AMOUNT, ..error }),
        Err(error) => Err(UnitError { accepted: scale::AMOUNT, ..error }),
    }
}

/// As [`parse_pressure`]; a bare number is in `default_unit`.
///
/// # Errors
/// As [`parse_volume`].
pub fn parse_pressure_or(text: &str, default_unit: &str) -> Result<Pressure, UnitError> {
    scale::PRESSURE.parse_or(text, default_unit).map(Pressure::from_pa)
}

/// The area that a volume of paint covers, m² per litre, not negative: `9.8m2/L 400ft2/gal`.
///
/// # Errors
/// As [`parse_volume`].
pub fn parse_spread(text: &str) -> Result<f64, UnitError> {
    scale::SPREAD.parse(text)
}

/// Declares a parser for a quantity with one table of units.
macro_rules! parsers {
    ($($(#[$doc:meta])* $name:ident, $scale:ident, $quantity:ident, $new:ident;)*) => {$(
        $(#[$doc])*
        ///
        /// # Errors
        /// As [`parse_volume`].
        pub fn $name(text: &str) -> Result<$quantity, UnitError> {
            scale::$scale.parse(text).map($quantity::$new)
        }
    )*};
}

parsers! {
    /// A film thickness, not negative: `2mil 50um 0.05mm`.
    parse_film, FILM, Film, from_um;
    /// A length or an arm, which may be negative: `0.14m 14cm 5.5in 3ft`.
    parse_length, LENGTH, Length, from_m;
    /// An area, not negative: `12ft2 1.1m2 300in2`.
    parse_area, AREA, Area, from_m2;
    /// A density, not negative: `9.8lb/gal 1.17g/mL`.
    parse_density, DENSITY, Density, from_g_per_ml;
    /// A content of volatile organics, not negative, held as a density: `350g/L 2.9lb/gal`.
    parse_voc, VOC, Density, from_g_per_ml;
    /// A pressure, not negative: `22psi 150kPa 1.5bar`.
    parse_pressure, PRESSURE, Pressure, from_pa;
    /// A flow of air, not negative: `4000m3/h 2400cfm`.
    parse_flow, FLOW, Flow, from_m3_per_h;
    /// The volume of a room or booth, not negative: `60m3 2000ft3`.
    parse_room_volume, ROOM, Volume, from_ml;
    /// A kinematic viscosity, not negative: `60mm2/s 60cSt`.
    parse_kinematic, KINEMATIC, KinematicViscosity, from_mm2_per_s;
    /// An activation energy, not negative: `60kJ/mol`.
    parse_energy, ENERGY, ActivationEnergy, from_kj_per_mol;
    /// The vapour that a volume of solvent gives, not negative: `30.4ft3/gal 0.227m3/L`.
    parse_vapour_volume, VAPOUR, VapourVolume, from_m3_per_l;
}

#[cfg(test)]
mod tests;
