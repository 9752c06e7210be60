//! Parts, systems and jobs: what is to be done, before anything was.

pub mod job;
pub mod part;
pub mod system;
