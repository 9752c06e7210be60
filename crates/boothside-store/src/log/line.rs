//! One line: composing it, and verifying it byte by byte.

use boothside_core::session::entry::Entry;
use boothside_core::session::event::LOG_FORMAT;
use serde::Deserialize;
use serde_json::Value;
use sha2::{Digest, Sha256};

use super::strict;
use crate::printable;
use crate::printable::beginning;

/// Longest line, bytes, its newline not counted.
pub const MAX_LINE: usize = 16 * 1024 * 1024;

const KEY: &[u8] = b",\"chain\":\"";
const END: &[u8] = b"\"}";
const HEX: usize = 64;

/// The chain of a line: 64 lower-case hex digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Chain([u8; HEX]);

impl Chain {
    /// What stands before the first line.
    pub(crate) const START: Self = Self([b'0'; HEX]);

    fn next(&self, prefix: &[u8]) -> Self {
        const DIGITS: &[u8; 16] = b"0123456789abcdef";
        let mut hash = Sha256::new();
        hash.update(self.0);
        hash.update(prefix);
        let mut hex = [0; HEX];
        for (pair, byte) in hex.chunks_exact_mut(2).zip(hash.finalize()) {
            pair[0] = DIGITS[usize::from(byte >> 4)];
            pair[1] = DIGITS[usize::from(byte & 15)];
        }
        Self(hex)
    }
}

/// Why a line does not hold.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Why {
    /// Longer than any line that boothside writes.
    #[error("the line is {0} bytes long; accepted: up to {MAX_LINE}")]
    TooLong(usize),
    /// Not UTF-8.
    #[error("the line is not UTF-8")]
    NotUtf8,
    /// No chain at its end.
    #[error("the line does not end with a chain")]
    NoChain,
    /// Its chain does not follow: the line or the one before it is not as it was written.
    #[error("the chain does not follow from the line before it")]
    Broken,
    /// It chains and is not JSON, or has a key twice.
    #[error("the line is not JSON as boothside writes it: {0}")]
    NotJson(String),
    /// It chains, but its number is not the next one.
    #[error("the entry's number is {found}; expected: {expected}")]
    Number {
        /// The number that stands there.
        found: u64,
        /// The number that would follow.
        expected: u64,
    },
    /// Something follows a whole line where its newline should be.
    #[error("something stands where the line's newline should be")]
    NoNewline,
}

/// A line that holds and that this program does not know.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unknown {
    /// Its line, from 1.
    pub line: u64,
    /// Its first byte, from 0.
    pub byte: u64,
    /// What is not known about it.
    pub why: String,
}

/// What a line holds.
#[derive(Debug)]
pub(crate) enum Content {
    Known(Box<Entry>),
    Unknown { n: Option<u64>, why: String },
}

/// An entry that cannot be written so that it reads back the same.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the entry cannot be written as a line: {0}")]
pub struct Unwritable(pub String);

/// The line of `entry`, newline included, and its chain. What was composed is read back and
/// compared: a number that JSON has no form for (NaN) must not get into a log.
pub(crate) fn compose(entry: &Entry, before: &Chain) -> Result<(Vec<u8>, Chain), Unwritable> {
    let refused = |why: serde_json::Error| Unwritable(why.to_string());
    let mut line = serde_json::to_vec(entry).map_err(refused)?;
    let read: Entry = serde_json::from_slice(&line).map_err(refused)?;
    if &read != entry {
        return Err(Unwritable("it does not read back the same".into()));
    }
    line.pop();
    let chain = before.next(&line);
    line.extend_from_slice(KEY);
    line.extend_from_slice(&chain.0);
    line.extend_from_slice(END);
    if line.len() > MAX_LINE {
        return Err(Unwritable(Why::TooLong(line.len()).to_string()));
    }
    line.push(b'\n');
    Ok((line, chain))
}

