//! The session: entries, what they say, and what follows from them.

pub mod entry;
pub mod event;
pub mod time;
