//! The session machine, from outside: what is told goes in, boards come out.

#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used, reason = "tests")]

mod bench;
mod mixing;
mod mixing_facts;
mod play;
