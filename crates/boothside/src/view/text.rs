//! Text by the columns that it takes: cleaning, cutting, wrapping.

use ratatui::style::Style;
use ratatui::text::Span;

/// What stands for a character that must not reach the terminal.
const REPLACED: char = '\u{fffd}';

/// `text` without anything that could move the cursor, reverse the direction or hide: such
/// characters, which a file may hold, are replaced.
#[must_use]
pub fn clean(text: &str) -> String {
    text.chars().map(|c| if is_unfit(c) { REPLACED } else { c }).collect()
}

fn is_unfit(c: char) -> bool {
    c.is_control()
        || matches!(
            c,
            '\u{200b}'..='\u{200f}'
                | '\u{2028}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}'
                | '\u{fe00}'..='\u{fe0f}'
                | '\u{feff}'
        )
}

/// The columns that `text` takes.
#[must_use]
pub fn columns(text: &str) -> u16 {
    u16::try_from(Span::raw(text).width()).unwrap_or(u16::MAX)
}

/// `text` in at most `width` columns; what is cut off is marked by '…'.
#[must_use]
pub fn cut(text: &str, width: u16) -> String {
    if columns(text) <= width {
        return text.to_owned();
    }
    let mut kept = head(text, width.saturating_sub(1)).trim_end().to_owned();
    if width > 0 {
        kept.push('…');
    }
    kept
}

/// A name of part and face in at most `width` columns: the part is cut, for faces of one part differ
/// in what follows it.
#[must_use]
pub fn cut_name(name: &str, width: u16) -> String {
    let Some((part, face)) = name.rsplit_once(" · ").filter(|_| columns(name) > width) else {
        return cut(name, width);
    };
    let face = format!(" · {face}");
    match width.checked_sub(columns(&face)).filter(|room| *room > 3) {
        Some(room) => format!("{}{face}", cut(part, room)),
        None => cut(name, width),
    }
}

/// The end of `text` in at most `width` columns: what is being typed is at its end.
#[must_use]
pub fn tail(text: &str, width: u16) -> String {
    if columns(text) <= width {
        return text.to_owned();
    }
    let all: Vec<&str> = symbols(text);
    let mut room = width.saturating_sub(1);
    let mut from = all.len();
    while from > 0 && columns(all[from - 1]) <= room {
        from -= 1;
        room -= columns(all[from]);
    }
    let mark = if width > 0 { "…" } else { "" };
    format!("{mark}{}", all[from..].concat())
}

/// `text` in lines of at most `width` columns, broken between words where that is possible.
#[must_use]
pub fn wrap(text: &str, width: u16) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    if width == 0 {
        return lines;
    }
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if columns(line) + 1 + columns(word) <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.extend(pieces(word, width)),
        }
    }
    lines
}

fn pieces(word: &str, width: u16) -> Vec<String> {
    let mut pieces = vec![String::new()];
    let mut taken = 0;
    for symbol in symbols(word) {
        let wide = columns(symbol);
        if taken + wide > width && taken > 0 {
            pieces.push(String::new());
            taken = 0;
        }
        if let Some(last) = pieces.last_mut().filter(|_| wide <= width) {
            last.push_str(symbol);
            taken += wide;
        }
    }
    pieces
}

fn head(text: &str, width: u16) -> String {
    let mut room = width;
    let mut kept = String::new();
    for symbol in symbols(text) {
        let wide = columns(symbol);
        if wide > room {
            break;
        }
        room -= wide;
        kept.push_str(symbol);
    }
    kept
}

fn symbols(text: &str) -> Vec<&str> {
    let span = Span::raw(text);
    // the graphemes borrow from the text itself, so their places in it can be told
    let lengths: Vec<usize> =
        span.styled_graphemes(Style::new()).map(|grapheme| grapheme.symbol.len()).collect();
    let mut at = 0;
    lengths
        .into_iter()
        .filter_map(|length| {
            let symbol = text.get(at..at + length);
            at += length;
            symbol
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_could_move_the_cursor_is_replaced() {
        assert_eq!(clean("a\u{1b}[2Jb\tc\n"), "a\u{fffd}[2Jb\u{fffd}c\u{fffd}");
        assert_eq!(clean("left\u{202e}thgir"), "left\u{fffd}thgir");
        assert_eq!(clean("Rudder · Höhe 翼"), "Rudder · Höhe 翼");
    }

    #[test]
    fn wide_characters_count_twice() {
        assert_eq!(columns("翼左"), 4);
        assert_eq!(cut("翼左面", 5), "翼左…");
        assert_eq!(cut("翼左面", 4), "翼…");
        assert_eq!(tail("翼左面", 4), "…面");
        assert_eq!(cut_name("Horizontal stabiliser · upper", 16), "Horizon… · upper");
        assert_eq!(cut_name("Fin · left", 16), "Fin · left");
        assert_eq!(cut_name("Fin · a face with a long name", 16), "Fin · a face wi…");
        assert_eq!(cut("abc", 0), "");
        assert_eq!(tail("abc", 0), "");
    }

    #[test]
    fn lines_break_between_words() {
        assert_eq!(wrap("it has dulled today", 8), ["it has", "dulled", "today"]);
        assert_eq!(wrap("abcdefgh", 3), ["abc", "def", "gh"]);
        assert_eq!(wrap("a b", 0), Vec::<String>::new());
        assert_eq!(wrap("翼左", 1), [""]);
    }
}
