//! Quantities, and what a painter types for them.

mod quantity;

pub use quantity::{
    Area, Density, Film, Flow, Humidity, Length, Mass, Pressure, Share, Temperature,
    TemperatureDelta, Volume,
};
