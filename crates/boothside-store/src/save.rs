//! Whole files and folders, made so that they are either there or not.

use std::io;
use std::path::{Path, PathBuf};

use crate::printable_path;
use crate::storage::{Disk, DiskFile};

/// A file or folder could not be saved. What was there before still is.
#[derive(Debug, thiserror::Error)]
#[error("{} is not saved: {source}", printable_path(path))]
pub struct SaveError {
    /// Which.
    pub path: PathBuf,
    /// What the disk said.
    pub source: io::Error,
}

/// Makes `folder` and every folder above it that is missing, each durable in its parent and
/// readable by its owner alone.
///
/// # Errors
/// Names the folder that cannot be made.
pub fn make_folders<D: Disk>(disk: &D, folder: &Path) -> Result<(), SaveError> {
    let refused = |source| SaveError { path: folder.to_owned(), source };
    let parent = folder_of(folder);
    if disk.exists(folder).map_err(refused)? {
        // an earlier attempt may have ended between making it and making its name durable
        return match disk.sync_folder(parent) {
            Err(why) if why.kind() == io::ErrorKind::PermissionDenied => Ok(()),
            synced => synced.map_err(refused),
        };
    }
    if parent != Path::new(".") {
        make_folders(disk, parent)?;
    }
    let made = match disk.make_folder(folder) {
        // another program was quicker
        Err(why) if why.kind() == io::ErrorKind::AlreadyExists => Ok(()),
        made => made,
    };
    made.and_then(|()| disk.sync_folder(parent)).map_err(refused)
}

/// The folder in which a file lies.
pub(crate) fn folder_of(path: &Path) -> &Path {
    let parent = path.parent().filter(|parent| !parent.as_os_str().is_empty());
    parent.unwrap_or(Path::new("."))
}

/// Saves `bytes` as the whole of the file at `path`: beside it first, synced, then put in its
/// place, then the folder synced. A reader sees the old file or the new one, never half.
///
/// # Errors
/// Says what the disk said; the old file is then untouched, or the new one is in its place but
/// its name is perhaps not durable yet.
pub fn save_whole<D: Disk>(disk: &D, path: &Path, bytes: &[u8]) -> Result<(), SaveError> {
    let refused = |source| SaveError { path: path.to_owned(), source };
    let beside = write_beside(disk, path, bytes).map_err(refused)?;
    if let Err(why) = disk.rename(&beside, path) {
        let _ = disk.remove(&beside);
        return Err(refused(why));
    }
    disk.sync_folder(folder_of(path)).map_err(refused)
}

/// Writes and syncs a file of a name that nobody has, and removes it again where that fails.
fn write_beside<D: Disk>(disk: &D, path: &Path, bytes: &[u8]) -> io::Result<PathBuf> {
    let (beside, mut file) = create_free(disk, |turn| {
        let mut name = path.as_os_str().to_owned();
        name.push(format!(".{turn}.new"));
        PathBuf::from(name)
    })?;
    let written = file.append(bytes).and_then(|()| file.sync());
    if let Err(why) = written {
        let _ = disk.remove(&beside);
        return Err(why);
    }
    Ok(beside)
}

/// Creates the first file of `names(1)`, `names(2)`, … that does not exist yet.
pub(crate) fn create_free<D: Disk>(
    disk: &D,
    names: impl Fn(u32) -> PathBuf,
) -> io::Result<(PathBuf, D::File)> {
    const MOST: u32 = 1000;
    for turn in 1..=MOST {
        let path = names(turn);
        match disk.create_new(&path) {
            Ok(file) => return Ok((path, file)),
            Err(why) if why.kind() == io::ErrorKind::AlreadyExists => {}
            Err(why) => return Err(why),
        }
    }
    Err(io::Error::new(
        io::ErrorKind::AlreadyExists,
        format!("{MOST} files of that name are there already"),
    ))
}
