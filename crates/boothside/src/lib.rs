//! The program: screens, keys, clocks of the machine.

pub mod shell;
pub mod view;
