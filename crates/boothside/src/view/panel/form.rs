//! A form being filled in.

use ratatui::style::{Modifier, Style};

use crate::forms::{Field, Form, FormKind};
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::{clean, columns, tail, wrap};

/// Widest that a typed text is shown beside its error or hint.
const MOST_TEXT: u16 = 24;

/// Rows under the field that does not parse: what was given and what is accepted, whole.
const ERROR_ROWS: u16 = 2;
/// So many fields leave room for the clocks on a small screen; the others come as the focus moves.
const MOST_FIELDS: usize = 6;
/// From so many rows on every field has its own.
const ROOMY: u16 = 30;

/// Rows of title, fields and what is wrong with one of them. Fields aside come into sight by
/// scrolling: what is due needs the rows.
pub(super) fn height(page: &Page<'_, '_>, form: &Form) -> usize {
    let fields = form.fields.iter().filter(|field| !field.aside).count();
    let most = if page.rows < ROOMY { MOST_FIELDS } else { form.fields.len() };
    fields.min(most) + titles(page, form).len() + usize::from(error_rows(form))
}

fn error_rows(form: &Form) -> u16 {
    if form.fields.iter().any(|field| field.error.is_some()) { ERROR_ROWS } else { 0 }
}

/// The title; for a true time also what it told, and when that can have been.
fn titles(page: &Page<'_, '_>, form: &Form) -> Vec<String> {
    let mut titles = vec![form.title.clone()];
    let words = &page.words;
    let of = match form.kind {
        FormKind::TimeOf(n) => Some(n),
        FormKind::TrueTime => boothside_core::session::last_fact(words.session),
        _ => None,
    };
    if let Some(n) = of {
        titles.push(format!("  {}", words.entries(&[n])));
        titles.extend(words.possible_times(n).map(|times| format!("  {times}")));
    }
    if let FormKind::NoteAbout(n) = form.kind {
        titles.push(format!("  {}", words.entries(&[n])));
    }
    titles
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>, form: &Form) {
    let (width, height) = (pen.width(), pen.height());
    let titles = titles(page, form);
    for (y, title) in (0..).zip(&titles) {
        let style = if y == 0 { page.theme.strong() } else { page.theme.plain() };
        pen.put(1, y, title, style);
    }
    let top = u16::try_from(titles.len()).unwrap_or(u16::MAX);
    let rows = usize::from(height.saturating_sub(top + error_rows(form)));
    let from = form.focus.saturating_sub(rows.saturating_sub(1));
    let label = form.fields.iter().map(|field| columns(&clean(&field.label))).max().unwrap_or(0);
    let label = label.min(width / 3);
    let fields = form.fields.iter().enumerate().skip(from).take(rows);
    let below = form.fields.len().saturating_sub(from + rows);
    let more = [("↑", from), ("↓", below)].into_iter().filter(|(_, count)| *count > 0);
    let more: Vec<String> = more.map(|(way, count)| format!("{way} {count} more")).collect();
    pen.put_right(width.saturating_sub(1), 0, &more.join(" · "), page.theme.quiet());
    let mut y = top;
    for (number, field) in fields {
        let mut row = pen.part(0, y, width, 1);
        let focused = number == form.focus;
        // what stays when empty is read before anything is typed
        let hint = focused || form.kind == FormKind::Gun && field.text.is_empty();
        draw_field(page, &mut row, field, (label, focused, hint, form.at_rest));
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
    (label, focused, hint, at_rest): (u16, bool, bool, bool),
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
    let at_rest = focused && at_rest && !text.is_empty();
    // what the next character replaces is marked as a whole
    let typed = if at_rest { style.patch(reversed()) } else { style };
    let after = pen.put(x, 0, &text, typed);
    if focused && !at_rest {
        // a cursor of our own: the terminal's may blink
        pen.put_within(after, 0, 1, " ", reversed());
    }
    let x = (x + 10).max(after + 2);
    if field.error.is_some() {
        return;
    }
    if let Some(understood) = &field.understood {
        pen.put(x, 0, understood, theme.strong());
    } else if hint || field.stands {
        pen.put(x, 0, &field.hint, theme.quiet());
    }
}

const fn reversed() -> Style {
    Style::new().add_modifier(Modifier::REVERSED)
}
