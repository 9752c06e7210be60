//! What the scale or the mark must show next, large; the other one small beside it.

use boothside_core::board::mixing::{Gauge, MixBoard};
use boothside_core::material::recipe::Told;

use crate::view::big::{LEAST_ROWS, Large};
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::wrap;

const INDENT: u16 = 3;
/// Columns kept for what stands beside the number.
const BESIDE: u16 = 44;

/// The next component (from 0), what the gauges show then, what is added.
fn next(mix: &MixBoard) -> Option<(usize, Told, Told)> {
    let now = mix.now.as_ref().ok()?;
    let at = now.pot.next()?;
    let line = now.pot.lines.get(at)?;
    Some((at, line.shows?, line.add?))
}

fn number(page: &Page<'_, '_>, mix: &MixBoard) -> Option<(usize, String, String, Told, Told)> {
    let (at, shows, add) = next(mix)?;
    let (_, shown) = mix.next_pour()?;
    let (number, unit) = page.words.shows_apart(shown);
    Some((at, number, unit, shows, add))
}

fn large(page: &Page<'_, '_>, mix: &MixBoard, width: u16, rows: u16) -> Option<Large> {
    let (_, number, ..) = number(page, mix)?;
    let large = Large::fitting(&number, width.saturating_sub(INDENT + BESIDE), rows);
    large.scale.is_some().then_some(large)
}

/// Rows that it needs; none where nothing is to be poured.
pub(super) fn least(page: &Page<'_, '_>, mix: &MixBoard, width: u16) -> u16 {
    large(page, mix, width, LEAST_ROWS).map_or(0, |large| large.rows)
}

/// Rows that it uses within `most`.
pub(super) fn best(page: &Page<'_, '_>, mix: &MixBoard, width: u16, most: u16) -> u16 {
    large(page, mix, width, most).map_or(0, |large| large.rows)
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>, mix: &MixBoard) {
    let (width, height) = (pen.width(), pen.height());
    let Some((at, _, unit, shows, add)) = number(page, mix).filter(|_| height > 0) else { return };
    let Some(large) = large(page, mix, width, height) else { return };
    let theme = page.theme;
    pen.draw((INDENT, 0, large.columns, large.rows), large.widget().style(theme.strong()));
    let figures = page.words.figures();
    let by_scale = mix.by == Gauge::Scale;
    let added = if by_scale { add } else { Told { g: add.g.filter(|_| add.ml.is_none()), ..add } };
    let added = match (by_scale, added.ml) {
        (false, Some(ml)) => figures.small_volume(ml),
        _ => figures.poured(added),
    };
    let other = match mix.by {
        Gauge::Scale => {
            shows.ml.map(|ml| format!("or {} on the pot's marks: v", figures.volume(ml)))
        }
        Gauge::Mark => shows.g.map(|g| format!("or {} on the scale: v", figures.mass(g))),
    };
    let name = page.words.component(mix.layer, at);
    let x = INDENT + large.columns + 3;
    let y = large.rows.saturating_sub(3) / 2;
    pen.put(x, y, &unit, theme.strong());
    pen.put(x, y + 1, &format!("{name}, +{added}"), theme.strong());
    if let Some(other) = other {
        pen.put(x, y + 2, &other, theme.plain());
    }
    let room = pen.width().saturating_sub(x + 1);
    if let Some(from) = page.words.poured_from(mix, at) {
        for (y, line) in (y + 3..height).zip(wrap(&from, room)) {
            pen.put(x, y, &line, theme.plain());
        }
    }
}
