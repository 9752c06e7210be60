//! Text from files, made safe for a terminal.

use std::fmt::Write as _;
use std::path::Path;

/// `text` with everything that could steer a terminal or turn the reading order written out as
/// `\u{…}`: control characters (C0, DEL, C1), the bidirectional controls and line separators of
/// Unicode, zero-width marks and the byte-order mark. All else stays as it is.
#[must_use]
pub fn printable(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if steers(c) {
            // writing to a String cannot fail
            let _ = write!(out, "\\u{{{:x}}}", u32::from(c));
        } else {
            out.push(c);
        }
    }
    out
}

/// JSON, which may hold what steers as it is, with that written as `\uXXXX`: its meaning is the same.
#[must_use]
pub fn printable_json(json: &str) -> String {
    let mut out = String::with_capacity(json.len());
    for c in json.chars() {
        // line ends stand between values; within texts they are escaped already
        if steers(c) && c != '\n' {
            // writing to a String cannot fail
            let _ = write!(out, "\\u{:04x}", u32::from(c));
        } else {
            out.push(c);
        }
    }
    out
}

/// Characters of a text from a file that a message repeats.
const LONGEST: usize = 300;

/// The beginning of `text`, and '…' where there was more: a message need not repeat a file.
pub(crate) fn beginning(text: String) -> String {
    match text.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text,
    }
}

/// A path for a message: what is not Unicode in it is replaced, and nothing in it steers.
#[must_use]
pub fn printable_path(path: &Path) -> String {
    printable(&path.to_string_lossy())
}

/// Source of the list: Unicode Standard, properties `Cc`, `Bidi_Control`, `Zl`, `Zp`, and the
/// zero-width characters U+200B..U+200D, U+2060, U+FEFF; written down from memory.
fn steers(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{061c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{2069}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_escape_sequence_is_written_out() {
        assert_eq!(printable("a\x1b[2Jb"), "a\\u{1b}[2Jb");
        assert_eq!(printable("\u{9b}31m"), "\\u{9b}31m");
        assert_eq!(printable("fin\u{202e}txt"), "fin\\u{202e}txt");
        assert_eq!(printable("two\nlines"), "two\\u{a}lines");
    }

    #[test]
    fn json_keeps_its_meaning_and_steers_nothing() {
        let text = "a\u{9b}2J\u{202e}\u{1b}[m é";
        let json = serde_json::to_string_pretty(&[text]).unwrap();
        assert!(json.contains('\u{9b}'), "serde_json leaves C1 controls as they are");
        let printable = printable_json(&json);
        assert!(!printable.contains(['\u{9b}', '\u{202e}', '\u{1b}']), "{printable:?}");
        assert_eq!(serde_json::from_str::<Vec<String>>(&printable).unwrap(), [text]);
    }

    #[test]
    fn a_long_text_is_not_repeated_whole() {
        assert_eq!(beginning("é".repeat(300)), "é".repeat(300));
        assert_eq!(beginning("é".repeat(301)), format!("{}…", "é".repeat(300)));
    }

    #[test]
    fn letters_of_any_language_stay() {
        assert_eq!(printable("Höhenflosse · 左 19.4 °C"), "Höhenflosse · 左 19.4 °C");
    }
}
