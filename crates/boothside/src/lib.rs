//! The program: screens, keys, clocks of the machine.

pub mod cli;
pub mod shell;
