//! The disk of the machine.

use std::fs::{self, DirBuilder, File, Metadata, OpenOptions, TryLockError};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::Path;
use std::time::Duration;

use super::own::{self, open_lock, open_own, open_plain, owner_only, plain};
use super::{Disk, DiskFile, MAX_FILE};

/// The disk of the machine.
#[derive(Debug, Clone, Copy, Default)]
pub struct RealDisk;

/// A file of the machine, open for appending.
#[derive(Debug)]
pub struct RealFile(File);

/// A lock on a file; the system lets go of it when this is dropped, and when the program dies.
#[derive(Debug)]
pub struct RealLock(#[allow(dead_code, reason = "kept for its drop")] File);

/// Somebody who only looks whether the lock is held holds it himself for a moment.
const LOCK_TRIES: u32 = 5;
const BETWEEN_TRIES: Duration = Duration::from_millis(10);

impl Disk for RealDisk {
    type File = RealFile;
    type Lock = RealLock;

    fn create_new(&self, path: &Path) -> io::Result<RealFile> {
        let mut options = OpenOptions::new();
        options.read(true).append(true).create_new(true);
        owner_only(&mut options);
        options.open(path).map(RealFile)
    }

    fn open(&self, path: &Path) -> io::Result<RealFile> {
        open_own(path, OpenOptions::new().read(true).append(true)).map(RealFile)
    }

    fn read(&self, path: &Path, from: u64) -> io::Result<Vec<u8>> {
        // asked before opening: opening a pipe waits for its other end
        plain(&fs::metadata(path)?)?;
        let mut file = File::open(path)?;
        file.seek(SeekFrom::Start(from))?;
        let mut bytes = Vec::new();
        file.take(MAX_FILE + 1).read_to_end(&mut bytes)?;
        if bytes.len() as u64 > MAX_FILE {
            return Err(io::Error::new(
                io::ErrorKind::FileTooLarge,
                format!("longer than {MAX_FILE} bytes"),
            ));
        }
        Ok(bytes)
    }

    fn exists(&self, path: &Path) -> io::Result<bool> {
        fs::exists(path)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<String>> {
        let names = fs::read_dir(folder)?.map(|entry| {
            // a name that is not Unicode is none of ours
            entry.map(|entry| entry.file_name().into_string().ok())
        });
        names.filter_map(Result::transpose).collect()
    }

    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        let mut builder = DirBuilder::new();
        #[cfg(unix)]
        std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
        builder.create(folder)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        // elsewhere a folder cannot be opened as a file, and the system makes names durable itself
        if cfg!(unix) {
            File::open(folder)?.sync_all()?;
        }
        Ok(())
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn check_folder(&self, folder: &Path) -> io::Result<()> {
        own::check_folder(folder)
    }

    fn check_place(&self, path: &Path) -> io::Result<()> {
        own::check_folder(crate::save::folder_of(path))?;
        own::check_file(path)
    }

    fn lock(&self, path: &Path, note: &str) -> io::Result<Option<RealLock>> {
        let (mut file, takes_note) = open_lock(path)?;
        if !try_hard(&file)? {
            return Ok(None);
        }
        if takes_note {
            // who holds it is for the eye alone: a full disk must not stand in the way of the lock
            let _ = file.set_len(0).and_then(|()| file.write_all(note.as_bytes()));
        }
        Ok(Some(RealLock(file)))
    }

    fn is_locked(&self, path: &Path) -> io::Result<bool> {
        let file = match open_plain(path) {
            Ok(file) => file,
            Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(false),
            Err(why) => return Err(why),
        };
        match file.try_lock_shared() {
            Ok(()) => Ok(false),
            Err(TryLockError::WouldBlock) => Ok(true),
            Err(TryLockError::Error(why)) => Err(why),
        }
    }
}

impl DiskFile for RealFile {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.0.write_all(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        // enough for appended bytes and for a new length alike (POSIX, fdatasync: what is needed
        // to read the data back)
        self.0.sync_data()
    }

    fn set_len(&mut self, len: u64) -> io::Result<()> {
        self.0.set_len(len)
    }

    fn len_at(&self, path: &Path) -> io::Result<Option<u64>> {
        // a link to this very file leads elsewhere all the same
        let named = match fs::symlink_metadata(path) {
            Ok(named) => named,
            Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(None),
            Err(why) => return Err(why),
        };
        let own = self.0.metadata()?;
        Ok(same_file(&named, &own).then_some(own.len()))
    }
}

fn try_hard(file: &File) -> io::Result<bool> {
    for attempt in 0..LOCK_TRIES {
        if attempt > 0 {
            std::thread::park_timeout(BETWEEN_TRIES);
        }
        match file.try_lock() {
            Ok(()) => return Ok(true),
            Err(TryLockError::WouldBlock) => {}
            Err(TryLockError::Error(why)) => return Err(why),
        }
    }
    Ok(false)
}

#[cfg(unix)]
fn same_file(a: &Metadata, b: &Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    (a.dev(), a.ino()) == (b.dev(), b.ino())
}

#[cfg(not(unix))]
fn same_file(_: &Metadata, _: &Metadata) -> bool {
    true
}
