//! Checking a file of the book.

use std::path::Path;

use boothside_core::material::can::Can;
use boothside_core::material::sheet::Sheet;
use boothside_core::work::job::{FullJob, Job, Shop};
use boothside_core::work::part::Part;
use boothside_core::work::system::System;
use boothside_store::book::{BookError, Flaw, FolderShelf, Kind, check_text, load_can, load_job};
use boothside_store::storage::RealDisk;

use super::report::Finding;

pub(super) fn check(file: &Path, kind: Kind, bytes: &[u8]) -> Finding {
    let path = file.to_owned();
    let checked = match kind {
        Kind::Sheet => check_text::<Sheet>(path, bytes).map(drop),
        Kind::Part => check_text::<Part>(path, bytes).map(drop),
        Kind::System => check_text::<System>(path, bytes).map(drop),
        Kind::Shop => check_text::<Shop>(path, bytes).map(drop),
        Kind::Job => check_text::<Job>(path, bytes).and_then(|_| check_names(file)),
        Kind::Can => check_text::<Can>(path, bytes).and_then(|_| check_sheet(file)),
    };
    let flaws = checked.map_or_else(flaws, |()| Vec::new());
    Finding::of(file, kind.name(), flaws)
}

/// Where the job lies in a book, everything that it names must be there and fit together.
fn check_names(file: &Path) -> Result<(), BookError> {
    let Some((book, name)) = book_of(file, "jobs", "systems") else {
        return Ok(());
    };
    let loaded: Result<FullJob, BookError> = load_job(&FolderShelf::new(RealDisk, book), name);
    loaded.map(drop)
}

/// Where the can lies in a book, its sheet must be there, with its component.
fn check_sheet(file: &Path) -> Result<(), BookError> {
    let Some((book, name)) = book_of(file, "cans", "sheets") else {
        return Ok(());
    };
    load_can(&FolderShelf::new(RealDisk, book), name).map(drop)
}

/// The book in whose folder `own` the file lies, where that has the folder `other` too; the file's
/// name there.
fn book_of<'a>(file: &'a Path, own: &str, other: &str) -> Option<(&'a Path, &'a str)> {
    let folder = file.parent().filter(|folder| folder.file_name().is_some_and(|name| name == own));
    let book = folder?.parent()?;
    book.join(other).is_dir().then_some(())?;
    Some((book, file.file_stem()?.to_str()?))
}

fn flaws(why: BookError) -> Vec<Flaw> {
    let whole = |file, given: String, accepted: &str| {
        let (line, column, field) = (None, None, String::new());
        vec![Flaw { file, line, column, field, given, accepted: accepted.into() }]
    };
    match why {
        BookError::Flawed(flaws) => flaws,
        BookError::Missing { name, file, .. } => {
            whole(file, format!("{name:?}"), "a file named in a–z, 0–9 and -, ending in .json")
        }
        BookError::Unreadable { file, source } => {
            whole(file, source.to_string(), "a file that can be read")
        }
    }
}
