//! The real program against what a shop does to a laptop: kills, full disks, closed lids and
//! terminals, clocks that are set, files from anywhere.

#![cfg(unix)]
#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used, reason = "tests")]

mod bell;
mod closed;
mod day;
mod disks;
mod elsewhere;
mod half_filled;
mod hand;
mod hostile;
mod kills;
mod old;
mod paste;
#[path = "../../terminal/pty.rs"]
#[allow(dead_code, reason = "shared with tests/terminal")]
mod pty;
mod quick;
mod stuck;
mod terminal;
mod time;
mod trace;
mod writer;
