//! The imperative shell.

pub mod writer;
