//! The pure core of boothside: what a session is, and every figure that the trade reckons.
//!
//! Nothing here reads a file, a clock or a terminal, and nothing here holds words for people
//! beyond its error messages. Time is an argument. Arrows run one way:
//! units ← physics ← material ← work ← session ← board.

pub mod board;
pub mod fault;
pub mod material;
pub mod physics;
pub mod session;
pub mod typed;
pub mod units;
pub mod work;