/// Verifies a line without its newline.
pub(crate) fn verify(line: &[u8], before: &Chain) -> Result<(Content, Chain), Why> {
    let (prefix, chain) = verify_chain(line, before)?;
    Ok((parse(line, prefix)?, chain))
}

fn verify_chain<'a>(line: &'a [u8], before: &Chain) -> Result<(&'a [u8], Chain), Why> {
    if line.len() > MAX_LINE {
        return Err(Why::TooLong(line.len()));
    }
    if std::str::from_utf8(line).is_err() {
        return Err(Why::NotUtf8);
    }
    let (prefix, hex) = split(line).ok_or(Why::NoChain)?;
    let chain = before.next(prefix);
    if hex != chain.0 {
        return Err(Why::Broken);
    }
    Ok((prefix, chain))
}

/// The length of the whole line at the start of `piece` that follows from `before`, where
/// something else than a newline stands after it.
pub(crate) fn whole_start(piece: &[u8], before: &Chain) -> Option<usize> {
    // an entry's own text cannot hold the key: its quotes would be escaped. The first is the one.
    let key = piece.windows(KEY.len()).position(|window| window == KEY)?;
    let end = key + KEY.len() + HEX + END.len();
    verify_chain(piece.get(..end)?, before).ok()?;
    Some(end)
}

/// The bytes that the chain covers and the chain, where the line ends as a chained one does.
fn split(line: &[u8]) -> Option<(&[u8], &[u8])> {
    let (rest, end) = line.split_at_checked(line.len().checked_sub(END.len())?)?;
    let (rest, hex) = rest.split_at_checked(rest.len().checked_sub(HEX)?)?;
    let (prefix, key) = rest.split_at_checked(rest.len().checked_sub(KEY.len())?)?;
    (end == END && key == KEY).then_some((prefix, hex))
}

/// What of an entry every format has.
#[derive(Deserialize)]
struct Outline {
    n: Option<u64>,
    #[serde(default)]
    events: Vec<Value>,
}

fn parse(line: &[u8], prefix: &[u8]) -> Result<Content, Why> {
    strict::no_key_twice(line).map_err(|why| Why::NotJson(told(why.to_string())))?;
    let mut bare = prefix.to_vec();
    bare.push(b'}');
    let mut deserializer = serde_json::Deserializer::from_slice(&bare);
    let parsed = serde_path_to_error::deserialize::<_, Entry>(&mut deserializer);
    let outline: Option<Outline> = match &parsed {
        // only a first line names a format
        Ok(entry) if entry.n > 0 && !continues(entry) => None,
        _ => serde_json::from_slice(&bare).ok(),
    };
    let newer = outline.as_ref().and_then(other_format);
    match (parsed, newer) {
        (Ok(entry), None) => Ok(Content::Known(Box::new(entry))),
        (Ok(entry), Some(why)) => Ok(Content::Unknown { n: Some(entry.n), why }),
        (Err(why), newer) => Ok(Content::Unknown {
            n: outline.and_then(|outline| outline.n),
            why: newer.unwrap_or_else(|| told(format!("{}: {}", why.path(), why.inner()))),
        }),
    }
}

/// A parser's words, which repeat what stands in the line.
fn told(why: String) -> String {
    printable(&beginning(why))
}

fn continues(entry: &Entry) -> bool {
    use boothside_core::session::event::Event;
    matches!(entry.events.first(), Some(Event::Continued(_)))
}

/// Where a first line names a format that is not ours, its events need not be ours either.
fn other_format(outline: &Outline) -> Option<String> {
    let first = outline.events.first()?;
    let opening = first.get("opened").or_else(|| first.get("continued"))?;
    let format = opening.get("format")?;
    let ours = format.as_u64() == Some(u64::from(LOG_FORMAT));
    (!ours).then(|| {
        let format = told(format.to_string());
        format!("the log is of format {format}; known here: format {LOG_FORMAT}")
    })
}
