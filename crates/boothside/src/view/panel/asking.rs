//! Questions that one digit answers.

use boothside_core::session::standing::Hold;
use ratatui::style::Style;

use super::entry;
use crate::update::scene::{
    Asking, FILM_FACTS, Intention, LOCKS_KEYS, OTHER_FACTS, PAUSES, POT_FACTS, REASONS,
};
use crate::view::page::Page;
use crate::view::text::{columns, wrap};
use crate::view::words::choice::{film_fact, other_fact, pause_why, pot_fact};
use crate::view::words::event::reason_words;
use crate::view::words::time::{Time, spoken};

/// Most holds that are listed one by one.
const MOST_HOLDS: usize = 3;

pub(super) type Lines = Vec<(String, Style)>;

/// The lines of a question.
pub(super) fn lines(page: &Page<'_, '_>, asking: &Asking, width: u16) -> Lines {
    let words = &page.words;
    match asking {
        Asking::Holds { intention, holds } => hold_lines(page, intention, holds, width),
        Asking::OtherFacts { face } => {
            let title = format!("what else happened to {}?", words.face(*face));
            asked(page, title, &OTHER_FACTS.map(other_fact), width)
        }
        Asking::TakeBackOld { events, when, .. } => {
            let age = spoken(words.now().since(*when), Time::Past);
            let told = words.events(events);
            let title = format!("take back what was told {age} ago? {told}");
            asked(page, title, &["take it back"], width)
        }
        Asking::RestOn { coat, .. } => {
            let title = format!("no face of coat {coat} was begun: is all of it on?");
            asked(page, title, &["the rest of the coat is on"], width)
        }
        Asking::Close => {
            let title = "close the session? Its log is kept.".to_owned();
            asked(page, title, &["close it"], width)
        }
        Asking::PauseWhy => {
            let title = "why is work interrupted? Clocks run on.".to_owned();
            let mut lines = asked(page, title, &PAUSES.map(pause_why), width);
            let lock = format!("  {LOCKS_KEYS} nothing: lock the keys, to wipe the keyboard");
            lines.push((lock, page.theme.plain()));
            lines
        }
        Asking::Entry { n, choices } => entry::lines(page, *n, choices, width),
        Asking::Film { face } => {
            let title = format!("what was read? {}", words.face(*face));
            asked(page, title, &FILM_FACTS.map(film_fact), width)
        }
        Asking::Pot => {
            let title = "what happened to the pot?".to_owned();
            asked(page, title, &POT_FACTS.map(pot_fact), width)
        }
    }
}

pub(super) fn asked(page: &Page<'_, '_>, title: String, choices: &[&str], width: u16) -> Lines {
    let mut lines = vec![(title, page.theme.strong())];
    lines.extend(numbered(choices, width).into_iter().map(|line| (line, page.theme.plain())));
    lines
}

fn hold_lines(page: &Page<'_, '_>, intention: &Intention, holds: &[Hold], width: u16) -> Lines {
    let theme = page.theme;
    let what = match intention {
        Intention::Begin { face } => {
            let number = page.words.session.plan().index(face);
            let coat = number.map_or_else(|| "a coat".into(), |face| coat(page, face));
            format!("hold: begin {coat}: {}", page.words.face_of(face))
        }
        Intention::GoOn => "hold: go on without waiting".into(),
        Intention::Close => "hold: close the session".into(),
    };
    let mut lines = vec![(what, theme.strong())];
    for hold in holds.iter().take(MOST_HOLDS) {
        let hold = page.words.hold(hold);
        let text = format!("× {} → {}", hold.what, hold.clear);
        let whole = wrap(&text, width.saturating_sub(6)).into_iter().enumerate();
        lines.extend(whole.map(|(at, line)| {
            let indent = if at == 0 { "  " } else { "    " };
            (format!("{indent}{line}"), theme.hold())
        }));
    }
    if holds.len() > MOST_HOLDS {
        let more = format!("  × {} more", holds.len() - MOST_HOLDS);
        lines.push((more, theme.hold()));
    }
    let reasons = REASONS.map(reason_words);
    lines.push(("go on anyway, because:".into(), theme.plain()));
    lines.extend(numbered(&reasons, width).into_iter().map(|line| (line, theme.plain())));
    lines
}

fn coat(page: &Page<'_, '_>, face: usize) -> String {
    let next = page.scene.board.faces.get(face).and_then(|row| row.at.next);
    next.map_or_else(|| "one coat more".into(), |(_, coat)| format!("coat {coat}"))
}

/// Choices by their digit, as many on a line as fit, in columns.
fn numbered(choices: &[&str], width: u16) -> Vec<String> {
    let items: Vec<String> = choices
        .iter()
        .enumerate()
        .map(|(at, choice)| format!("{} {choice}", (at + 1) % 10))
        .collect();
    let widest = items.iter().map(|item| columns(item)).max().unwrap_or(0);
    let column = usize::from(widest) + 3;
    let a_line = (usize::from(width.saturating_sub(4)) / column).max(1);
    let line = |items: &[String]| {
        let padded: String = items
            .iter()
            .map(|item| format!("{item}{}", " ".repeat(column - item_width(item))))
            .collect();
        format!("  {}", padded.trim_end())
    };
    items.chunks(a_line).map(line).collect()
}

fn item_width(item: &str) -> usize {
    columns(item).into()
}
