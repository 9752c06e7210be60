//! Checks of every figure against the outside, one file a topic. Each names its source and how
//! that source is known: read, run as a library, computed, from memory, common practice.

#![allow(clippy::expect_used, clippy::panic, reason = "a check that cannot run has failed")]

mod air;
mod booth;
mod checked;
mod clocks;
mod cups;
mod drawn;
mod emission;
mod mixing;
mod practice;
mod properties;
mod support;
mod units;
mod water;
mod weight;
