//! Figures of the trade: air and rate clocks. Each public item names its formula and its source.

pub mod air;
pub mod rate;
mod solve;
