//! Keys and time in, entries and effects out. Nothing here reads a clock, a file or a terminal.

mod alarm;
pub mod at_hand;
pub mod book;
pub mod desk;
pub mod gate;
mod lock;
pub mod picker;
pub mod scene;
pub mod table;
