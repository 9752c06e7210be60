//! Reads what the Book has at hand for a session.

use boothside_core::material::sheet::Sheet;
use boothside_core::session::Session;
use boothside_core::work::job::FullJob;
use boothside_core::work::part::Part;
use boothside_store::book::{FolderShelf, Kind, load, load_shop};
use boothside_store::storage::RealDisk;

use crate::update::at_hand::AtHand;

/// What `book` has at hand for `session`. What cannot be read is left out: the Book itself tells of
/// it.
#[must_use]
pub fn at_hand(book: &FolderShelf<RealDisk>, session: &Session) -> AtHand {
    let names = book.names(Kind::Part).unwrap_or_default();
    let part = |name: String| load::<Part>(book, &name).ok().map(|part| (name, part));
    let parts = names.into_iter().filter_map(part).filter(|(_, part)| !part.retired);
    AtHand { parts: parts.collect(), work: as_now(book, &session.state().work) }
}

/// `work` with each of its files as the Book has it now.
fn as_now(book: &FolderShelf<RealDisk>, work: &FullJob) -> Option<FullJob> {
    let mut now = work.clone();
    now.system = load(book, &work.job.system).ok()?;
    for (name, sheet) in &mut now.sheets {
        if let Ok(as_now) = load::<Sheet>(book, name) {
            *sheet = as_now;
        }
    }
    for (name, part) in &mut now.parts {
        if let Ok(as_now) = load::<Part>(book, name) {
            *part = as_now;
        }
    }
    if let Ok(shop) = load_shop(book) {
        now.shop = shop;
    }
    Some(now)
}
