//! Setting the torn end of a log aside before it is cut off.

use std::io;
use std::path::{Path, PathBuf};

use crate::save::{create_free, folder_of};
use crate::storage::{Disk, DiskFile};

/// Saves `bytes`, the torn end of the log at `log`, in a new file beside it:
/// `NAME.torn-1`, `NAME.torn-2`, …
pub(crate) fn set_aside<D: Disk>(disk: &D, log: &Path, bytes: &[u8]) -> io::Result<PathBuf> {
    let name = |turn: u32| log.with_extension(format!("torn-{turn}"));
    let (path, mut file) = create_free(disk, name)?;
    let saved = file.append(bytes).and_then(|()| file.sync());
    if let Err(why) = saved {
        let _ = disk.remove(&path);
        return Err(why);
    }
    disk.sync_folder(folder_of(log))?;
    Ok(path)
}
