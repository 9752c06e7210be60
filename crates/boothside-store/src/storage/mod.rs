//! What is asked of a disk, as a small trait: [`RealDisk`] answers with files,
//! [`crate::double::MemoryDisk`] with a memory that forgets what was not synced.

mod own;
mod real;

use std::fmt::Debug;
use std::io;
use std::path::Path;

pub use own::others_may_write;
pub use real::{RealDisk, RealFile, RealLock};

/// Longest file that is read, bytes. Nothing that boothside writes comes near it.
pub const MAX_FILE: u64 = 256 * 1024 * 1024;

/// A disk.
pub trait Disk: Clone + Debug + Send + Sync + 'static {
    /// An open file.
    type File: DiskFile;
    /// A lock; dropping it lets go.
    type Lock: Debug + Send + 'static;

    /// Creates an empty file that only its owner can read and opens it for appending.
    ///
    /// # Errors
    /// `AlreadyExists` where there is one; else what the system says.
    fn create_new(&self, path: &Path) -> io::Result<Self::File>;

    /// Opens a file that exists for appending.
    ///
    /// # Errors
    /// `InvalidInput` where what would be written to lies elsewhere: see [`Disk::check_place`];
    /// else what the system says.
    fn open(&self, path: &Path) -> io::Result<Self::File>;

    /// Reads a file from byte `from` to its end; nothing where it is shorter.
    ///
    /// # Errors
    /// `InvalidInput` where it is not a plain file, `FileTooLarge` where more than [`MAX_FILE`]
    /// would be read; else what the system says.
    fn read(&self, path: &Path, from: u64) -> io::Result<Vec<u8>>;

    /// Whether there is something of that name.
    ///
    /// # Errors
    /// What the system says.
    fn exists(&self, path: &Path) -> io::Result<bool>;

    /// The names in a folder, in no order.
    ///
    /// # Errors
    /// What the system says.
    fn list(&self, folder: &Path) -> io::Result<Vec<String>>;

    /// Creates one folder that only its owner can enter.
    ///
    /// # Errors
    /// `AlreadyExists` where there is one; else what the system says.
    fn make_folder(&self, folder: &Path) -> io::Result<()>;

    /// Makes the names in a folder durable.
    ///
    /// # Errors
    /// What the system says.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;

    /// Gives a file another name in the same folder, in place of what had that name.
    ///
    /// # Errors
    /// What the system says.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Removes a file.
    ///
    /// # Errors
    /// What the system says.
    fn remove(&self, path: &Path) -> io::Result<()>;

    /// Whether `folder`, where there is one, is no link to another.
    ///
    /// # Errors
    /// `InvalidInput` where it is one; else what the system says.
    fn check_folder(&self, folder: &Path) -> io::Result<()>;

    /// Whether what is written to `path` stays in its folder: the folder and the file, where there
    /// is one, are no links, and the file has no second name.
    ///
    /// # Errors
    /// `InvalidInput` where it would lie elsewhere, and why; else what the system says.
    fn check_place(&self, path: &Path) -> io::Result<()>;

    /// Takes the lock at `path`, a file of its own that is never deleted, and notes in it who has
    /// it; `None` where another holds it.
    ///
    /// # Errors
    /// `InvalidInput` where it is no plain file; else what the system says.
    fn lock(&self, path: &Path, note: &str) -> io::Result<Option<Self::Lock>>;

    /// Whether somebody holds the lock at `path`.
    ///
    /// # Errors
    /// What the system says.
    fn is_locked(&self, path: &Path) -> io::Result<bool>;
}

/// A file open for appending.
pub trait DiskFile: Debug + Send + 'static {
    /// Appends all of `bytes` at the end of the file.
    ///
    /// # Errors
    /// What the system says; part of the bytes may then be in the file.
    fn append(&mut self, bytes: &[u8]) -> io::Result<()>;

    /// Makes the content durable.
    ///
    /// # Errors
    /// What the system says. After that nothing that this descriptor says can be trusted.
    fn sync(&mut self) -> io::Result<()>;

    /// Cuts the file to `len` bytes.
    ///
    /// # Errors
    /// What the system says.
    fn set_len(&mut self, len: u64) -> io::Result<()>;

    /// Its length in bytes; `None` where `path` no longer names this file (an editor put another
    /// in its place, or it was removed): what would be appended then were lost.
    ///
    /// # Errors
    /// What the system says.
    fn len_at(&self, path: &Path) -> io::Result<Option<u64>>;
}
