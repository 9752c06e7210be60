//! Half filled forms on disk: `DATA/drafts/`.

use std::path::{Path, PathBuf};

use boothside_store::book::Kind;
use boothside_store::printable;
use boothside_store::storage::{Disk, RealDisk};

use crate::book::draft::{DRAFT_FORMAT, Draft};
use crate::update::book::list::Entry;

/// The file of the draft named `file`.
pub(super) fn path(folder: &Path, file: &str) -> PathBuf {
    folder.join(format!("{file}.json"))
}

/// A name for a draft's file: one for each thing that is changed, and as many new ones as there are.
pub(super) fn name_for(folder: &Path, draft: &Draft) -> String {
    if let Some(of) = &draft.of {
        return format!("{}-{of}", draft.kind);
    }
    let numbered = (2..).map(|number| format!("new-{}-{number}", draft.kind));
    let first = format!("new-{}", draft.kind);
    let mut names = std::iter::once(first.clone()).chain(numbered);
    names.find(|name| !path(folder, name).exists()).unwrap_or(first)
}

/// A kind by its name.
pub(super) fn kind_of(name: &str) -> Option<Kind> {
    Kind::ALL.into_iter().find(|kind| kind.name() == name)
}

/// The draft in the file named `file`.
pub(super) fn read(folder: &Path, file: &str) -> Result<(Kind, Draft), String> {
    let path = path(folder, file);
    let bytes = RealDisk.read(&path, 0).map_err(|why| why.to_string())?;
    let draft: Draft = serde_json::from_slice(&bytes)
        .map_err(|why| format!("{} is no half filled form: {why}", printable(file)))?;
    if draft.format != DRAFT_FORMAT {
        return Err(format!("{} is of a newer boothside", printable(file)));
    }
    let kind = kind_of(&draft.kind);
    kind.map(|kind| (kind, draft)).ok_or_else(|| format!("{} is of no known kind", printable(file)))
}

/// The drafts that there are, as lines of the book.
pub(super) fn entries(folder: &Path) -> Vec<Entry> {
    let mut names = RealDisk.list(folder).unwrap_or_default();
    names.sort();
    let files = names.iter().filter_map(|name| name.strip_suffix(".json"));
    let entry = |file: &str| {
        // it is shown, so that nobody thinks it gone; opening it says what is wrong
        let Ok((kind, draft)) = read(folder, file) else {
            let title = format!("{}, which cannot be read", printable(file));
            let kind = file.split('-').find_map(kind_of).unwrap_or(Kind::Sheet);
            return Entry::Half { kind, file: file.to_owned(), title, changes: false };
        };
        let name = printable(draft.text("name").trim());
        let title = match (kind, name.is_empty()) {
            (Kind::Shop, _) => "the shop's settings".to_owned(),
            (kind, true) => format!("a {}", kind.name()),
            (_, false) => name,
        };
        Entry::Half { kind, file: file.to_owned(), title, changes: draft.of.is_some() }
    };
    files.map(entry).collect()
}

/// The file of the draft that changes `name`, where there is one.
pub(super) fn of(folder: &Path, kind: Kind, name: &str) -> Option<String> {
    let file = format!("{}-{name}", kind.name());
    path(folder, &file).exists().then_some(file)
}

/// The bytes of a draft's file.
pub(super) fn bytes(draft: &Draft) -> Vec<u8> {
    // a draft is two maps of texts: it always has a JSON form
    let mut text = serde_json::to_string_pretty(draft).unwrap_or_default();
    text.push('\n');
    text.into_bytes()
}
