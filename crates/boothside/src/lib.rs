//! The program: screens, keys, clocks of the machine.

pub mod book;
pub mod cli;
pub mod example;
pub mod forms;
pub mod shell;
pub mod update;
pub mod view;
