//! A form of the book: its lines, and under them what the line asks and what does not fit.

use ratatui::style::{Modifier, Style};

use super::{draw_keys, drawing};
use crate::book::lines::{Line, What};
use crate::book::takes::{Offer, Takes};
use crate::update::book::edit::LETTERS;
use crate::update::book::filling::Filling;
use crate::update::scene::Kept;
use crate::view::pen::Pen;
use crate::view::text::{clean, columns, cut, wrap};
use crate::view::theme::Theme;

/// Rows of the top line and the rule.
const HEAD: u16 = 2;
/// Rows under the lines: a rule, four of words, the keys.
const FOOT: u16 = 6;
/// Rows of words.
const WORDS: usize = 4;
/// Columns of the widest label, the mark before it included.
const LABEL: u16 = 32;

pub(super) fn draw(filling: &Filling, kept: &Kept, theme: Theme, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    draw_head(filling, kept, theme, pen);
    let rows = height.saturating_sub(HEAD + FOOT);
    let from = first_shown(filling, usize::from(rows));
    let lines = filling.lines().iter().enumerate().skip(from).take(rows.into());
    for (y, (number, line)) in (HEAD..).zip(lines) {
        let mut row = pen.part(0, y, width, 1);
        draw_line(filling, (number, line), theme, &mut row);
    }
    drawing::draw(filling, theme, &mut pen.part(0, HEAD, width, rows));
    let (above, below) = (from, filling.lines().len().saturating_sub(from + usize::from(rows)));
    let foot = height.saturating_sub(FOOT);
    pen.rule(foot, theme.quiet());
    let more = [("↑", above), ("↓", below)].into_iter().filter(|(_, count)| *count > 0);
    let more: Vec<String> = more.map(|(way, count)| format!(" {way} {count} more ")).collect();
    pen.put_right(width.saturating_sub(1), foot, &more.join("·"), theme.quiet());
    draw_words(filling, theme, &mut pen.part(0, foot + 1, width, WORDS as u16));
    draw_form_keys(filling, theme, pen, height.saturating_sub(1));
}

fn draw_head(filling: &Filling, kept: &Kept, theme: Theme, pen: &mut Pen<'_>) {
    let (draft, kind) = (filling.draft(), filling.kind().name());
    let name = draft.text("name").trim();
    let kind = match draft.of {
        Some(_) => format!("{}{}", kind[..1].to_uppercase(), &kind[1..]),
        None => format!("New {kind}"),
    };
    let title = if name.is_empty() { kind } else { format!("{kind} · {name}") };
    let (told, style) = match kept {
        _ if filling.revision() == 0 => ("nothing changed".to_owned(), theme.plain()),
        Kept::Yes => ("draft kept".to_owned(), theme.good()),
        Kept::Soon => ("keeping".to_owned(), theme.plain()),
        Kept::No(why) => (format!("× NOT KEPT: {why}"), theme.hold()),
    };
    let end = pen.width().saturating_sub(1);
    let told = cut(&clean(&told), end / 2);
    pen.put_right(end, 0, &told, style);
    pen.put_within(1, 0, end.saturating_sub(columns(&told) + 3), &title, theme.strong());
    pen.rule(1, theme.quiet());
}

/// The first line shown, so that the painter's stays in sight with some of what surrounds it.
fn first_shown(filling: &Filling, rows: usize) -> usize {
    let count = filling.lines().len();
    filling.at().saturating_sub(rows / 2).min(count.saturating_sub(rows))
}

fn draw_line(filling: &Filling, (number, line): (usize, &Line), theme: Theme, pen: &mut Pen<'_>) {
    let here = number == filling.at();
    if here {
        pen.put(1, 0, "▸", theme.chosen());
    }
    let indent = 3 + 2 * u16::try_from(line.depth).unwrap_or(0);
    match line.what {
        What::Section(title) => {
            pen.put(1, 0, title, theme.title());
        }
        What::Save => {
            let reverse = Style::new().add_modifier(Modifier::BOLD.union(Modifier::REVERSED));
            let style = if here { reverse } else { theme.strong() };
            pen.put(3, 0, " save into the book ", style);
        }
        What::Field(_) | What::Another(_) => {
            let another = matches!(line.what, What::Another(_));
            let style = match (here, another) {
                (true, _) => theme.strong(),
                (false, true) => theme.quiet(),
                (false, false) => theme.plain(),
            };
            pen.put_within(indent, 0, LABEL.saturating_sub(indent + 1), &line.label, style);
            draw_value(filling, line, here, theme, pen);
        }
    }
}

fn draw_value(filling: &Filling, line: &Line, here: bool, theme: Theme, pen: &mut Pen<'_>) {
    let Some(field) = line.field() else { return };
    let text = filling.draft().text(&line.path);
    let shown = if field.takes.is_picked() && !text.is_empty() {
        field.takes.word_of(text, &line.path, &filling.around())
    } else {
        text.to_owned()
    };
    let style = if here { theme.strong() } else { theme.plain() };
    let room = pen.width().saturating_sub(LABEL + 2);
    let fault = filling.faults().get(&line.path);
    let mut after = LABEL;
    if here && filling.is_typing() && !field.takes.is_picked() {
        let reversed = style.add_modifier(Modifier::REVERSED);
        after = match filling.begins_anew() {
            // what the next character replaces is marked as a whole
            true => pen.put_within(LABEL, 0, room, &shown, reversed),
            false => draw_typed(&clean(&shown), filling.cursor(), room, style, pen),
        };
    } else if !shown.is_empty() {
        after = pen.put_within(LABEL, 0, room, &shown, style);
    }
    if here && filling.is_typing() && field.takes.is_picked() {
        pen.put_within(after, 0, 1, " ", Style::new().add_modifier(Modifier::REVERSED));
        after += 1;
    }
    let beside = after + 2;
    if let Some(fault) = fault {
        pen.put(beside, 0, &format!("× {fault}"), theme.hold());
    } else if let Some(echo) = echo(filling, line, field.takes) {
        pen.put(beside, 0, &format!("= {echo}"), theme.quiet());
    }
}

