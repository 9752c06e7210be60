//! The program from its keys to its screens.

#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used, reason = "tests")]

mod along;
mod book;
mod burst;
mod cans;
mod cold;
mod desk;
mod docs;
mod faults;
mod fields;
mod film;
mod foreman;
mod hang;
mod hints;
mod locked;
mod log;
mod mix;
mod offer;
mod pedal;
mod play;
mod pty;
mod ready;
mod real;
mod reckon;
mod rig;
mod rules;
mod saved;
mod schemas;
mod stray;
mod us_shop;
