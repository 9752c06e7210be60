//! What boothside keeps on disk: session logs and the painter's book.
//!
//! - [`storage`] is the small trait over everything that is asked of a disk; [`double`] stands in
//!   for it in tests and loses what was not synced.
//! - [`log`] appends, recovers, verifies and follows the log of a session.
//! - [`book`] loads and saves sheets, parts, systems, jobs and the shop's settings.
//!
//! Nothing here asks for the time.

pub mod book;
pub mod double;
pub mod log;
pub mod storage;

mod printable;
mod save;

pub use printable::{printable, printable_json, printable_path};
pub use save::{SaveError, make_folders, save_whole};
