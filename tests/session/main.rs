//! The session machine, from outside: what is told goes in, boards come out.

mod bench;
mod play;
