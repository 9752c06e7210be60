//! The program: screens, keys, clocks of the machine.

pub mod forms;
pub mod update;
