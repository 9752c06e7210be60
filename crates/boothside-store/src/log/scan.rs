//! Reading a log from its bytes: what is good, and where that ends.

use boothside_core::session::entry::Entry;
use boothside_core::session::event::Event;

use super::line::{self, Chain, Content, Unknown, Why};

/// Reads lines one after the other.
#[derive(Debug, Clone)]
pub(crate) struct Scanner {
    /// The entries; those that a continuation carries stand before it.
    pub(crate) entries: Vec<Entry>,
    /// Lines that hold and are not known.
    pub(crate) unknown: Vec<Unknown>,
    /// Whole lines so far.
    pub(crate) lines: u64,
    /// Where the next line begins.
    pub(crate) byte: u64,
    /// The chain of the last line.
    pub(crate) chain: Chain,
    /// The number that follows; `None` before the first line.
    pub(crate) next_n: Option<u64>,
}

/// How the bytes end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum End {
    /// With a whole line.
    Whole,
    /// With a whole line that lacks its newline.
    NewlineMissing,
    /// With a torn piece from the scanner's `byte` on; `newline` where the line before it lacks
    /// its newline as well.
    Torn { newline: bool },
    /// Damage in the middle, in line `line` (from 1), at byte `byte` (from 0).
    Damaged { line: u64, byte: u64, why: Why },
}

impl Scanner {
    pub(crate) const fn new() -> Self {
        Self {
            entries: Vec::new(),
            unknown: Vec::new(),
            lines: 0,
            byte: 0,
            chain: Chain::START,
            next_n: None,
        }
    }

    /// Takes a line, given without its newline; afterwards `byte` stands after the line.
    pub(crate) fn take(&mut self, line: &[u8]) -> Result<(), Why> {
        let (content, chain) = line::verify(line, &self.chain)?;
        match content {
            Content::Known(entry) => self.take_entry(*entry)?,
            Content::Unknown { n, why } => self.take_unknown(n, why)?,
        }
        self.chain = chain;
        self.lines += 1;
        self.byte += line.len() as u64;
        Ok(())
    }

    fn take_entry(&mut self, mut entry: Entry) -> Result<(), Why> {
        let carried = match self.lines {
            0 => carried(&mut entry),
            _ => Vec::new(),
        };
        for (expected, carried) in carried.iter().enumerate() {
            expect(carried.n, expected as u64)?;
        }
        expect(entry.n, self.next_n.unwrap_or(carried.len() as u64))?;
        self.next_n = Some(entry.n + 1);
        self.entries.extend(carried);
        self.entries.push(entry);
        Ok(())
    }

    fn take_unknown(&mut self, n: Option<u64>, why: String) -> Result<(), Why> {
        if let (Some(found), Some(expected)) = (n, self.next_n) {
            expect(found, expected)?;
        }
        let n = n.or(self.next_n).unwrap_or(0);
        self.next_n = Some(n.saturating_add(1));
        self.unknown.push(Unknown { line: self.lines + 1, byte: self.byte, why });
        Ok(())
    }

    /// A scanner that goes on where this one stands, with nothing taken yet.
    pub(crate) fn here(&self) -> Self {
        Self { entries: Vec::new(), unknown: Vec::new(), ..*self }
    }

    /// Takes over what a scanner made by [`Self::here`] has read.
    pub(crate) fn join(&mut self, mut on: Self) {
        self.entries.append(&mut on.entries);
        self.unknown.append(&mut on.unknown);
        *self = Self {
            entries: std::mem::take(&mut self.entries),
            unknown: std::mem::take(&mut self.unknown),
            ..on
        };
    }

    /// Whether the first line opens a session, as far as this program can tell.
    pub(crate) fn opens(&self) -> bool {
        let newer = self.unknown.first().is_some_and(|unknown| unknown.line == 1);
        let first = self.entries.first().and_then(|entry| entry.events.first());
        newer || matches!(first, Some(Event::Opened(_)))
    }
}

fn expect(found: u64, expected: u64) -> Result<(), Why> {
    if found == expected && found < u64::MAX {
        return Ok(());
    }
    Err(Why::Number { found, expected })
}

/// Takes what a continuation carries out of it, as entries of their own.
fn carried(entry: &mut Entry) -> Vec<Entry> {
    match entry.events.first_mut() {
        Some(Event::Continued(continuation)) => std::mem::take(&mut continuation.entries),
        _ => Vec::new(),
    }
}

/// Reads all of `bytes`.
pub(crate) fn scan(bytes: &[u8]) -> (Scanner, End) {
    let mut scanner = Scanner::new();
    let end = scan_on(&mut scanner, bytes);
    (scanner, end)
}

fn scan_on(scanner: &mut Scanner, bytes: &[u8]) -> End {
    let mut rest = bytes;
    while !rest.is_empty() {
        let Some(length) = newline_in(rest) else {
            return last_piece(scanner, rest);
        };
        let line = scanner.lines + 1;
        if let Err(why) = scanner.take(&rest[..length]) {
            return damaged(scanner, &rest[..length], line, why);
        }
        scanner.byte += 1;
        rest = &rest[length + 1..];
    }
    End::Whole
}

pub(crate) fn newline_in(bytes: &[u8]) -> Option<usize> {
    bytes.iter().position(|byte| *byte == b'\n')
}

/// A line that does not hold. Where only its newline became something else, the entry in front
/// of that is good.
fn damaged(scanner: &mut Scanner, piece: &[u8], line: u64, why: Why) -> End {
    let why = match take_start(scanner, piece) {
        true => Why::NoNewline,
        false => why,
    };
    let byte = scanner.byte;
    End::Damaged { line, byte, why }
}

fn last_piece(scanner: &mut Scanner, piece: &[u8]) -> End {
    if scanner.take(piece).is_ok() {
        return End::NewlineMissing;
    }
    let newline = take_start(scanner, piece);
    End::Torn { newline }
}

fn take_start(scanner: &mut Scanner, piece: &[u8]) -> bool {
    let length = line::whole_start(piece, &scanner.chain);
    length.is_some_and(|length| scanner.take(&piece[..length]).is_ok())
}
