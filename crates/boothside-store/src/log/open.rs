//! Opening a log for writing, and what is done about its end.

use std::io;
use std::path::{Path, PathBuf};

use boothside_core::session::entry::Entry;

use super::aside::set_aside;
use super::line::{Unknown, Why};
use super::lock::{self, Holder};
use super::scan::{self, End, Scanner};
use super::{continuation, writer::LogWriter};
use crate::printable_path;
use crate::save::folder_of;
use crate::storage::{Disk, DiskFile};

/// What was done about the end of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Recovery {
    /// Nothing was needed.
    Sound,
    /// The last line lacked its newline and nothing else; it has it now.
    NewlineAdded,
    /// A torn piece was copied aside and cut off.
    TornSetAside {
        /// The copy.
        file: PathBuf,
        /// How many bytes.
        bytes: u64,
        /// Where in the log they began, from 0.
        byte_offset: u64,
    },
}

/// A log open for writing.
#[derive(Debug)]
pub struct Opened<D: Disk> {
    /// Its writer.
    pub writer: LogWriter<D>,
    /// Its entries, those that a continuation carries included.
    pub entries: Vec<Entry>,
    /// What was done about its end.
    pub recovery: Recovery,
}

/// Damage in the middle of a log. The file was not written to.
#[derive(Debug, Clone, PartialEq)]
pub struct Damage {
    /// The file.
    pub file: PathBuf,
    /// The first damaged line, from 1.
    pub line: u64,
    /// The first damaged byte, from 0.
    pub byte: u64,
    /// What is wrong there.
    pub why: Why,
    /// Every entry before the damage.
    pub good: Vec<Entry>,
    /// Lines among the good ones that hold and are not known: such a log is not continued.
    pub unknown: Vec<Unknown>,
    /// The file in which the session already goes on.
    pub continued_in: Option<PathBuf>,
}

/// A log that this program may show and must not write to.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadOnly {
    /// The entries that are known.
    pub entries: Vec<Entry>,
    /// What is not known.
    pub unknown: Vec<Unknown>,
}

/// Why a log cannot be opened for writing.
#[derive(Debug, thiserror::Error)]
pub enum OpenError {
    /// The disk refused.
    #[error("{} cannot be opened: {source}", printable_path(path))]
    Disk {
        /// The file.
        path: PathBuf,
        /// What the disk said.
        source: io::Error,
    },
    /// It, its lock or its folder leads elsewhere, so that it may only be read.
    #[error("{} is only read: {why}", printable_path(path))]
    Elsewhere {
        /// The file.
        path: PathBuf,
        /// What leads elsewhere.
        why: io::Error,
    },
    /// Another program has it open.
    #[error("{0} has it open")]
    Locked(Holder),
    /// Damage in the middle.
    #[error("{}: line {}, byte {}: {}", printable_path(&.0.file), .0.line, .0.byte, .0.why)]
    Damaged(Box<Damage>),
    /// Something in it is newer than this program.
    #[error("{}", told(&.0.unknown))]
    ReadOnly(Box<ReadOnly>),
    /// No line of it is whole: nothing was ever saved in it.
    #[error("there is no whole line in it; accepted: a log whose first line opens a session")]
    Empty,
    /// Its first line opens no session.
    #[error("its first line opens no session; accepted: a line with 'opened' or 'continued'")]
    NoOpening,
}

fn told(unknown: &[Unknown]) -> String {
    let Some(first) = unknown.first() else {
        return "read only".into();
    };
    let why = crate::printable(&first.why);
    format!("read only: line {} is not known: {why}", first.line)
}

/// Opens the log at `path` for writing: locks it, verifies every line, and mends its end.
///
/// # Errors
/// [`OpenError`]; the file is as it was then.
pub fn open<D: Disk>(disk: &D, path: &Path) -> Result<Opened<D>, OpenError> {
    let refused = |source: io::Error| match source.kind() {
        io::ErrorKind::InvalidInput => OpenError::Elsewhere { path: path.to_owned(), why: source },
        _ => OpenError::Disk { path: path.to_owned(), source },
    };
    // asked before locking: no lock file for a log that is not there
    if !disk.exists(path).map_err(refused)? {
        return Err(refused(io::ErrorKind::NotFound.into()));
    }
    disk.check_place(path).map_err(refused)?;
    let lock = lock::take(disk, path).map_err(refused)?;
    let lock = lock.map_err(OpenError::Locked)?;
    let bytes = disk.read(path, 0).map_err(refused)?;
    let (mut scanner, end) = scan::scan(&bytes);
    if let Some(why) = unfit(disk, path, &mut scanner, &end) {
        return Err(why);
    }
    let mut file = disk.open(path).map_err(refused)?;
    let recovery = mend(disk, path, &mut file, &mut scanner, &bytes, &end).map_err(refused)?;
    let writer = LogWriter::resume(disk, path, file, &scanner, lock);
    Ok(Opened { writer, entries: scanner.entries, recovery })
}

/// Why a log that was read is not to be written to.
fn unfit<D: Disk>(disk: &D, path: &Path, scanner: &mut Scanner, end: &End) -> Option<OpenError> {
    if let End::Damaged { line, byte, why } = end {
        return Some(OpenError::Damaged(Box::new(Damage {
            file: path.to_owned(),
            line: *line,
            byte: *byte,
            why: why.clone(),
            good: std::mem::take(&mut scanner.entries),
            unknown: std::mem::take(&mut scanner.unknown),
            continued_in: continuation::of(disk, path),
        })));
    }
    if scanner.lines == 0 {
        return Some(OpenError::Empty);
    }
    if !scanner.opens() {
        return Some(OpenError::NoOpening);
    }
    if !scanner.unknown.is_empty() {
        return Some(OpenError::ReadOnly(Box::new(ReadOnly {
            entries: std::mem::take(&mut scanner.entries),
            unknown: std::mem::take(&mut scanner.unknown),
        })));
    }
    None
}

/// Brings the end of the file to the end of its last whole line.
fn mend<D: Disk>(
    disk: &D,
    path: &Path,
    file: &mut D::File,
    scanner: &mut Scanner,
    bytes: &[u8],
    end: &End,
) -> io::Result<Recovery> {
    let (recovery, newline) = match end {
        // what was read may still be in the memory of the machine alone
        End::Whole | End::Damaged { .. } => (Recovery::Sound, false),
        End::NewlineMissing => (Recovery::NewlineAdded, true),
        End::Torn { newline } => (cut(disk, path, file, scanner.byte, bytes)?, *newline),
    };
    if newline {
        file.append(b"\n")?;
        scanner.byte += 1;
    }
    file.sync()?;
    disk.sync_folder(folder_of(path))?;
    Ok(recovery)
}

fn cut<D: Disk>(
    disk: &D,
    path: &Path,
    file: &mut D::File,
    from: u64,
    bytes: &[u8],
) -> io::Result<Recovery> {
    let start = usize::try_from(from).unwrap_or(usize::MAX);
    let torn = bytes.get(start..).unwrap_or_default();
    let aside = set_aside(disk, path, torn)?;
    file.set_len(from)?;
    file.sync()?;
    Ok(Recovery::TornSetAside { file: aside, bytes: torn.len() as u64, byte_offset: from })
}
