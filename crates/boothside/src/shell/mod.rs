//! The imperative shell: the only part of the program that touches the machine's clocks, its
//! terminal and its signals.

pub mod clocks;
pub mod signals;
pub mod terminal;
pub mod title;
