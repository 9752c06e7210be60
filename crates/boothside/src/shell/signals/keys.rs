//! Bytes from the keyboard to keys.
//!
//! Sequences as ECMA-48 writes them, with the numbers that the terminals' own keyboards have in common
//! (xterm, 'PC-style function keys'; Linux, console_codes(4)). Time is an argument: what a lone Esc is, and
//! when a paste that lost its end is over, time alone can tell.

mod paste;

use std::time::Duration;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use paste::Paste;

/// The rest of a sequence comes with its Esc: an Esc alone for so long is the key.
const ESC_ALONE: Duration = Duration::from_millis(4);
/// A sequence whose rest does not come for so long was none.
const HALF: Duration = Duration::from_millis(100);
/// Longest sequence of a key.
const LONGEST: usize = 32;
const ESC: u8 = 0x1b;

/// What was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Typed {
    /// A key.
    Key(KeyEvent),
    /// A text that was pasted, as it was.
    Pasted(String),
}

/// What has come of something longer than a byte.
#[derive(Debug, Default)]
enum Within {
    #[default]
    Nothing,
    /// Esc and nothing more yet.
    Esc,
    /// Esc `[` and this.
    Control(Vec<u8>),
    /// Esc `O`.
    Single,
    /// So many bytes that belong to what came before and are no keys.
    Skip(u8),
    /// A character of several bytes.
    Character(Vec<u8>),
    Paste(Paste),
}

/// Reads keys out of bytes.
#[derive(Debug, Default)]
pub(super) struct Keys {
    within: Within,
    /// When the last byte came.
    last: Duration,
    out: Vec<Typed>,
}

impl Keys {
    /// Takes bytes that came at `at`.
    pub(super) fn take(&mut self, bytes: &[u8], at: Duration) -> Vec<Typed> {
        self.pass(at);
        for byte in bytes {
            self.byte(*byte, at);
        }
        self.last = at;
        std::mem::take(&mut self.out)
    }

    /// Nothing came until `at`.
    pub(super) fn waited(&mut self, at: Duration) -> Vec<Typed> {
        self.pass(at);
        std::mem::take(&mut self.out)
    }

    /// When time alone tells more.
    pub(super) fn until(&self) -> Option<Duration> {
        match &self.within {
            Within::Nothing => None,
            Within::Esc => Some(self.last + ESC_ALONE),
            Within::Paste(paste) => Some(paste.until(self.last)),
            _ => Some(self.last + HALF),
        }
    }

    fn pass(&mut self, at: Duration) {
        if self.until().is_none_or(|until| at < until) {
            return;
        }
        match std::mem::take(&mut self.within) {
            Within::Esc => self.key(KeyCode::Esc),
            Within::Paste(paste) => self.out.extend(paste.end().map(Typed::Pasted)),
            _ => {}
        }
    }

    fn byte(&mut self, byte: u8, at: Duration) {
        self.within = match std::mem::take(&mut self.within) {
            Within::Nothing => self.first(byte),
            Within::Esc => self.after_esc(byte),
            Within::Control(bytes) => self.control(bytes, byte, at),
            Within::Single => self.single(byte),
            Within::Skip(left) if left > 1 => Within::Skip(left - 1),
            Within::Skip(_) => Within::Nothing,
            Within::Character(bytes) => self.character(bytes, byte),
            Within::Paste(mut paste) => {
                if paste.take(byte) {
                    self.out.extend(paste.end().map(Typed::Pasted));
                    Within::Nothing
                } else {
                    Within::Paste(paste)
                }
            }
        };
    }

    fn key(&mut self, code: KeyCode) {
        self.out.push(Typed::Key(KeyEvent::new(code, KeyModifiers::NONE)));
    }

    fn first(&mut self, byte: u8) -> Within {
        match byte {
            ESC => return Within::Esc,
            b'\r' => self.key(KeyCode::Enter),
            b'\t' => self.key(KeyCode::Tab),
            0x08 | 0x7f => self.key(KeyCode::Backspace),
            1..=26 => {
                let letter = KeyCode::Char(char::from(byte - 1 + b'a'));
                self.out.push(Typed::Key(KeyEvent::new(letter, KeyModifiers::CONTROL)));
            }
            0x20..0x7f => self.key(KeyCode::Char(char::from(byte))),
            0xc2..=0xf4 => return Within::Character(vec![byte]),
            _ => {}
        }
        Within::Nothing
    }

    fn after_esc(&mut self, byte: u8) -> Within {
        match byte {
            b'[' => Within::Control(Vec::new()),
            b'O' => Within::Single,
            ESC => {
                self.key(KeyCode::Esc);
                Within::Esc
            }
            // Alt with a key comes as Esc and the key, and is the key
            _ => self.first(byte),
        }
    }

    fn single(&mut self, byte: u8) -> Within {
        if byte == b'M' {
            self.key(KeyCode::Enter);
        } else if let Some(code) = lettered(byte) {
            self.key(code);
        }
        Within::Nothing
    }

    fn control(&mut self, mut bytes: Vec<u8>, byte: u8, at: Duration) -> Within {
        match (bytes.as_slice(), byte) {
            // a function key of the Linux console, and an old report of a mouse
            ([], b'[') => return Within::Skip(1),
            ([], b'M') => return Within::Skip(3),
            (b"200", b'~') => return Within::Paste(Paste::begun(at)),
            (parameters, 0x40..0x7f) => {
                if let Some(code) = control_key(parameters, byte) {
                    self.key(code);
                }
                return Within::Nothing;
            }
            (_, ESC) => return Within::Esc,
            (_, 0x20..0x40) if bytes.len() < LONGEST => bytes.push(byte),
            _ => return Within::Nothing,
        }
        Within::Control(bytes)
    }

    fn character(&mut self, mut bytes: Vec<u8>, byte: u8) -> Within {
        if !(0x80..0xc0).contains(&byte) {
            // it broke off
            return self.first(byte);
        }
        bytes.push(byte);
        match std::str::from_utf8(&bytes) {
            Ok(text) => text.chars().for_each(|c| self.key(KeyCode::Char(c))),
            Err(why) if why.error_len().is_none() => return Within::Character(bytes),
            Err(_) => {}
        }
        Within::Nothing
    }
}

/// A key that is told by a letter.
const fn lettered(byte: u8) -> Option<KeyCode> {
    Some(match byte {
        b'A' => KeyCode::Up,
        b'B' => KeyCode::Down,
        b'C' => KeyCode::Right,
        b'D' => KeyCode::Left,
        b'H' => KeyCode::Home,
        b'F' => KeyCode::End,
        b'Z' => KeyCode::BackTab,
        _ => return None,
    })
}

/// The key of a control sequence. With Ctrl it is none: no key here needs it.
fn control_key(parameters: &[u8], last: u8) -> Option<KeyCode> {
    /// What a modifier's number, less one, has where Ctrl is held.
    const CTRL: u32 = 4;
    let text = std::str::from_utf8(parameters).ok()?;
    let mut numbers = text.split(';').map(|number| number.parse::<u32>().unwrap_or(0));
    let first = numbers.next().unwrap_or(0);
    let held = numbers.next().unwrap_or(1).saturating_sub(1);
    if held & CTRL != 0 {
        return None;
    }
    if last != b'~' {
        return lettered(last);
    }
    Some(match first {
        1 | 7 => KeyCode::Home,
        3 => KeyCode::Delete,
        4 | 8 => KeyCode::End,
        5 => KeyCode::PageUp,
        6 => KeyCode::PageDown,
        _ => return None,
    })
}

#[cfg(test)]
mod tests;
