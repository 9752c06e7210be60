//! What today's program makes of every kind of entry: the logs in `tests/fixtures/format-1b`, the
//! text of what each comes to, and the text of its board at forty moments.
//!
//! `UPDATE_PINNED=1` writes the texts anew, never the logs; read the difference before it is kept.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    clippy::needless_pass_by_value,
    reason = "a test that cannot go on says so, and commands are written where they are told"
)]

mod asks;
mod board_text;
mod bytes;
mod holds;
mod keys;
mod logs;
mod moments;
#[path = "../terminal/rig.rs"]
#[allow(dead_code, reason = "the other tests use the rest of it")]
mod rig;
mod schema;
mod state_text;
mod texts;
mod write;
