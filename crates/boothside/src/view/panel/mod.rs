//! A question or a form beside the clocks: it never hides them.

mod asking;
mod entry;
mod forgotten;
mod form;
mod offer;

use ratatui::style::Style;

use super::page::Page;
use super::pen::Pen;

/// Rows that it takes; none without question or form.
pub(super) fn height(page: &Page<'_, '_>, width: u16) -> u16 {
    let rows = match (page.scene.form, page.scene.asking) {
        (Some(form), _) => form::height(page, form),
        (None, Some(asking)) => asking::lines(page, asking, width).len(),
        (None, None) => match beside(page, width) {
            lines if lines.is_empty() => return 0,
            lines => lines.len(),
        },
    };
    // a rule above it
    u16::try_from(rows + 1).unwrap_or(u16::MAX)
}

/// Draws it into the whole of `pen`.
pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    if pen.height() == 0 {
        return;
    }
    let (width, height) = (pen.width(), pen.height());
    pen.rule(0, page.theme.quiet());
    let mut room = pen.part(0, 1, width, height - 1);
    match (page.scene.form, page.scene.asking) {
        (Some(form), _) => form::draw(page, &mut room, form),
        (None, Some(asking)) => {
            put_lines(&mut room, &asking::lines(page, asking, width));
        }
        (None, None) => put_lines(&mut room, &beside(page, width)),
    }
}

/// What is asked of itself: only one of them at a time.
fn beside(page: &Page<'_, '_>, width: u16) -> asking::Lines {
    let mut lines = forgotten::lines(page, width);
    lines.extend(offer::lines(page, width));
    lines
}

fn put_lines(pen: &mut Pen<'_>, lines: &[(String, Style)]) {
    for (y, (text, style)) in (0..).zip(lines) {
        pen.put(1, y, text, *style);
    }
}
