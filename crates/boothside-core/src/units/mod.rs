//! Quantities, what a painter types for them, and how they are shown.

pub mod parse;
mod quantity;
pub mod show;

pub use quantity::{
    ActivationEnergy, Area, Density, Film, Flow, Humidity, KinematicViscosity, Length, Mass,
    Moment, Pressure, Share, Temperature, TemperatureDelta, VapourVolume, Volume,
};
