//! Appending to a log.

use std::io;
use std::path::{Path, PathBuf};

use boothside_core::session::entry::Entry;
use boothside_core::session::event::Event;

use super::aside::set_aside;
use super::line::{self, Chain, Unwritable};
use super::{names, scan};
use crate::printable_path;
use crate::storage::{Disk, DiskFile};

/// Why an entry is not saved. It may be given to [`LogWriter::append`] again; it is never in the
/// log twice.
#[derive(Debug, thiserror::Error)]
pub enum AppendError {
    /// The disk refused.
    #[error("{0}")]
    Disk(#[from] io::Error),
    /// The entry has no line that reads back the same. Trying again will not help.
    #[error(transparent)]
    Unwritable(#[from] Unwritable),
    /// The entry is not the next one.
    #[error("entry {found} was given; expected: entry {expected}")]
    NotNext {
        /// Its number.
        found: u64,
        /// The next number.
        expected: u64,
    },
    /// The file is not the one that was written: another program changed it.
    #[error("the file was changed by another program; nothing more is written to it")]
    Changed,
}

/// Why there is no new log.
#[derive(Debug, thiserror::Error)]
pub enum CreateError {
    /// The disk refused.
    #[error("no log can be made in {}: {source}", printable_path(folder))]
    Disk {
        /// The folder.
        folder: PathBuf,
        /// What it said.
        source: io::Error,
    },
    /// The first entry cannot be saved.
    #[error("the first entry is not saved: {0}")]
    First(#[from] AppendError),
    /// The first entry opens no session.
    #[error("the first entry opens no session; accepted: 'opened' or 'continued', numbered from 0")]
    NoOpening,
}

/// The one writer of a log. Holds its lock.
#[derive(Debug)]
pub struct LogWriter<D: Disk> {
    disk: D,
    path: PathBuf,
    /// `None` while the descriptor is not to be trusted.
    file: Option<D::File>,
    /// Bytes of whole synced lines.
    good: u64,
    chain: Chain,
    next_n: u64,
    /// A line that was attempted and may be in the file after `good`, whole or in part.
    attempted: Vec<u8>,
    _lock: D::Lock,
}

impl<D: Disk> LogWriter<D> {
    /// Makes a new log in `folder`, named `name` or, where that is taken, `name-2`, …, with
    /// `first` as its first line. It is durable when this returns.
    ///
    /// # Errors
    /// [`CreateError`]; no file is left behind then, as far as the disk allows.
    pub fn create(disk: &D, folder: &Path, name: &str, first: &Entry) -> Result<Self, CreateError> {
        let next_n = first_number(first).ok_or(CreateError::NoOpening)?;
        let refused = |source| CreateError::Disk { folder: folder.to_owned(), source };
        let (path, file, lock) = names::create_log(disk, folder, name).map_err(refused)?;
        let mut writer = Self {
            disk: disk.clone(),
            path,
            file: Some(file),
            good: 0,
            chain: Chain::START,
            next_n,
            attempted: Vec::new(),
            _lock: lock,
        };
        let made = writer.append(first).map_err(CreateError::First);
        let made = made.and_then(|()| disk.sync_folder(folder).map_err(refused));
        if let Err(why) = made {
            let _ = disk.remove(&writer.path);
            return Err(why);
        }
        Ok(writer)
    }

    pub(crate) fn resume(
        disk: &D,
        path: &Path,
        file: D::File,
        scanner: &scan::Scanner,
        lock: D::Lock,
    ) -> Self {
        Self {
            disk: disk.clone(),
            path: path.to_owned(),
            file: Some(file),
            good: scanner.byte,
            chain: scanner.chain,
            next_n: scanner.next_n.unwrap_or(0),
            attempted: Vec::new(),
            _lock: lock,
        }
    }

    /// The log's file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The number that the next entry must have.
    #[must_use]
    pub fn next_n(&self) -> u64 {
        self.next_n
    }

    /// Appends `entry` as one line and syncs it. After `Ok` it is durable.
    ///
    /// # Errors
    /// [`AppendError`]; the log then holds what it held before, or is brought back to that before
    /// anything more is written to it.
    pub fn append(&mut self, entry: &Entry) -> Result<(), AppendError> {
        if entry.n != self.next_n {
            return Err(AppendError::NotNext { found: entry.n, expected: self.next_n });
        }
        let (line, chain) = line::compose(entry, &self.chain)?;
        let mut file = self.ready()?;
        self.attempted.clone_from(&line);
        if let Err(why) = file.append(&line) {
            // half a line may be there: it goes at once, or else before the next one
            if file.set_len(self.good).is_ok() {
                self.attempted.clear();
                self.file = Some(file);
            }
            return Err(why.into());
        }
        if let Err(why) = file.sync() {
            drop(file);
            // an attempt to tidy up now; where it fails, the next append begins with it
            let _ = self.mend().map(|file| self.file = Some(file));
            return Err(why.into());
        }
        self.attempted.clear();
        self.file = Some(file);
        self.good += line.len() as u64;
        self.chain = chain;
        self.next_n += 1;
        Ok(())
    }

    /// A descriptor of which it is known that the file ends where the good lines end.
    fn ready(&mut self) -> Result<D::File, AppendError> {
        if let Some(file) = self.file.take()
            && file.len_at(&self.path).ok().flatten() == Some(self.good)
        {
            return Ok(file);
        }
        self.mend()
    }

    /// Opens the file anew, compares what is there with what was written, and cuts off what an
    /// attempt has left.
    fn mend(&mut self) -> Result<D::File, AppendError> {
        let mut file = self.disk.open(&self.path)?;
        let bytes = self.disk.read(&self.path, 0)?;
        let good = usize::try_from(self.good).ok();
        let (good, rest) =
            good.and_then(|good| bytes.split_at_checked(good)).ok_or(AppendError::Changed)?;
        let (scanner, end) = scan::scan(good);
        if end != scan::End::Whole || scanner.byte != self.good || scanner.chain != self.chain {
            return Err(AppendError::Changed);
        }
        if !rest.is_empty() {
            self.cut(&mut file, rest)?;
        }
        self.attempted.clear();
        Ok(file)
    }

    fn cut(&self, file: &mut D::File, rest: &[u8]) -> Result<(), AppendError> {
        if !self.attempted.starts_with(rest) {
            set_aside(&self.disk, &self.path, rest)?;
        }
        file.set_len(self.good)?;
        file.sync()?;
        Ok(())
    }
}

/// The number of a first entry, where it is one.
fn first_number(first: &Entry) -> Option<u64> {
    let expected = match first.events.first()? {
        Event::Opened(_) => 0,
        Event::Continued(continuation) => continuation.entries.len() as u64,
        _ => return None,
    };
    (first.n == expected).then_some(expected)
}
