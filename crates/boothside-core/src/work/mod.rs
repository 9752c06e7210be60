//! Parts, systems and jobs: what is to be done, before anything was.

pub mod film_fault;
pub mod job;
pub mod part;
pub mod shape;
pub mod system;
