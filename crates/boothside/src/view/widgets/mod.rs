//! What the screens share.

pub mod bar;
pub mod big;
pub mod digits;
pub mod letters;
pub mod plot;
