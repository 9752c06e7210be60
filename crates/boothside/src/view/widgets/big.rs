//! Text that is read from across the room: our own letters, drawn with half blocks.
//!
//! A pixel is one column wide and half a row high, about square; at scale 1 a line is four rows high, at
//! scale 2 seven. Height is what makes text legible from afar, so where a line is too long to grow both
//! ways it grows in height alone, to twice its shape.

use ratatui::buffer::Buffer;
use ratatui::layout::{Alignment, Rect, Size};
use ratatui::style::Style;
use ratatui::widgets::Widget;

use super::digits::digit;
use super::letters::{letter, plain_capital};
use super::narrow::narrow;

/// Height of every glyph in pixels.
pub(super) const HEIGHT: u16 = 7;
/// Pixels between two glyphs.
const GAP: u16 = 1;

/// How large: columns and half rows that a pixel takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Scale {
    across: u16,
    down: u16,
}

impl Scale {
    /// The smallest: a line is four rows high.
    pub const ONE: Self = Self::even(1);

    /// `times` as large as the smallest, at least 1, in its own shape.
    #[must_use]
    pub const fn even(times: u16) -> Self {
        let times = if times == 0 { 1 } else { times };
        Self { across: times, down: times }
    }

    fn at_most(self, other: Self) -> Self {
        Self { across: self.across.min(other.across), down: self.down.min(other.down) }
    }
}

/// One line of large text. Small letters become capitals, accents are left out.
///
/// Drawn as large as asked for, or as the area allows; as ordinary text where not even the smallest size
/// fits, or where a character has no glyph.
#[derive(Debug, Clone)]
pub struct BigText {
    text: String,
    glyphs: Option<Vec<&'static str>>,
    style: Style,
    scale: Option<Scale>,
    alignment: Alignment,
}

impl BigText {
    /// Large `text`.
    #[must_use]
    pub fn new(text: &str) -> Self {
        Self {
            text: text.to_owned(),
            glyphs: glyphs(text, false),
            style: Style::new(),
            scale: None,
            alignment: Alignment::Left,
        }
    }

    /// Draws the whole block of the text in `style`, the ground within it included: reversed, it is a
    /// field.
    #[must_use]
    pub const fn style(mut self, style: Style) -> Self {
        self.style = style;
        self
    }

    /// Draws at `scale` and no larger; at the largest that fits where this does not.
    #[must_use]
    pub const fn scale(mut self, scale: Scale) -> Self {
        self.scale = Some(scale);
        self
    }

    /// Where the text stands in a wider area.
    #[must_use]
    pub const fn alignment(mut self, alignment: Alignment) -> Self {
        self.alignment = alignment;
        self
    }

    /// Columns and rows that the text takes at `scale`; as ordinary text where a character has no glyph.
    #[must_use]
    pub fn size(&self, scale: Scale) -> Size {
        let Some(glyphs) = &self.glyphs else {
            return Size::new(columns(&self.text), 1);
        };
        let pixels = pixels(glyphs);
        let rows = HEIGHT.saturating_mul(scale.down).div_ceil(2);
        Size::new(pixels.saturating_mul(scale.across), rows)
    }

    /// The largest scale at which the text fits into `width` columns and `height` rows, up to twice as
    /// tall as its shape and never wider; none where not even the smallest fits, or where a character
    /// has no glyph.
    #[must_use]
    pub fn best_scale(&self, width: u16, height: u16) -> Option<Scale> {
        self.glyphs.as_ref()?;
        let across = width.checked_div(self.size(Scale::ONE).width).unwrap_or(0);
        let down = height.saturating_mul(2) / HEIGHT;
        (across > 0 && down > 0)
            .then(|| Scale { across: across.min(down), down: down.min(across.saturating_mul(2)) })
    }

    /// Where `size` stands in `area`.
    fn place(&self, size: Size, area: Rect) -> Rect {
        let spare = area.width.saturating_sub(size.width);
        let left = match self.alignment {
            Alignment::Left => 0,
            Alignment::Center => spare / 2,
            Alignment::Right => spare,
        };
        Rect::new(area.x + left, area.y, size.width, size.height).intersection(area)
    }

