//! The bottom of every screen: what SPACE does, and the keys that matter now.

use boothside_core::board::{Board, Next, Stage, Waited};
use boothside_core::session::standing::FaceNow;

use super::page::Page;
use super::pen::Pen;
use super::text::columns;
use super::widgets::big::{BigText, Scale};
use crate::update::scene::{Asking, Saved, Screen};
use crate::update::table::{Do, KeyRow};

/// From this height on what SPACE does is written large, where it fits.
const TALL: u16 = 40;
/// Rows of a rule, the SPACE line, the key line.
const USUAL: u16 = 3;

/// What stands for the keys while they are locked.
pub(super) const LOCKED: &str = "keys locked: press 1 2 3";

/// How many rows the bottom takes.
pub(super) fn height(page: &Page<'_, '_>, width: u16, height: u16) -> u16 {
    if page.scene.form.is_some() {
        2
    } else if is_large(page, width, height) {
        USUAL + 5
    } else {
        USUAL
    }
}

fn is_large(page: &Page<'_, '_>, width: u16, height: u16) -> bool {
    let large = BigText::new(&page.words.next(&page.scene.board.next));
    height >= TALL && large.best_scale(width.saturating_sub(10), 4).is_some()
}

/// Draws it into the whole of `pen`, which is as high as [`height`] says.
pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let theme = page.theme;
    pen.rule(0, theme.quiet());
    if page.scene.form.is_some() {
        let after = pen.put(1, 1, "typing · Enter next · Esc cancel", theme.strong());
        // SPACE types here: what is due is answered by the key that is never typed
        if page.hero.due && page.scene.board.next.is_action() {
            let next = page.words.next(&page.scene.board.next);
            pen.put(after, 1, &format!(" · PageDown: {next}"), theme.strong());
        }
        return;
    }
    let next = page.words.next(&page.scene.board.next);
    // what the writer's SPACE does; here it does nothing
    let reads_only = matches!(page.scene.saved, Saved::ReadOnly { .. });
    let (key, style) = if reads_only || page.scene.locked {
        (" next: ", theme.plain())
    } else {
        (" SPACE ", theme.due())
    };
    let after = pen.put(1, pen.height() / 2, key, style);
    if pen.height() > USUAL {
        let place = (after + 2, 2, pen.width().saturating_sub(after + 3), 4);
        pen.draw(place, BigText::new(&next).scale(Scale::ONE).style(theme.strong()));
    } else {
        pen.put(after + 1, 1, &next, theme.strong());
    }
    draw_keys(page, pen);
}

fn draw_keys(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (theme, y) = (page.theme, pen.height().saturating_sub(1));
    if page.scene.locked {
        pen.put(1, y, LOCKED, theme.strong());
        return;
    }
    if page.scene.leaving && page.scene.board.stage == Stage::Closed {
        pen.put(1, y, "q again leaves, 8 goes to the book", theme.strong());
        return;
    }
    if page.scene.leaving {
        let told = "q again leaves, 8 goes to the book: the session stays open, its clocks run on";
        pen.put(1, y, told, theme.caution());
        return;
    }
    if let Some(asking) = page.scene.asking {
        pen.put(1, y, how_to_answer(asking), theme.strong());
        return;
    }
    let mut x = 1;
    for row in chosen_keys(page, pen.width()) {
        let after = pen.put(x, y, row.shown, theme.strong());
        x = pen.put(after + 1, y, short(page, row), theme.plain()) + 2;
    }
}

const fn how_to_answer(asking: &Asking) -> &'static str {
    match asking {
        Asking::Holds { .. } => "press a digit to go on anyway, for that reason · Esc closes",
        Asking::TakeBackOld { .. } => "1 takes it back · Esc closes",
        Asking::Entry { .. } => "press a digit · Esc closes",
        Asking::OtherFacts { .. } | Asking::PauseWhy | Asking::Pot | Asking::Film { .. } => {
            "press a digit · Esc closes"
        }
    }
}

/// The keys of the bottom line: those that matter most now, as many as fit, and '?' at the end.
fn chosen_keys<'k>(page: &Page<'_, 'k>, width: u16) -> Vec<&'k KeyRow> {
    let mut ranked: Vec<(u8, &KeyRow)> =
        page.scene.keys.iter().filter_map(|row| Some((rank(page, row.does)?, row))).collect();
    ranked.sort_by_key(|(rank, _)| *rank);
    let last = page.scene.keys.iter().find(|row| row.does == Do::Keys);
    let last = last.filter(|_| page.scene.screen != Screen::Keys);
    let wide = |row: &KeyRow| columns(row.shown) + 1 + columns(short(page, row)) + 2;
    let mut room = width.saturating_sub(1 + last.map_or(0, wide)).saturating_add(1);
    let mut keys = Vec::new();
    for (_, row) in ranked {
        let Some(left) = room.checked_sub(wide(row)) else {
            continue;
        };
        room = left;
        keys.push(row);
    }
    keys.extend(last);
    keys
}

