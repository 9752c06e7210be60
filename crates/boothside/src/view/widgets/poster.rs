//! A text read from across the room: as large as its place allows, over as many lines as make it
//! largest, and never cut.
//!
//! It first tries the usual letters, then narrow ones; where not even those fit, there is no poster and
//! whoever asked writes ordinary text.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::widgets::Widget;

use super::big::{self, HEIGHT};

/// Most lines of one poster.
const MOST_LINES: usize = 3;
/// Pixels between two lines.
const LEADING: u16 = 2;
/// Half rows of ground above and below the letters of a band.
const GROUND: u16 = 1;

/// A text in every way in which it may be set: over one line or several, in usual or narrow letters.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settings {
    all: Vec<Setting>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Setting {
    lines: Vec<Vec<&'static str>>,
    /// Width of the longest line in pixels.
    pixels: u16,
    narrow: bool,
}

/// A text set, at the scale at which it fits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Poster {
    lines: Vec<Vec<&'static str>>,
    pixels: u16,
    across: u16,
    down: u16,
    band: bool,
}

impl Settings {
    /// `text` broken at its spaces; a no-break space keeps two words together. None of it can be set
    /// where a character has no glyph.
    #[must_use]
    pub fn of(text: &str) -> Self {
        let words: Vec<&str> = text.split([' ', '\n']).filter(|word| !word.is_empty()).collect();
        let most = words.len().min(MOST_LINES);
        let each = (1..=most).flat_map(|lines| [(lines, false), (lines, true)]);
        let all = each.filter_map(|(lines, narrow)| Setting::best(&words, lines, narrow)).collect();
        Self { all }
    }

    /// The most legible that fits into `width` columns and `rows`; in a band, with half a row of ground
    /// above and below. Beside it there is ground where it is drawn with an indent.
    #[must_use]
    pub fn fit(&self, width: u16, rows: u16, band: bool) -> Option<Poster> {
        let posters = self.all.iter().filter_map(|setting| setting.fit(width, rows, band));
        // of equals the first: fewer lines, usual letters
        posters.rev().max_by_key(|(worth, _)| *worth).map(|(_, poster)| poster)
    }

    /// The fewest rows in which it is large.
    #[must_use]
    pub fn least_rows(&self, width: u16, band: bool) -> Option<u16> {
        let fitting = self.all.iter().filter(|setting| setting.pixels <= width);
        fitting.map(|setting| setting.rows(1, band)).min()
    }
}

impl Setting {
    /// Over so many lines, broken where the longest is shortest.
    fn best(words: &[&str], lines: usize, narrow: bool) -> Option<Self> {
        let ways = breaks(words, lines).into_iter();
        let set = ways.filter_map(|lines| Self::of(&lines, narrow));
        set.min_by_key(|setting| setting.pixels)
    }

    fn of(lines: &[String], narrow: bool) -> Option<Self> {
        let lines: Vec<Vec<&'static str>> =
            lines.iter().map(|line| big::glyphs(line, narrow)).collect::<Option<_>>()?;
        let pixels = lines.iter().map(|line| big::pixels(line)).max().unwrap_or(0);
        Some(Self { lines, pixels, narrow })
    }

    /// The largest scale that fits, and what it is worth to the eye.
    fn fit(&self, width: u16, rows: u16, band: bool) -> Option<(u16, Poster)> {
        let across = width.checked_div(self.pixels)?;
        let ground = if band { GROUND * 2 } else { 0 };
        let down = rows.saturating_mul(2).saturating_sub(ground) / pixels_down(self.lines.len());
        if across == 0 || down == 0 {
            return None;
        }
        // never wider than high, never thinner than half its shape
        let (across, down) = (across.min(down), down.min(across.saturating_mul(2)));
        let worth = (2 * down + 3 * across) * 2 + u16::from(!self.narrow);
        let lines = self.lines.clone();
        Some((worth, Poster { lines, pixels: self.pixels, across, down, band }))
    }

    fn rows(&self, down: u16, band: bool) -> u16 {
        rows(self.lines.len(), down, band)
    }
}

/// Pixels from the top of the first of so many lines to the foot of the last.
fn pixels_down(lines: usize) -> u16 {
    let lines = u16::try_from(lines).unwrap_or(1).max(1);
    lines * HEIGHT + (lines - 1) * LEADING
}

/// Rows of so many lines; a band has ground above and below.
fn rows(lines: usize, down: u16, band: bool) -> u16 {
    let ground = if band { GROUND * 2 } else { 0 };
    (pixels_down(lines).saturating_mul(down) + ground).div_ceil(2)
}

/// Every way of breaking `words` into so many lines.
fn breaks(words: &[&str], lines: usize) -> Vec<Vec<String>> {
    if lines <= 1 {
        return vec![vec![words.join(" ")]];
    }
    let mut ways = Vec::new();
    for first in 1..=words.len().saturating_sub(lines - 1) {
        let (head, rest) = words.split_at(first);
        for mut way in breaks(rest, lines - 1) {
            way.insert(0, head.join(" "));
            ways.push(way);
        }
    }
    ways
}

impl Poster {
    /// Rows that it takes.
    #[must_use]
    pub fn rows(&self) -> u16 {
        rows(self.lines.len(), self.down, self.band)
    }

    /// Half rows that a pixel of its letters is high.
    #[must_use]
    pub const fn down(&self) -> u16 {
        self.down
    }

    /// Draws it in `style`, its letters beginning at column `indent` of the area. A band fills the
    /// area's width with its ground.
    #[must_use]
    pub const fn styled(&self, style: Style, indent: u16) -> impl Widget + '_ {
        Drawn { poster: self, style, indent }
    }
}

struct Drawn<'p> {
    poster: &'p Poster,
    style: Style,
    indent: u16,
}

impl Widget for Drawn<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let (poster, area) = (self.poster, area.intersection(buf.area));
        let place = Rect { height: poster.rows().min(area.height), ..area };
        let pixels = poster.pixels * poster.across;
        let field = if poster.band {
            for position in place.positions() {
                if let Some(cell) = buf.cell_mut(position) {
                    cell.set_symbol(" ");
                }
            }
            place
        } else {
            Rect { x: area.x + self.indent.min(area.width), width: pixels, ..place }
                .intersection(place)
        };
        buf.set_style(field, self.style);
        let scale = (poster.across, poster.down);
        let mut top = if poster.band { GROUND } else { 0 };
        for line in &poster.lines {
            big::draw_line(line, scale, (area.x.saturating_add(self.indent), top), (place, buf));
            top += (HEIGHT + LEADING) * poster.down;
        }
    }
}

#[cfg(test)]
mod tests;
