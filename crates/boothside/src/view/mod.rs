//! Board to picture.

pub mod theme;
pub mod widgets;
