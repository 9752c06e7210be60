//! The book under the painter's keys: its list, and the forms.

pub mod edit;
pub mod filling;
pub mod list;
mod undo;
