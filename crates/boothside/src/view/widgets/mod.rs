//! What the screens share.

pub mod bar;
pub mod big;
pub mod digits;
pub mod letters;
pub mod narrow;
pub mod plot;
pub mod poster;
