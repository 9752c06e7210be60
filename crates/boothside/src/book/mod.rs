//! The painter's book as forms: what each asks, what was typed, and the file that comes of it. Nothing here reads a
//! clock, a file or a terminal.

pub mod compose;
pub mod draft;
pub mod fill;
pub mod index;
pub mod lines;
pub mod path;
pub mod spec;
pub mod takes;
pub mod words;
