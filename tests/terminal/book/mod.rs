//! The book from its keys to its files and screens.

mod any_keys;
mod bad;
mod cans;
mod forms;
mod painter;
mod script;
