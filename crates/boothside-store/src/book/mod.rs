//! The painter's book: sheets, parts, systems, jobs, cans, and the shop's settings.
//!
//! One thing, one JSON file: `sheets/NAME.json` and so on, `shop.json` for the shop. Whatever is
//! wrong in a file is told with the file, the line, the field, what was given and what is accepted.

mod can;
mod flaw;
mod kind;
mod load;
mod locate;
mod save;
mod shelf;

pub use can::load_can;
pub use flaw::{BookError, Flaw};
pub use kind::{Item, Kind};
pub use load::{check_text, load, load_job, load_shop, load_system};
pub use save::save;
pub use shelf::{FolderShelf, Shelf};
