//! What is told besides the clocks, newest at the bottom.

use ratatui::style::Style;

use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::wrap;
use crate::view::words::notice::Loud;

const INDENT: u16 = 2;

pub(in crate::view) fn height(page: &Page<'_, '_>, width: u16) -> u16 {
    u16::try_from(lines(page, width).len()).unwrap_or(u16::MAX)
}

/// Draws the newest lines that fit.
pub(in crate::view) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let lines = lines(page, pen.width());
    let from = lines.len().saturating_sub(pen.height().into());
    for (y, (text, style)) in (0..).zip(&lines[from..]) {
        pen.put(INDENT, y, text, *style);
    }
}

fn lines(page: &Page<'_, '_>, width: u16) -> Vec<(String, Style)> {
    let room = width.saturating_sub(INDENT * 2 + 2);
    let told = page.scene.notices.iter().map(|notice| page.words.notice(notice));
    let mut lines = Vec::new();
    for (text, loud) in paused(page).into_iter().chain(told) {
        let (mark, style) = match loud {
            Loud::Calm => ("·", page.theme.plain()),
            Loud::Caution => ("!", page.theme.caution()),
            Loud::Hold => ("×", page.theme.hold()),
        };
        let wrapped = wrap(&text, room);
        for (row, line) in wrapped.iter().enumerate() {
            let mark = if row == 0 { mark } else { " " };
            lines.push((format!("{mark} {line}"), style));
        }
    }
    lines
}

fn paused(page: &Page<'_, '_>) -> Option<(String, Loud)> {
    let (since, why) = page.scene.session.state().paused.as_ref()?;
    let since = page.words.clock(*since);
    Some((format!("paused since {since}: {why} · clocks run on · p goes on"), Loud::Caution))
}
