//! Reads what the Book has at hand for a session.

use boothside_core::work::part::Part;
use boothside_store::book::{FolderShelf, Kind, load};
use boothside_store::storage::RealDisk;

use crate::update::at_hand::AtHand;

/// What `book` has at hand. What cannot be read is left out: the Book itself tells of it.
#[must_use]
pub fn at_hand(book: &FolderShelf<RealDisk>) -> AtHand {
    let names = book.names(Kind::Part).unwrap_or_default();
    let part = |name: String| load::<Part>(book, &name).ok().map(|part| (name, part));
    let parts = names.into_iter().filter_map(part).filter(|(_, part)| !part.retired);
    AtHand { parts: parts.collect() }
}
