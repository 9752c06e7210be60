//! Screen 7: the log, newest first.

use boothside_core::board::{LogRow, Stands, log_rows};
use ratatui::style::{Modifier, Style};

use super::foot;
use super::page::{HEAD, Page};
use super::panel;
use super::pen::Pen;
use super::text::{columns, wrap};
use super::words::history::{LineKind, by};
use super::words::notice::Loud;
use crate::update::scene::Saved;

/// Least rows of the list.
const LEAST_ROWS: u16 = 4;
/// Columns of who made an entry.
const BY: u16 = 9;

/// Draws the whole screen.
pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    page.draw_head(pen);
    let (hero, style) = page.hero_line();
    pen.put(1, HEAD, &hero, style);
    let foot_rows = foot::height(page, width, height);
    foot::draw(page, &mut pen.part(0, height.saturating_sub(foot_rows), width, foot_rows));
    let top = HEAD + 1;
    draw_body(page, &mut pen.part(0, top, width, height.saturating_sub(top + foot_rows)));
}

fn draw_body(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let rows = log_rows(page.scene.session);
    let at = rows.iter().position(|row| row.entry.n == page.scene.log_chosen).unwrap_or(0);
    let (width, height) = (pen.width(), pen.height());
    let place = format!("log · {} of {} · ", rows.len() - at.min(rows.len()), rows.len());
    let after = pen.put(1, 0, &place, page.theme.strong());
    let how = if matches!(page.scene.saved, Saved::ReadOnly { .. }) {
        "↑ ↓ choose"
    } else {
        "↑ ↓ choose · Enter: strike, restore, set time, note"
    };
    pen.put(after, 0, how, page.theme.plain());
    let notice = u16::from(draw_notice(page, pen));
    let panel_rows = panel::height(page, width).min(height.saturating_sub(1 + LEAST_ROWS));
    panel::draw(page, &mut pen.part(0, height.saturating_sub(panel_rows), width, panel_rows));
    let mut bottom = height.saturating_sub(panel_rows);
    if panel_rows == 0 {
        bottom = draw_detail(page, pen, rows.get(at), bottom - notice.min(bottom));
    }
    let room = bottom.saturating_sub(1);
    draw_rows(page, &mut pen.part(0, 1, width, room), &rows, at);
}

/// The newest notice stands on the last row; a question stands over it.
fn draw_notice(page: &Page<'_, '_>, pen: &mut Pen<'_>) -> bool {
    let Some(notice) = page.scene.notices.last() else { return false };
    let (text, loud) = page.words.notice(notice);
    let (mark, style) = match loud {
        Loud::Calm => ("·", page.theme.plain()),
        Loud::Caution => ("!", page.theme.caution()),
    };
    pen.put(1, pen.height().saturating_sub(1), &format!("{mark} {text}"), style);
    true
}

/// Everything about the chosen entry, above `bottom`; returns the row where it begins.
fn draw_detail(
    page: &Page<'_, '_>,
    pen: &mut Pen<'_>,
    row: Option<&LogRow<'_>>,
    bottom: u16,
) -> u16 {
    let Some(row) = row else { return bottom };
    let most = bottom.saturating_sub(1 + LEAST_ROWS) / 2 + 2;
    let lines = detail(page, row, pen.width());
    let rows = u16::try_from(lines.len()).unwrap_or(u16::MAX).min(most);
    let top = bottom.saturating_sub(rows + 1);
    let mut part = pen.part(0, top, pen.width(), rows + 1);
    part.rule(0, page.theme.quiet());
    for (y, (text, style)) in (1..=rows).zip(&lines) {
        part.put(1, y, text, *style);
    }
    top
}

fn detail(page: &Page<'_, '_>, row: &LogRow<'_>, width: u16) -> Vec<(String, Style)> {
    let theme = page.theme;
    let mut lines = Vec::new();
    for line in page.words.entry_lines(row) {
        let style = match line.kind {
            LineKind::Told => theme.strong(),
            LineKind::Plain => theme.plain(),
            LineKind::Broken => theme.caution(),
            LineKind::Struck => theme.hold(),
        };
        for (number, text) in wrap(&line.text, width.saturating_sub(4)).into_iter().enumerate() {
            let indent = if number == 0 { "" } else { "  " };
            lines.push((format!("{indent}{text}"), style));
        }
    }
    lines
}

fn draw_rows(page: &Page<'_, '_>, pen: &mut Pen<'_>, rows: &[LogRow<'_>], at: usize) {
    let room = usize::from(pen.height());
    let from = at.saturating_sub(room / 2).min(rows.len().saturating_sub(room));
    let shown = &rows[from..rows.len().min(from + room)];
    let times: Vec<String> =
        shown.iter().map(|row| page.words.clock_to_the_second(row.when)).collect();
    let time = times.iter().map(|time| columns(time)).max().unwrap_or(0);
    let number = rows.first().map_or(1, |row| columns(&row.entry.n.to_string()));
    // who made an entry is told where it was not the hand
    let by_width = if shown.iter().any(|row| !by(row.entry.by).is_empty()) { BY } else { 0 };
    for (y, (number_in, row)) in (0..).zip((from..).zip(shown)) {
        let mut line = pen.part(0, y, pen.width(), 1);
        let when = &times[usize::from(y)];
        draw_row(page, &mut line, row, (number_in == at, number, time, by_width), when);
    }
}

fn draw_row(
    page: &Page<'_, '_>,
    pen: &mut Pen<'_>,
    row: &LogRow<'_>,
    (chosen, number, time, by_width): (bool, u16, u16, u16),
    when: &str,
) {
    let theme = page.theme;
    let struck = matches!(row.stands, Stands::Struck { .. });
    let style = match (struck, chosen) {
        // the word at its end says so too: not every terminal strikes through
        (true, _) => theme.quiet().add_modifier(Modifier::CROSSED_OUT),
        (false, true) => theme.chosen(),
        (false, false) => theme.plain(),
    };
    if chosen {
        pen.put(1, 0, "▸", theme.chosen());
    }
    let mut x = 3 + number;
    pen.put_right(x, 0, &row.entry.n.to_string(), theme.quiet());
    x += 2;
    pen.put_right(x + time, 0, when, style);
    x += time + 2;
    pen.put(x, 0, by(row.entry.by), theme.quiet());
    x += by_width;
    let flag = page.words.entry_flag(row);
    let end = pen.width().saturating_sub(1);
    let flag_style =
        if struck || !row.entry.breaks.is_empty() { theme.caution() } else { theme.quiet() };
    pen.put_right(end, 0, &flag, flag_style);
    let gap = if flag.is_empty() { 0 } else { columns(&flag) + 2 };
    let told = page.words.entry_told(row.entry);
    pen.put_within(x, 0, end.saturating_sub(x + gap), &told, style);
}
