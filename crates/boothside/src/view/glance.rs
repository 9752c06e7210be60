//! After a minute without a key: what can be read from across the room, and nothing else.

use boothside_core::session::standing::PotNow;

use super::foot::LOCKED;
use super::hero::INDENT;
use super::page::Page;
use super::pen::Pen;
use super::text::{columns, wrap};
use super::widgets::poster::{Poster, Settings};
use super::words::time::Time;

const SPACE: &str = " SPACE ";

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    draw_top(page, pen);
    let top = 1 + u16::from(page.draw_banner(pen, 1));
    let foot = foot(page, width);
    let foot_rows = u16::try_from(foot.len()).unwrap_or(1).min(height.saturating_sub(top));
    let room = height.saturating_sub(top + foot_rows);
    let pot_rows = draw_pot(page, &mut pen.part(0, top, width, room));
    let hero = page.loud.best_rows(width, room.saturating_sub(pot_rows));
    // in the middle of what is left
    let above = room.saturating_sub(pot_rows + hero) / 2;
    page.loud.draw(page.theme, &mut pen.part(0, top + above, width, hero));
    let from = height - foot_rows;
    if page.scene.locked {
        pen.put(1, from, LOCKED, page.theme.strong());
        return;
    }
    for (y, line) in (from..height).zip(&foot) {
        let x = if y == from { pen.put(1, y, SPACE, page.theme.due()) } else { 1 + columns(SPACE) };
        pen.put(x + 1, y, line, page.theme.strong());
    }
}

/// What SPACE does, in as many lines as that takes.
fn foot(page: &Page<'_, '_>, width: u16) -> Vec<String> {
    wrap(&page.words.next(&page.scene.board.next), width.saturating_sub(columns(SPACE) + 3))
}

/// The next edge of the pot at the bottom, large where there is room; how many rows it takes.
fn draw_pot(page: &Page<'_, '_>, pen: &mut Pen<'_>) -> u16 {
    let Some(text) = pot_edge(page) else { return 0 };
    let (width, height) = (pen.width(), pen.height());
    let large = Settings::of(&text).fit(width.saturating_sub(INDENT * 2), height / 5, false);
    let rows = large.as_ref().map_or(1, Poster::rows);
    let y = height.saturating_sub(rows + 1);
    match large {
        Some(poster) => {
            pen.draw((0, y, width, rows), poster.styled(page.theme.strong(), INDENT));
        }
        None => _ = pen.put(INDENT, y, &text, page.theme.strong()),
    }
    rows + 2
}

fn draw_top(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let end = pen.width().saturating_sub(1);
    pen.put(1, 0, &page.words.time_of_day(), page.theme.strong());
    let mut end = end;
    if let Some((saved, style)) = page.saved() {
        pen.put_right(end, 0, &saved, style);
        end = end.saturating_sub(columns(&saved) + 4);
    }
    if let Some(rehearsal) = page.rehearsal() {
        pen.put_right(end, 0, &rehearsal, page.theme.due());
    }
}

/// The next edge of the pot in the gun, or of the first one, where the hero is not that already.
fn pot_edge(page: &Page<'_, '_>) -> Option<String> {
    let pots = &page.scene.board.pots;
    let row = pots.iter().find(|row| row.in_the_gun).or_else(|| pots.first())?;
    let name = page.words.pot(&row.at.id);
    if page.loud.large.to_lowercase().contains(&name) {
        return None;
    }
    let left = |at: Option<boothside_core::session::time::Moment>, time| {
        at.map(|at| format!("{name} {}", page.words.left_until(at, time)))
    };
    match row.at.now {
        PotNow::Standing => left(row.at.stands_until.and_then(|due| due.moment()), Time::Wait),
        PotNow::Good => left(row.at.last_trigger, Time::Limit),
        PotNow::StopAndClean => Some(format!("{name} stop and clean")),
        PotNow::Dead => Some(format!("{name} dead")),
        PotNow::Emptied => None,
    }
}