/// The text with a cursor of our own: the terminal's may blink.
fn draw_typed(text: &str, cursor: usize, room: u16, style: Style, pen: &mut Pen<'_>) -> u16 {
    let before: String = text.chars().take(cursor).collect();
    let at: String = text.chars().skip(cursor).take(1).collect();
    let behind: String = text.chars().skip(cursor + 1).collect();
    let before = crate::view::text::tail(&before, room.saturating_sub(2));
    let x = pen.put_within(LABEL, 0, room, &before, style);
    let at = if at.is_empty() { " ".to_owned() } else { at };
    let x = pen.put_within(x, 0, 2, &at, style.add_modifier(Modifier::REVERSED));
    pen.put_within(x, 0, (LABEL + room).saturating_sub(x), &behind, style)
}

/// How the program understood a quantity, in the shop's units, where that reads otherwise than what was typed.
fn echo(filling: &Filling, line: &Line, takes: Takes) -> Option<String> {
    let value = filling.value(line)?;
    let echo = takes.echo(&value, filling.around().us);
    let plain = |text: &str| {
        let text = text.to_lowercase().replace([' ', '°'], "");
        text.replace('µ', "u").replace('²', "2").replace('³', "3")
    };
    let typed = plain(filling.draft().text(&line.path));
    let bare = plain(&echo);
    let number = bare.trim_end_matches(|c: char| !c.is_ascii_digit());
    (!echo.is_empty() && typed != bare && typed != number).then_some(echo)
}

fn draw_words(filling: &Filling, theme: Theme, pen: &mut Pen<'_>) {
    let room = pen.width().saturating_sub(4);
    let mut rows: Vec<(String, Style)> = Vec::new();
    let mut add = |text: &str, style: Style| {
        rows.extend(wrap(&clean(text), room).into_iter().map(|line| (line, style)));
    };
    if filling.is_dropping() {
        add("d again throws away what was typed in this form", theme.caution());
    }
    if let Some(told) = filling.told() {
        add(told, theme.caution());
    }
    let line = filling.line();
    if let Some(fault) = line.and_then(|line| filling.faults().get(&line.path)) {
        add(&format!("× {fault}"), theme.hold());
    }
    match line.map(|line| line.what) {
        Some(What::Save) => save_words(filling, &mut add, theme),
        Some(What::Field(field) | What::Another(field)) => {
            if field.takes.is_picked() {
                add(&offers_words(&filling.offers(), filling), theme.plain());
            }
            add(field.find, theme.plain());
            let empty = line.is_some_and(|line| filling.draft().text(&line.path).is_empty());
            let need = field.need == crate::book::spec::Need::Always;
            match (empty, field.without) {
                (true, "") | (false, _) => {}
                (true, without) if !need => add(&format!("left empty: {without}"), theme.quiet()),
                _ => {}
            }
        }
        Some(What::Section(_)) | None => {}
    }
    for (y, (text, style)) in (0..).zip(rows.iter().take(WORDS)) {
        pen.put(3, y, text, *style);
    }
}

/// The offers, the chosen one first named.
fn offers_words(offers: &[Offer], filling: &Filling) -> String {
    if offers.is_empty() && !filling.find().is_empty() {
        return "← → what there is".to_owned();
    }
    if offers.is_empty() {
        return "nothing to choose from yet".to_owned();
    }
    let now = filling.line().map_or("", |line| filling.draft().text(&line.path));
    let word = |offer: &Offer| match offer.value == now {
        true => format!("[{}]", offer.word),
        false => offer.word.clone(),
    };
    let words: Vec<String> = offers.iter().map(word).collect();
    format!("← → {}", words.join(" · "))
}

fn save_words(filling: &Filling, add: &mut impl FnMut(&str, Style), theme: Theme) {
    match filling.wrong() {
        0 => {}
        1 => return add("one thing does not fit yet: Enter goes there", theme.hold()),
        wrong => {
            return add(&format!("{wrong} things do not fit yet: Enter goes there"), theme.hold());
        }
    }
    let empty = filling.cannot_tell();
    if !empty.is_empty() {
        let told: Vec<String> =
            empty.iter().map(|(label, without)| format!("{label}: {without}")).collect();
        add(&format!("left empty · {}", told.join(" · ")), theme.plain());
    }
}

fn draw_form_keys(filling: &Filling, theme: Theme, pen: &mut Pen<'_>, y: u16) {
    if matches!(filling.line().map(|line| line.what), Some(What::Save)) {
        let keys = [
            ("Enter", "save"),
            ("↑", "back"),
            ("u", "take back"),
            ("d", "drop"),
            ("q", "to the book, form kept"),
        ];
        draw_keys(theme, pen, y, &keys);
    } else if filling.is_typing() {
        let keys = [
            ("typing", ""),
            ("Enter", "next"),
            ("↑ ↓", "move"),
            ("Del", "clear"),
            ("Esc", "letters are commands"),
        ];
        draw_keys(theme, pen, y, &keys);
    } else {
        let letters: Vec<(String, &str)> =
            LETTERS.iter().map(|(letter, _, does)| (letter.to_string(), *does)).collect();
        let letters = letters.iter().map(|(letter, does)| (letter.as_str(), *does));
        let keys: Vec<(&str, &str)> = std::iter::once(("Enter", "types")).chain(letters).collect();
        draw_keys(theme, pen, y, &keys);
    }
}
