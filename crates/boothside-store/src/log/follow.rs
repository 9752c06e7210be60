//! A second program: it reads along and never writes.

use std::io;
use std::path::{Path, PathBuf};

use boothside_core::session::entry::Entry;

use super::line::{Unknown, Why};
use super::scan::{End, Scanner, newline_in, scan};
use crate::storage::Disk;

/// What a look at the file brought.
#[derive(Debug, Clone, PartialEq)]
pub enum News {
    /// Nothing new.
    Nothing,
    /// Entries that follow the ones before.
    More(Vec<Entry>),
    /// The file is not what it was (a line was taken back, or it was replaced): these are all its
    /// entries now, in place of everything before.
    Anew(Vec<Entry>),
    /// A whole line does not hold. Everything before it was told.
    Damaged {
        /// The line, from 1.
        line: u64,
        /// The first damaged byte, from 0.
        byte: u64,
        /// What is wrong.
        why: Why,
    },
}

/// Reads a log along while another program writes it. A line counts when its newline is there.
#[derive(Debug)]
pub struct Follower<D: Disk> {
    disk: D,
    path: PathBuf,
    scanner: Scanner,
    /// The last whole line with its newline, to see whether the file is still the same.
    last: Vec<u8>,
}

impl<D: Disk> Follower<D> {
    /// Follows the log at `path` from its beginning; the first [`Self::look`] tells everything.
    #[must_use]
    pub fn new(disk: &D, path: &Path) -> Self {
        Self {
            disk: disk.clone(),
            path: path.to_owned(),
            scanner: Scanner::new(),
            last: Vec::new(),
        }
    }

    /// The file that is followed.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Every entry so far.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.scanner.entries
    }

    /// Lines so far that hold and are not known.
    #[must_use]
    pub fn unknown(&self) -> &[Unknown] {
        &self.scanner.unknown
    }

    /// Looks what is new.
    ///
    /// # Errors
    /// What the disk says.
    pub fn look(&mut self) -> io::Result<News> {
        let from = self.scanner.byte - self.last.len() as u64;
        let bytes = self.disk.read(&self.path, from)?;
        let Some(rest) = bytes.strip_prefix(self.last.as_slice()) else {
            return self.look_anew();
        };
        let told = self.scanner.entries.len();
        if self.take_lines(rest).is_err() {
            return self.look_anew();
        }
        let more = &self.scanner.entries[told..];
        Ok(match more {
            [] => News::Nothing,
            more => News::More(more.to_vec()),
        })
    }

    /// Takes the whole lines of `rest`, all or none.
    fn take_lines(&mut self, rest: &[u8]) -> Result<(), Why> {
        let mut scanner = self.scanner.here();
        let mut rest = rest;
        let mut last = None;
        while let Some(length) = newline_in(rest) {
            scanner.take(&rest[..length])?;
            scanner.byte += 1;
            last = Some(&rest[..=length]);
            rest = &rest[length + 1..];
        }
        if let Some(last) = last {
            self.last = last.to_vec();
        }
        self.scanner.join(scanner);
        Ok(())
    }

    fn look_anew(&mut self) -> io::Result<News> {
        let bytes = self.disk.read(&self.path, 0)?;
        let whole = bytes.iter().rposition(|byte| *byte == b'\n').map_or(0, |at| at + 1);
        let (scanner, end) = scan(&bytes[..whole]);
        let changed = scanner.entries != self.scanner.entries;
        self.remember(scanner, &bytes, &end);
        if changed {
            return Ok(News::Anew(self.scanner.entries.clone()));
        }
        Ok(match end {
            End::Damaged { line, byte, why } => News::Damaged { line, byte, why },
            _ => News::Nothing,
        })
    }

    fn remember(&mut self, mut scanner: Scanner, bytes: &[u8], end: &End) {
        if let End::Damaged { why: Why::NoNewline, .. } = end {
            // its last line is told, but has no newline to stand on: begin at the start again
            scanner.byte = 0;
            self.last.clear();
        } else {
            let good = usize::try_from(scanner.byte).unwrap_or(usize::MAX);
            let lines = bytes.get(..good).unwrap_or_default();
            let inner = lines.strip_suffix(b"\n").unwrap_or(lines);
            let start = inner.iter().rposition(|byte| *byte == b'\n').map_or(0, |at| at + 1);
            self.last = lines[start..].to_vec();
        }
        self.scanner = scanner;
    }
}
