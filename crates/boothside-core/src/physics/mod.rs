//! Figures of the trade: air, rate clocks, viscosity, film, booth air, emission, weight.
//!
//! Each public item names its formula and its source. Nothing extrapolates silently and nothing
//! returns a number that is not finite: what lies outside a formula's range is refused.

pub mod air;
pub mod emission;
mod figure;
pub mod film;
pub mod rate;
mod solve;
pub mod ventilation;
pub mod viscosity;
pub mod weight;

pub use figure::FigureError;
