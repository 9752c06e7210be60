//! Checking a file of the book.

use std::path::Path;

use boothside_core::material::can::Can;
use boothside_core::material::sheet::Sheet;
use boothside_core::work::job::{FullJob, Job, Shop};
use boothside_core::work::part::Part;
use boothside_core::work::system::System;
use boothside_store::book::{
    BookError, Flaw, FolderShelf, Kind, check_text, load_can, load_job, load_system,
};
use boothside_store::storage::RealDisk;

use super::report::Finding;

pub(super) fn check(file: &Path, kind: Kind, bytes: &[u8]) -> Finding {
    let path = file.to_owned();
    let checked = match kind {
        Kind::Sheet => check_text::<Sheet>(path, bytes).map(drop),
        Kind::Part => check_text::<Part>(path, bytes).map(drop),
        Kind::System => check_text::<System>(path, bytes).and_then(|_| check_layers(file)),
        Kind::Shop => check_text::<Shop>(path, bytes).map(drop),
        Kind::Job => check_text::<Job>(path, bytes).and_then(|_| check_names(file)),
        Kind::Can => check_text::<Can>(path, bytes).and_then(|_| check_sheet(file)),
    };
    let mut flaws = checked.map_or_else(flaws, |()| Vec::new());
    if !flaws.iter().any(|flaw| flaw.accepted == NAMES) {
        flaws.extend(name_flaw(file, kind));
    }
    Finding::of(file, kind.name(), flaws)
}

/// A file in the folder of its kind whose name is none: the program would never open it.
fn name_flaw(file: &Path, kind: Kind) -> Option<Flaw> {
    let folder = file.parent()?.file_name()?;
    kind.folder().filter(|own| folder == *own)?;
    let name = file.file_stem().unwrap_or_default().to_string_lossy();
    let json = file.extension().is_some_and(|ending| ending == "json");
    if json && kind.file(&name).is_some() {
        return None;
    }
    let given = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
    Some(whole(file, given, NAMES))
}

/// Where the system lies in a book, the sheets of its layers must be there and sound.
fn check_layers(file: &Path) -> Result<(), BookError> {
    let Some((book, name)) = book_of(file, "systems", "sheets") else {
        return Ok(());
    };
    load_system(&FolderShelf::new(RealDisk, book), name).map(drop)
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

const NAMES: &str = "a file named in a–z, 0–9 and -, ending in .json";

fn whole(file: &Path, given: String, accepted: &str) -> Flaw {
    let (line, column, field) = (None, None, String::new());
    Flaw { file: file.to_owned(), line, column, field, given, accepted: accepted.into() }
}

fn flaws(why: BookError) -> Vec<Flaw> {
    match why {
        BookError::Flawed(flaws) => flaws,
        BookError::Missing { name, file, .. } => {
            vec![whole(&file, format!("{name:?}"), NAMES)]
        }
        BookError::Unreadable { file, source } => {
            vec![whole(&file, source.to_string(), "a file that can be read")]
        }
    }
}
