//! A form being filled in.

use ratatui::style::{Modifier, Style};

use crate::forms::{Field, Form};
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::{clean, columns, tail, wrap};

/// Widest that a typed text is shown beside its error or hint.
const MOST_TEXT: u16 = 24;

/// Rows under the field that does not parse: what was given and what is accepted, whole.
const ERROR_ROWS: u16 = 2;

/// Rows of title, fields and what is wrong with one of them.
pub(super) fn height(form: &Form) -> usize {
    form.fields.len() + 1 + usize::from(error_rows(form))
}

fn error_rows(form: &Form) -> u16 {
    if form.fields.iter().any(|field| field.error.is_some()) { ERROR_ROWS } else { 0 }
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>, form: &Form) {
    let (width, height) = (pen.width(), pen.height());
    pen.put(1, 0, &form.title, page.theme.strong());
    let rows = usize::from(height.saturating_sub(1 + error_rows(form)));
    let from = form.focus.saturating_sub(rows.saturating_sub(1));
    let label = form.fields.iter().map(|field| columns(&clean(&field.label))).max().unwrap_or(0);
    let label = label.min(width / 3);
    let fields = form.fields.iter().enumerate().skip(from).take(rows);
    let mut y = 1;
    for (number, field) in fields {
        let mut row = pen.part(0, y, width, 1);
        draw_field(page, &mut row, field, (label, number == form.focus));
        y += 1;
        if let Some(error) = &field.error {
            let lines = wrap(&format!("× {}", clean(error)), width.saturating_sub(6));
            for line in lines.iter().take(usize::from(ERROR_ROWS)) {
                pen.put(5, y, line, page.theme.hold());
                y += 1;
            }
        }
    }
}

fn draw_field(
    page: &Page<'_, '_>,
    pen: &mut Pen<'_>,
    field: &Field,
    (label, focused): (u16, bool),
) {
    let theme = page.theme;
    let style = if focused { theme.strong() } else { theme.plain() };
    if focused {
        pen.put(1, 0, "▸", theme.chosen());
    }
    pen.put_within(3, 0, label, &field.label, style);
    let x = 3 + label + 2;
    let beside = !field.hint.is_empty();
    let room = pen.width().saturating_sub(x + 2);
    let room = if beside { room.min(MOST_TEXT) } else { room };
    let text = tail(&clean(&field.text), room.saturating_sub(1));
    let after = pen.put(x, 0, &text, style);
    if focused {
        // a cursor of our own: the terminal's may blink
        pen.put_within(after, 0, 1, " ", Style::new().add_modifier(Modifier::REVERSED));
    }
    let x = (x + 10).max(after + 2);
    let told = focused || field.name.shows_its_hint();
    if told && field.error.is_none() {
        pen.put(x, 0, &field.hint, theme.quiet());
    }
}
