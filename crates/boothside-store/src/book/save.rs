//! Saving into the book.

use super::kind::Item;
use super::shelf::FolderShelf;
use crate::save::{SaveError, folder_of, make_folders, save_whole};
use crate::storage::Disk;

/// Saves `item` under `name`, the whole file at once: a reader sees the old one or the new one.
///
/// # Errors
/// [`SaveError`]: the name is none, the item has no JSON form, or what the disk said.
pub fn save<D: Disk, T: Item>(
    shelf: &FolderShelf<D>,
    name: &str,
    item: &T,
) -> Result<(), SaveError> {
    let refused = |why: String| SaveError {
        path: name.into(),
        source: std::io::Error::new(std::io::ErrorKind::InvalidInput, why),
    };
    let path = shelf
        .path(T::KIND, name)
        .ok_or_else(|| refused("a name has 1 to 60 of a–z, 0–9 and -".into()))?;
    if let Some(fault) = item.faults().first() {
        return Err(refused(fault.to_string()));
    }
    let mut text = serde_json::to_string_pretty(item).map_err(|why| refused(why.to_string()))?;
    text.push('\n');
    make_folders(shelf.disk(), folder_of(&path))?;
    if T::KIND.folder().is_some() {
        let source = shelf.disk().check_folder(folder_of(&path));
        source.map_err(|source| SaveError { path: path.clone(), source })?;
    }
    save_whole(shelf.disk(), &path, text.as_bytes())
}
