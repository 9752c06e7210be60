//! Looking at a log without locking it or writing to it.

use std::io;
use std::path::{Path, PathBuf};

use boothside_core::session::entry::Entry;

use super::continuation;
use super::line::{Unknown, Why};
use super::lock::{self, Holder};
use super::scan::{self, End};
use crate::printable_path;
use crate::storage::Disk;

/// How a log ends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ending {
    /// With a whole line.
    Whole,
    /// With a whole line that lacks its newline; opening adds it.
    NewlineMissing,
    /// With a torn piece; opening sets it aside.
    Torn {
        /// Where it begins, from 0.
        byte: u64,
        /// How long it is.
        bytes: u64,
    },
    /// Damage in the middle.
    Damaged {
        /// The first damaged line, from 1.
        line: u64,
        /// The first damaged byte, from 0.
        byte: u64,
        /// What is wrong there.
        why: Why,
    },
}

/// What a log holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Inspection {
    /// The entries that are known, those that a continuation carries included.
    pub entries: Vec<Entry>,
    /// Lines that hold and are not known.
    pub unknown: Vec<Unknown>,
    /// Whole lines that hold.
    pub lines: u64,
    /// Whether its first line opens a session.
    pub opens: bool,
    /// How it ends.
    pub ending: Ending,
    /// Who has it open for writing.
    pub holder: Option<Holder>,
    /// Where it is damaged: the file in which the session goes on.
    pub continued_in: Option<PathBuf>,
}

/// Why a log cannot be looked at.
#[derive(Debug, thiserror::Error)]
#[error("{} cannot be read: {source}", printable_path(path))]
pub struct InspectError {
    /// The file.
    pub path: PathBuf,
    /// What the disk said.
    pub source: io::Error,
}

/// Reads and verifies the log at `path`.
///
/// # Errors
/// [`InspectError`] where it cannot be read.
pub fn inspect<D: Disk>(disk: &D, path: &Path) -> Result<Inspection, InspectError> {
    let bytes =
        disk.read(path, 0).map_err(|source| InspectError { path: path.to_owned(), source })?;
    let (scanner, end) = scan::scan(&bytes);
    let ending = match end {
        End::Whole => Ending::Whole,
        End::NewlineMissing => Ending::NewlineMissing,
        End::Torn { .. } => {
            Ending::Torn { byte: scanner.byte, bytes: bytes.len() as u64 - scanner.byte }
        }
        End::Damaged { line, byte, why } => Ending::Damaged { line, byte, why },
    };
    let damaged = matches!(ending, Ending::Damaged { .. });
    Ok(Inspection {
        opens: scanner.opens(),
        entries: scanner.entries,
        unknown: scanner.unknown,
        lines: scanner.lines,
        ending,
        // who has it open is for the eye: a folder that refuses the question is no reason to stop
        holder: lock::holder(disk, path).unwrap_or(None),
        continued_in: damaged.then(|| continuation::of(disk, path)).flatten(),
    })
}

/// The logs in `folder`, by name; none where there is no such folder.
///
/// # Errors
/// What the disk says.
pub fn logs_in<D: Disk>(disk: &D, folder: &Path) -> io::Result<Vec<PathBuf>> {
    let mut names = match disk.list(folder) {
        Err(why) if why.kind() == io::ErrorKind::NotFound => Vec::new(),
        names => names?,
    };
    names.retain(|name| name.ends_with(".jsonl"));
    names.sort();
    Ok(names.iter().map(|name| folder.join(name)).collect())
}
