//! Under the pours: what follows from them, what the amount rests on, stir, cup, lots, label.

use boothside_core::board::mixing::{MixBoard, OnBench};
use ratatui::style::Style;

use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::wrap;
use crate::view::words::mix::Level;

/// Columns of what stands before a line.
const LABEL: u16 = 12;

/// A line: its label, its text, its style.
type Line = (&'static str, String, Style);

fn styled(page: &Page<'_, '_>, level: Level) -> (&'static str, Style) {
    match level {
        Level::Hold => ("×", page.theme.hold()),
        Level::Caution => ("!", page.theme.caution()),
        Level::Calm => ("·", page.theme.plain()),
    }
}

/// What follows from the pours.
fn consequences(page: &Page<'_, '_>, mix: &MixBoard, width: u16) -> Vec<Line> {
    let mut lines = Vec::new();
    for (level, text) in page.words.consequences(mix) {
        let (mark, style) = styled(page, level);
        for (row, line) in wrap(&text, width.saturating_sub(6)).into_iter().enumerate() {
            let mark = if row == 0 { mark } else { " " };
            lines.push(("", format!("{mark} {line}"), style));
        }
    }
    lines
}

/// The rest, most important first: before the pot is mixed the amount, then what to write on it.
fn rest(page: &Page<'_, '_>, mix: &MixBoard, width: u16) -> Vec<Line> {
    let (words, theme) = (&page.words, page.theme);
    let plain = theme.plain();
    let needed = [("needed e", words.need(mix), plain)];
    let label: Vec<Line> =
        words.label(mix).map(|text| ("on the pot", text, theme.strong())).into_iter().collect();
    let mut told: Vec<Line> =
        words.treatment(mix).map(|text| ("then", text, plain)).into_iter().collect();
    if let Some(flow) = &mix.flow {
        told.push(("flow cup y", words.flow_cup(flow), plain));
        if let Some((level, text)) = words.flow_advice(mix, flow) {
            let (mark, style) = styled(page, level);
            told.push(("", format!("{mark} {text}"), style));
        }
    }
    told.push(("lots l", words.lots(mix), plain));
    let told: Vec<Line> = if mix.stands == OnBench::Mixed {
        label.into_iter().chain(told).chain(needed).collect()
    } else {
        needed.into_iter().chain(told).chain(label).collect()
    };
    let mut lines = Vec::new();
    for (label, text, style) in told {
        for (row, line) in wrap(&text, width.saturating_sub(LABEL + 4)).into_iter().enumerate() {
            lines.push((if row == 0 { label } else { "" }, line, style));
        }
    }
    lines
}

/// Rows of all of it.
pub(super) fn height(page: &Page<'_, '_>, mix: &MixBoard, width: u16) -> u16 {
    let rows = consequences(page, mix, width).len() + rest(page, mix, width).len();
    u16::try_from(rows).unwrap_or(u16::MAX)
}

/// Rows that must stand there: what follows, what is needed, what to do then.
pub(super) fn least(page: &Page<'_, '_>, mix: &MixBoard, width: u16) -> u16 {
    let rest = rest(page, mix, width).len().min(5);
    u16::try_from(consequences(page, mix, width).len() + rest).unwrap_or(u16::MAX)
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>, mix: &MixBoard) {
    let width = pen.width();
    let follows = consequences(page, mix, width);
    let mut y = 0;
    for (_, text, style) in &follows {
        pen.put(2, y, text, *style);
        y += 1;
    }
    let rest = rest(page, mix, width);
    let room = pen.height().saturating_sub(y);
    let spare = usize::from(room).saturating_sub(rest.len());
    if spare > 0 && !follows.is_empty() {
        y += 1;
    }
    for (y, (label, text, style)) in (y..).zip(&rest) {
        pen.put(2, y, label, page.theme.quiet());
        pen.put(2 + LABEL, y, text, *style);
    }
}
