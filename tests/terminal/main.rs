//! The program from its keys to its screens.

mod desk;
mod rig;
