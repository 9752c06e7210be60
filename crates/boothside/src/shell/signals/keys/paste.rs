//! A paste: text between two marks that the terminal sets (xterm, 'Bracketed Paste Mode').
//!
//! The second mark may be lost, and then keys must not be text for ever. A paste is over without it once
//! it has lasted a second, or is longer than a field could hold, and nothing more streams in: the rest
//! of a long one must not be taken for keys either.

use std::time::Duration;

/// Longest text that is kept, bytes.
pub(super) const LONGEST: usize = 64 * 1024;
/// Longest time that its end is waited for.
pub(super) const LASTS: Duration = Duration::from_secs(1);
/// No hand types as fast as text streams in: a gap as long as this is the end of a stream. A key held
/// down repeats faster.
pub(super) const GAP: Duration = Duration::from_millis(50);
/// The mark at its end.
const END: &[u8] = b"\x1b[201~";

/// A paste that goes on.
#[derive(Debug)]
pub(super) struct Paste {
    bytes: Vec<u8>,
    /// The newest bytes, as many as the mark has.
    newest: Vec<u8>,
    began: Duration,
}

impl Paste {
    pub(super) const fn begun(at: Duration) -> Self {
        Self { bytes: Vec::new(), newest: Vec::new(), began: at }
    }

    /// Takes a byte; whether the paste is over with it.
    pub(super) fn take(&mut self, byte: u8) -> bool {
        self.newest.push(byte);
        if self.newest.len() > END.len() {
            self.newest.remove(0);
        }
        if self.newest == END {
            let text = self.bytes.len().saturating_sub(END.len() - 1);
            if self.bytes.ends_with(&END[..END.len() - 1]) {
                self.bytes.truncate(text);
            }
            return true;
        }
        // room for the mark as well, which is not known for one before it is whole
        if self.bytes.len() < LONGEST + END.len() {
            self.bytes.push(byte);
        }
        false
    }

    /// When it is over without its end, `last` being when the last byte came.
    pub(super) fn until(&self, last: Duration) -> Duration {
        let lasts = if self.bytes.len() < LONGEST { LASTS } else { Duration::ZERO };
        (self.began + lasts).max(last + GAP)
    }

    /// The text; none where nothing was pasted.
    pub(super) fn end(mut self) -> Option<String> {
        self.bytes.truncate(LONGEST);
        let text = String::from_utf8_lossy(&self.bytes).into_owned();
        Some(text).filter(|text| !text.is_empty())
    }
}
