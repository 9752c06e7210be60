//! A material's numbers: its sheet, and the timings on it.

pub mod sheet;
pub mod timing;
