//! The imperative shell: the only part of the program that touches the machine's clocks, its
//! terminal, its signals and, through the store, its disk.

pub mod at_hand;
pub mod awake;
pub mod clocks;
pub mod front;
pub mod hall;
pub mod keeper;
pub mod opening;
pub mod picture;
pub mod places;
pub mod room;
pub mod seat;
pub mod shop_units;
pub mod signals;
pub mod sitting;
pub mod stock;
pub mod terminal;
pub mod time;
pub mod title;
pub mod writer;
