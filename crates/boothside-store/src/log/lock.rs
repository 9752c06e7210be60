//! Who may write: the holder of a lock on a file beside the log, which is never deleted. (Were it
//! deleted, one program could lock the old file and another the new one.)

use std::io;
use std::path::{Path, PathBuf};

use crate::storage::Disk;

/// Another program that has the log open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Holder {
    /// Its process number, where it noted one. For the eye alone.
    pub pid: Option<u32>,
}

impl std::fmt::Display for Holder {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.pid {
            Some(pid) => write!(f, "another boothside (process {pid})"),
            None => write!(f, "another boothside"),
        }
    }
}

/// The lock file of the log at `log`.
#[must_use]
pub fn lock_path(log: &Path) -> PathBuf {
    log.with_extension("lock")
}

/// Who has the log at `log` open for writing, if anybody.
///
/// # Errors
/// What the disk says.
pub fn holder<D: Disk>(disk: &D, log: &Path) -> io::Result<Option<Holder>> {
    let path = lock_path(log);
    Ok(disk.is_locked(&path)?.then(|| noted(disk, &path)))
}

/// Takes the lock of the log at `log`.
pub(crate) fn take<D: Disk>(disk: &D, log: &Path) -> io::Result<Result<D::Lock, Holder>> {
    let path = lock_path(log);
    let note = format!("{}\n", std::process::id());
    let named = |why: io::Error| io::Error::new(why.kind(), format!("its lock file: {why}"));
    let lock = disk.lock(&path, &note).map_err(named)?;
    Ok(lock.ok_or_else(|| noted(disk, &path)))
}

fn noted<D: Disk>(disk: &D, path: &Path) -> Holder {
    let note = disk.read(path, 0).ok();
    let pid = note.and_then(|note| String::from_utf8(note).ok()?.trim().parse().ok());
    Holder { pid }
}
