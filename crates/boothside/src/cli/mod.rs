//! The commands at the shell, one file or folder a command.

pub mod check;
pub mod reckon;
pub mod sessions;