    fn draw_ordinary(&self, area: Rect, buf: &mut Buffer) {
        let place = self.place(Size::new(columns(&self.text), 1), area);
        buf.set_stringn(place.x, place.y, &self.text, place.width.into(), self.style);
    }
}

impl Widget for &BigText {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let area = area.intersection(buf.area);
        if area.is_empty() {
            return;
        }
        let best = self.best_scale(area.width, area.height);
        let (Some(glyphs), Some(best)) = (&self.glyphs, best) else {
            return self.draw_ordinary(area, buf);
        };
        let scale = self.scale.map_or(best, |wanted| wanted.at_most(best));
        let place = self.place(self.size(scale), area);
        buf.set_style(place, self.style);
        draw_line(glyphs, (scale.across, scale.down), (place.x, 0), (place, buf));
    }
}

impl Widget for BigText {
    fn render(self, area: Rect, buf: &mut Buffer) {
        (&self).render(area, buf);
    }
}

/// Whether every character of `text` can be drawn large, if need be without its accent.
#[must_use]
pub fn covers(text: &str) -> bool {
    glyphs(text, false).is_some()
}

/// The glyphs of `text`, in narrow letters where they are wanted.
pub(super) fn glyphs(text: &str, in_narrow: bool) -> Option<Vec<&'static str>> {
    let glyph = |c: char| narrow(c).filter(|_| in_narrow).or_else(|| glyph(c));
    let capitals = text.chars().flat_map(char::to_uppercase);
    let mut found = Vec::new();
    for c in capitals {
        if let Some(glyph) = glyph(c) {
            found.push(glyph);
        } else {
            found.extend(plain_capital(c)?.chars().filter_map(glyph));
        }
    }
    Some(found)
}

fn glyph(c: char) -> Option<&'static str> {
    digit(c).or_else(|| letter(c))
}

/// Width of a line of glyphs in pixels.
pub(super) fn pixels(line: &[&str]) -> u16 {
    let gaps = u16::try_from(line.len()).unwrap_or(u16::MAX).saturating_sub(1) * GAP;
    line.iter().fold(gaps, |sum, glyph| sum.saturating_add(width(glyph)))
}

/// Width of a glyph in pixels.
fn width(glyph: &str) -> u16 {
    glyph.find('/').unwrap_or(glyph.len()) as u16
}

/// Columns that ordinary text takes.
fn columns(text: &str) -> u16 {
    u16::try_from(ratatui::text::Span::raw(text).width()).unwrap_or(u16::MAX)
}

/// Draws a line of glyphs at a scale of columns and half rows, from a column of the buffer and so many
/// half rows under the top of a place, and only within it.
pub(super) fn draw_line(
    line: &[&str],
    scale: (u16, u16),
    (mut left, top): (u16, u16),
    (place, buf): (Rect, &mut Buffer),
) {
    for glyph in line {
        draw(glyph, scale, (left, top), (place, buf));
        left = left.saturating_add((width(glyph) + GAP).saturating_mul(scale.0));
    }
}

fn draw(
    glyph: &str,
    (across, down): (u16, u16),
    (left, top): (u16, u16),
    (place, buf): (Rect, &mut Buffer),
) {
    let rows: Vec<&[u8]> = glyph.split('/').map(str::as_bytes).collect();
    let ink = |column: u16, half_row: u16| {
        let row = half_row.checked_sub(top).and_then(|row| rows.get(usize::from(row / down)));
        row.and_then(|row| row.get(usize::from(column / across))) == Some(&b'#')
    };
    let lowest = top.saturating_add(HEIGHT.saturating_mul(down)).div_ceil(2);
    for column in 0..width(glyph).saturating_mul(across) {
        for row in top / 2..lowest.min(place.height) {
            let symbol = match (ink(column, row * 2), ink(column, row * 2 + 1)) {
                (true, true) => "█",
                (true, false) => "▀",
                (false, true) => "▄",
                (false, false) => " ",
            };
            let at = (left.saturating_add(column), place.y + row);
            if place.contains(at.into())
                && let Some(cell) = buf.cell_mut(at)
            {
                cell.set_symbol(symbol);
            }
        }
    }
}

#[cfg(test)]
mod tests;