/// What a key is called here: with no face chosen, Enter goes on past a wait; on the bench it pours.
fn short<'k>(page: &Page<'_, '_>, row: &'k KeyRow) -> &'k str {
    match row.does {
        does if page.scene.screen == Screen::Mix => match does {
            Do::Act => "pour",
            Do::Mix => "how much",
            Do::Figure => "scale or marks",
            Do::OtherFacts => "of the pot",
            _ => row.short,
        },
        Do::Act if page.scene.screen == Screen::Film => "read or weigh",
        Do::Act if page.scene.screen == Screen::Ready => "answer",
        Do::Act if page.scene.chosen.is_none() && waits_for_a_face(page.scene.board) => {
            "choose a face"
        }
        Do::Act if page.scene.chosen.is_none() => "go on",
        _ => row.short,
    }
}

/// Whether Enter goes on only with a face that is chosen first.
const fn waits_for_a_face(board: &Board) -> bool {
    let Next::Wait { what, .. } = &board.next else { return false };
    !matches!(
        what,
        Waited::AfterStep { .. }
            | Waited::StageBeforeStep { .. }
            | Waited::Condensing
            | Waited::Stand { .. }
            | Waited::ToHang { .. }
            | Waited::Cure { .. }
            | Waited::Away { .. }
    )
}

/// Whether the work waits for a part that is away.
const fn hangs_nothing(board: &Board) -> bool {
    matches!(board.next, Next::Wait { what: Waited::ToHang { .. } | Waited::Away { .. }, .. })
}

/// How much a key matters now, smallest first; nothing for one that is not shown.
fn rank(page: &Page<'_, '_>, does: Do) -> Option<u8> {
    let board = page.scene.board;
    let has = |wanted: fn(FaceNow) -> bool| board.faces.iter().any(|row| wanted(row.at.now));
    let looks = has(|now| matches!(now, FaceNow::Look | FaceNow::Flashing));
    let sprays = matches!(board.stage, Stage::Coat { .. });
    let waits = matches!(board.next, Next::Wait { .. });
    let known = page.scene.session.entries().len() > 1;
    let due = page.hero.due;
    let bench = page.scene.screen == Screen::Mix;
    let closed = board.stage == Stage::Closed;
    let shown = |wanted: bool, rank: u8| wanted.then_some(rank);
    match does {
        Do::Next | Do::Up | Do::Down | Do::Keys | Do::TrueTime => None,
        Do::Clocks if bench => Some(3),
        Do::Clocks => shown(page.scene.screen != Screen::Clocks, 0),
        Do::Act if bench => Some(0),
        Do::Mix if bench => Some(1),
        Do::Figure if bench => Some(1),
        Do::FlowCup | Do::Lots | Do::Rests => shown(bench, 4),
        Do::OtherFacts if bench => Some(2),
        Do::Bench => None,
        Do::Act if page.scene.screen == Screen::Ready => Some(0),
        Do::Ready => shown(page.scene.screen != Screen::Ready && !sprays, 4),
        Do::Air => shown(page.scene.screen == Screen::Ready, 4),
        Do::Leave => Some(if closed { 0 } else { 12 }),
        Do::TakeBack => shown(known, 3),
        // a way on: the book
        Do::Book if closed => Some(1),
        _ if closed => None,
        // the log has its own line for what Enter does there
        Do::Act if page.scene.screen == Screen::Log => None,
        Do::Act if page.scene.screen == Screen::Film => Some(0),
        Do::Act => shown(waits || page.scene.chosen.is_some(), 0),
        Do::Dulled | Do::StillWet => shown(looks, 1),
        Do::Silence => shown(due, 2),
        Do::OtherFacts => Some(if page.scene.chosen.is_some() { 1 } else { 9 }),
        Do::RestOn => shown(sprays, 5),
        Do::JumpOn => Some(4),
        Do::Earlier => shown(known, 6),
        Do::Mix | Do::Reading => Some(7),
        Do::CupFilled => shown(sprays, 8),
        Do::Pause => Some(10),
        Do::Note => Some(11),
        Do::Hang => Some(if hangs_nothing(board) { 1 } else { 13 }),
        Do::Fault => shown(sprays || looks, 8),
        Do::Gun => shown(sprays, 9),
        Do::Film => shown(sprays || page.scene.screen == Screen::Film, 9),
        Do::FilmScreen => shown(page.scene.screen != Screen::Film, 11),
        Do::Log => shown(page.scene.screen != Screen::Log, 11),
        Do::Figure | Do::Faster | Do::Slower | Do::Book => Some(13),
    }
}
