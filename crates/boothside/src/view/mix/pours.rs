//! The components in pouring order: parts, running totals, what to add, what is in.

use boothside_core::board::mixing::{Gauge, MixBoard, OnBench};
use boothside_core::material::recipe::{PotLine, Told};
use boothside_core::material::sheet::Component;
use ratatui::style::Style;

use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::columns;
use crate::view::words::figure::short;

/// Rows of the header and the components.
pub(super) fn height(mix: &MixBoard) -> u16 {
    let lines = mix.now.as_ref().map_or(0, |now| now.pot.lines.len());
    if lines == 0 { 0 } else { u16::try_from(lines + 1).unwrap_or(u16::MAX) }
}

/// One row, cell by cell.
struct Row {
    mark: &'static str,
    name: String,
    parts: String,
    /// Running total in the gauge in use: reading, and what is added for it.
    in_use: (String, String),
    /// Running total in the other gauge.
    other: String,
    poured: String,
    style: Style,
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>, mix: &MixBoard) {
    let Ok(now) = &mix.now else { return };
    let next = now.pot.next();
    let rows: Vec<Row> = now
        .pot
        .lines
        .iter()
        .enumerate()
        .map(|(at, line)| row(page, mix, line, at, next == Some(at)))
        .collect();
    let name = rows.iter().map(|row| columns(&row.name)).max().unwrap_or(0).clamp(12, 24);
    let places = Places::of(name, pen.width());
    header(page, pen, mix, &places);
    for (y, row) in (1..).zip(&rows) {
        draw_row(pen, y, row, &places);
    }
}

/// The column after the end of each cell.
struct Places {
    name: u16,
    parts: u16,
    total: u16,
    add: u16,
    other: u16,
    poured: u16,
}

impl Places {
    fn of(name: u16, width: u16) -> Self {
        // wide screens let the cells stand a little apart, and no further
        let gap = ((width.saturating_sub(74)) / 5).min(6);
        let parts = 5 + name + 6 + gap;
        let total = parts + 14 + gap;
        let add = total + 11;
        let other = add + 11 + gap;
        Self { name, parts, total, add, other, poured: other + 12 + gap }
    }
}

fn header(page: &Page<'_, '_>, pen: &mut Pen<'_>, mix: &MixBoard, at: &Places) {
    let quiet = page.theme.quiet();
    let (in_use, other) = match mix.by {
        Gauge::Scale => ("running total on the scale", "pot's mark"),
        Gauge::Mark => ("mark on the pot", "scale"),
    };
    let other = if both(mix) { other } else { "" };
    pen.put(5, 0, "pour", quiet);
    pen.put_right(at.parts, 0, "parts", quiet);
    pen.put_right(at.add, 0, in_use, quiet);
    pen.put_right(at.other, 0, other, quiet);
    pen.put_right(at.poured, 0, "poured", quiet);
}

fn both(mix: &MixBoard) -> bool {
    mix.now.as_ref().is_ok_and(|now| now.weighs && now.marks)
}

fn row(page: &Page<'_, '_>, mix: &MixBoard, line: &PotLine, at: usize, next: bool) -> Row {
    let (words, theme) = (&page.words, page.theme);
    let figures = words.figures();
    let sheet = words.session.state().sheet(mix.layer);
    let component = sheet.and_then(|sheet| sheet.mix.components.get(at));
    let running = line.shows.unwrap_or(line.planned_total);
    // of a mixed pot only what is still to be added has a reading to pour to, and never has what
    // may be left out
    let told = mix.stands != OnBench::Mixed || !mix.poured || line.shows.is_some();
    let told = told && !component.is_some_and(Component::is_optional);
    let running = if told { running } else { Told::default() };
    let total = |gauge: Gauge| match gauge {
        Gauge::Scale => running.g.map(|g| figures.mass(g)).unwrap_or_default(),
        Gauge::Mark => running.ml.map(|ml| figures.volume(ml)).unwrap_or_default(),
    };
    let (other, both) = match mix.by {
        Gauge::Scale => (Gauge::Mark, both(mix)),
        Gauge::Mark => (Gauge::Scale, both(mix)),
    };
    let add = line.add.map(|add| format!("+{}", in_gauge(page, add, mix.by)));
    let poured = line.poured.filter(|_| mix.poured).map(|told| in_gauge(page, told, mix.by));
    let waits = line.add.is_some() && mix.stands != OnBench::Mixed;
    let style = if next { theme.strong() } else { theme.plain() };
    Row {
        mark: if next {
            "▸"
        } else if waits || line.poured.is_none() {
            "·"
        } else {
            "■"
        },
        name: format!("{} {}", at + 1, words.component(mix.layer, at)),
        parts: component.map_or_else(String::new, parts),
        in_use: (total(mix.by), add.unwrap_or_default()),
        other: if both { total(other) } else { String::new() },
        poured: poured.unwrap_or_else(|| if next { "▁".into() } else { String::new() }),
        style,
    }
}

/// '4'; '0–10' of what may be left out.
fn parts(component: &Component) -> String {
    let most = component.max_parts.filter(|_| component.is_optional());
    let parts = short(component.parts, 2);
    most.map_or_else(|| parts.clone(), |most| format!("{parts}–{}", short(most, 2)))
}

fn in_gauge(page: &Page<'_, '_>, told: Told, by: Gauge) -> String {
    let figures = page.words.figures();
    match (by, told) {
        (Gauge::Mark, Told { ml: Some(ml), .. }) => figures.small_volume(ml),
        (_, told) => figures.poured(told),
    }
}

fn draw_row(pen: &mut Pen<'_>, y: u16, row: &Row, at: &Places) {
    pen.put(2, y, row.mark, row.style);
    pen.put_within(4, y, at.name + 2, &row.name, row.style);
    pen.put_right(at.parts, y, &row.parts, row.style);
    pen.put_right(at.total, y, &row.in_use.0, row.style);
    pen.put_right(at.add, y, &row.in_use.1, row.style);
    pen.put_right(at.other, y, &row.other, row.style);
    pen.put_right(at.poured, y, &row.poured, row.style);
}
