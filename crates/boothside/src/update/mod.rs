//! Keys and time in, commands out.

pub mod scene;
pub mod table;
