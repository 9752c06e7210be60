//! After a minute without a key: what can be read from across the room, and nothing else.

use boothside_core::session::standing::PotNow;

use super::big;
use super::page::Page;
use super::pen::Pen;
use super::text::columns;
use super::widgets::big::BigText;

const INDENT: u16 = 3;

/// One large line.
struct Line {
    text: String,
    scale: Option<u16>,
    due: bool,
}

impl Line {
    fn rows(&self) -> u16 {
        self.scale.map_or(1, big::rows)
    }
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    draw_top(page, pen);
    let banner = u16::from(page.draw_banner(pen, 1));
    let top = 1 + banner;
    let foot = 1;
    let room = height.saturating_sub(top + foot);
    let lines = fitting(page, width.saturating_sub(INDENT * 2), room);
    let used: u16 = lines.iter().map(Line::rows).sum();
    let gaps = u16::try_from(lines.len()).unwrap_or(0) + 1;
    let gap = (room.saturating_sub(used) / gaps).min(3);
    let mut y = top + gap;
    for line in &lines {
        let style = if line.due { page.theme.due() } else { page.theme.strong() };
        let rows = line.rows();
        let place = (INDENT, y, width.saturating_sub(INDENT), rows);
        let large = BigText::new(&line.text).style(style);
        pen.draw(place, large.scale(line.scale.unwrap_or(1)));
        y += rows + gap;
    }
    let after = pen.put(1, height.saturating_sub(1), " SPACE ", page.theme.due());
    pen.put(after + 1, height.saturating_sub(1), &page.words.next(), page.theme.strong());
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
fn fitting(page: &Page<'_, '_>, width: u16, height: u16) -> Vec<Line> {
    let hero = &page.hero;
    let fit = |text: &str, most: u16| {
        let found = big::largest_variant(text, width, big::rows(most));
        let (text, scale) = found.map_or((text.to_owned(), None), |(text, scale)| {
            (text, Some(scale.min(most)))
        });
        Line { text, scale, due: false }
    };
    let largest = (height * 2 / 7).max(1);
    let mut smallest = Vec::new();
    for scale in (1..=largest).rev() {
        let half = (scale / 2).max(1);
        let number = Line { due: hero.due, ..fit(&hero.big, scale) };
        let mut lines = vec![number, fit(&hero.subject, half), fit(&hero.verb, half)];
        lines.extend(pot_edge(page).map(|pot| fit(&pot, half)));
        lines.retain(|line| !line.text.is_empty());
        let used: u16 = lines.iter().map(Line::rows).sum();
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
