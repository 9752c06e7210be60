//! A clock that runs: the number, beside it whose it is and what explains it.

use crate::view::big::{LEAST_ROWS, Large};
use crate::view::page::Page;
use crate::view::pen::Pen;

const INDENT: u16 = 3;
const GAP: u16 = 4;

/// How the hero is drawn in a room of a given size.
struct Plan {
    number: Large,
    subject: Large,
    text_x: u16,
}

fn plan(page: &Page<'_, '_>, width: u16, rows: u16) -> Plan {
    // three fifths of the width at most: the face must be large as well
    let room = width.saturating_sub(INDENT).saturating_mul(3) / 5;
    let number = Large::fitting(&page.hero.big, room, rows.max(LEAST_ROWS));
    let text_x = INDENT + number.columns + GAP;
    let left = width.saturating_sub(text_x + 1);
    let for_subject = number.rows.saturating_sub(lines(page));
    let subject = Large::name(&page.hero.subject, left, for_subject.min(number.rows / 2 + 1));
    Plan { number, subject, text_x }
}

/// Verb and explanation.
fn lines(page: &Page<'_, '_>) -> u16 {
    1 + u16::try_from(page.hero.lines.len()).unwrap_or(u16::MAX)
}

/// Rows that the largest number takes within `most`, with a blank row above and below.
pub(super) fn best(page: &Page<'_, '_>, width: u16, most: u16) -> u16 {
    plan(page, width, most.saturating_sub(2)).number.rows.max(LEAST_ROWS) + 2
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    let top = u16::from(height > LEAST_ROWS);
    let bottom = u16::from(height > LEAST_ROWS + 1);
    let plan = plan(page, width, height.saturating_sub(top + bottom));
    let style = page.theme.strong();
    let (number, subject, x) = (&plan.number, &plan.subject, plan.text_x);
    let place = (INDENT, top, number.columns, number.rows);
    pen.draw(place, number.widget().style(style));
    let mut y = top;
    if subject.scale.is_some() {
        let place = (x, y, width.saturating_sub(x), subject.rows);
        pen.draw(place, subject.widget().style(style));
        y += subject.rows;
        // a blank row between, where there is one to spare
        let spare = (top + number.rows).saturating_sub(y + lines(page));
        y += spare.min(1);
    } else {
        pen.put(x, y, &subject.text.to_uppercase(), style);
        y += 1;
    }
    pen.put(x, y, &page.hero.verb, style);
    for (y, line) in (y + 1..height).zip(&page.hero.lines) {
        pen.put(x, y, line, page.theme.plain());
    }
}
