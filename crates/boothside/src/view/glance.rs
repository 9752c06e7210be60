//! After a minute without a key: what can be read from across the room, and nothing else.

use boothside_core::session::standing::PotNow;

use super::big::{LEAST_ROWS, Large};
use super::page::Page;
use super::pen::Pen;
use super::text::columns;

const INDENT: u16 = 3;

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    draw_top(page, pen);
    let banner = u16::from(page.draw_banner(pen, 1));
    let top = 1 + banner;
    let foot = 1;
    let room = height.saturating_sub(top + foot);
    let lines = fitting(page, width.saturating_sub(INDENT * 2), room);
    let used: u16 = lines.iter().map(|line| line.rows).sum();
    let spare = room.saturating_sub(used);
    let between = u16::try_from(lines.len()).unwrap_or(0).saturating_sub(1).max(1);
    let gap = (spare / between).min(3);
    let mut y = top + spare.saturating_sub(gap * between) / 2;
    for (number, line) in lines.iter().enumerate() {
        let due = page.hero.due && number == 0;
        let style = if due { page.theme.due() } else { page.theme.strong() };
        pen.draw((INDENT, y, line.columns, line.rows), line.widget().style(style));
        y += line.rows + gap;
    }
    let after = pen.put(1, height.saturating_sub(1), " SPACE ", page.theme.due());
    pen.put(
        after + 1,
        height.saturating_sub(1),
        &page.words.next(&page.scene.board.next),
        page.theme.strong(),
    );
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

/// Number, face, verb, pot: the number as large as leaves the others large as well.
fn fitting(page: &Page<'_, '_>, width: u16, height: u16) -> Vec<Large> {
    let hero = &page.hero;
    let pot = pot_edge(page);
    let mut smallest = Vec::new();
    for number in (LEAST_ROWS..=height.max(LEAST_ROWS)).rev() {
        let half = (number / 2).max(LEAST_ROWS);
        let mut lines = vec![Large::fitting(&hero.big, width, number)];
        let below = [Some(&hero.subject), Some(&hero.verb), pot.as_ref()];
        let below = below.into_iter().flatten().filter(|text| !text.is_empty());
        lines.extend(below.map(|text| Large::name(text, width, half)));
        let used: u16 = lines.iter().map(|line| line.rows).sum();
        let gaps = u16::try_from(lines.len()).unwrap_or(0);
        if used + gaps.saturating_sub(1) <= height {
            return lines;
        }
        smallest = lines;
    }
    smallest
}

/// The next edge of the pot in the gun, or of the first one, where the hero is not that already.
fn pot_edge(page: &Page<'_, '_>) -> Option<String> {
    let pots = &page.scene.board.pots;
    let row = pots.iter().find(|row| row.in_the_gun).or_else(|| pots.first())?;
    let name = page.words.pot(&row.at.id);
    if name == page.hero.subject {
        return None;
    }
    let left = |at: Option<boothside_core::session::time::Moment>| {
        at.map(|at| format!("{name} {}", page.words.left_until(at)))
    };
    match row.at.now {
        PotNow::Standing => left(row.at.stands_until.and_then(|due| due.moment())),
        PotNow::Good => left(row.at.last_trigger),
        PotNow::StopAndClean => Some(format!("{name} stop and clean")),
        PotNow::Dead => Some(format!("{name} dead")),
        PotNow::Emptied => None,
    }
}
