//! The air on the board: what the session knows of it.

pub use crate::session::standing::{
    AirLimit, AirNow, MarginRule, MarginTrend, OutOfLimits, air_now,
};
