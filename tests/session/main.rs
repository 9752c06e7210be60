//! The session machine, from outside: what is told goes in, boards come out.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    clippy::needless_pass_by_value,
    reason = "a test that cannot go on says so, and commands are written where they are told"
)]

mod asks;
mod bench;
mod cans;
mod changed;
mod clocks;
mod film;
mod hanging;
mod history;
mod jobs;
mod mixing;
mod mixing_facts;
mod pace;
mod parts;
mod play;
mod pots;
mod properties;
mod purity;
mod rules;
mod said;
mod scenarios;
mod sheets;
mod thinning;
mod walk;
