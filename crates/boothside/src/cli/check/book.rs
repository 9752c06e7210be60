//! Checking a file of the book.

use std::path::Path;

use boothside_core::material::sheet::Sheet;
use boothside_core::work::job::{FullJob, Job, Shop};
use boothside_core::work::part::Part;
use boothside_core::work::system::System;
use boothside_store::book::{BookError, Flaw, FolderShelf, Kind, check_text, load_job};
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
    };
    let flaws = checked.map_or_else(flaws, |()| Vec::new());
    Finding::of(file, kind.name(), flaws)
}

/// Where the job lies in a book, everything that it names must be there and fit together.
fn check_names(file: &Path) -> Result<(), BookError> {
    let Some((book, name)) = book_of(file) else {
        return Ok(());
    };
    let loaded: Result<FullJob, BookError> = load_job(&FolderShelf::new(RealDisk, book), name);
    loaded.map(drop)
}

fn book_of(file: &Path) -> Option<(&Path, &str)> {
    let folder =
        file.parent().filter(|folder| folder.file_name().is_some_and(|name| name == "jobs"));
    let book = folder?.parent()?;
    book.join("systems").is_dir().then_some(())?;
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
