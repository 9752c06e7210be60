//! A material's numbers: its sheet, the timings on it, how it is mixed, what is in the can.

pub mod can;
pub mod date;
pub mod flow_cup;
pub mod recipe;
pub mod sheet;
pub mod stock;
pub mod timing;
