//! A clock that runs: the number, beside it whose it is and what explains it.

use crate::view::big;
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::widgets::big::BigText;

const INDENT: u16 = 3;
const GAP: u16 = 4;

/// How the hero is drawn in a room of a given size.
struct Plan {
    number: u16,
    /// Scale of the subject; nothing for ordinary text.
    subject: Option<(String, u16)>,
    text_x: u16,
}

fn plan(page: &Page<'_, '_>, width: u16, rows: u16) -> Plan {
    // two thirds of the width at most: the face must be large as well
    let room = width.saturating_sub(INDENT).saturating_mul(2) / 3;
    let number = big::scale(&page.hero.big, room, rows).unwrap_or(1);
    let text_x = INDENT + big::width_or_columns(&page.hero.big, number) + GAP;
    let left = width.saturating_sub(text_x + 1);
    let lines = lines(page);
    let for_subject = big::rows(number).saturating_sub(lines).min(big::rows(number) / 2 + 1);
    let subject = big::largest_variant(&page.hero.subject, left, for_subject);
    Plan { number, subject, text_x }
}

fn lines(page: &Page<'_, '_>) -> u16 {
    1 + u16::try_from(page.hero.lines.len()).unwrap_or(u16::MAX)
}

/// Rows that the largest number takes within `most`, with a blank row above and below.
pub(super) fn best(page: &Page<'_, '_>, width: u16, most: u16) -> u16 {
    let plan = plan(page, width, most.saturating_sub(2));
    big::rows(plan.number) + 2
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    let top = u16::from(height > 4);
    let plan = plan(page, width, height.saturating_sub(top));
    let style = page.theme.strong();
    let number = BigText::new(&page.hero.big).scale(plan.number).style(style);
    let (wide, high) = (plan.text_x.saturating_sub(INDENT), big::rows(plan.number));
    pen.draw((INDENT, top, wide, high), number);
    let x = plan.text_x;
    let mut y = top;
    match &plan.subject {
        Some((name, scale)) => {
            let rows = big::rows(*scale);
            let large = BigText::new(name).scale(*scale).style(style);
            pen.draw((x, y, width.saturating_sub(x), rows), large);
            y += rows;
            // a blank row between, where there is one to spare
            let spare = (top + high).saturating_sub(y + lines(page));
            y += spare.min(1);
        }
        None => {
            pen.put(x, y, &page.hero.subject.to_uppercase(), style);
            y += 1;
        }
    }
    pen.put(x, y, &page.hero.verb, style);
    for (y, line) in (y + 1..height).zip(&page.hero.lines) {
        pen.put(x, y, line, page.theme.plain());
    }
}
