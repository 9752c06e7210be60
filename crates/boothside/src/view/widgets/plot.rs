//! Lines over time drawn with letters: a letter where something was read, a quieter mark between,
//! so that they are told apart without colour.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::widgets::Widget;

/// One line.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// The letter at each point.
    pub letter: char,
    /// The mark between points.
    pub between: char,
    /// Points, rising in x.
    pub points: Vec<(f64, f64)>,
}

/// A plot without axes: the caller writes those.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot<'a> {
    /// The lines; later ones lie on top.
    pub lines: &'a [Line],
    /// x at the left and at the right edge.
    pub x: (f64, f64),
    /// y at the lower and at the upper edge.
    pub y: (f64, f64),
    /// Style of the letters.
    pub style: Style,
    /// Style of the marks between.
    pub quiet: Style,
}

impl Widget for Plot<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        if area.is_empty() {
            return;
        }
        for line in self.lines {
            self.between(line, area, buf);
        }
        for line in self.lines {
            for point in &line.points {
                if let Some((x, y)) = self.cell(*point, area) {
                    buf[(x, y)].set_char(line.letter).set_style(self.style);
                }
            }
        }
    }
}

impl Plot<'_> {
    /// The marks between the points, and on from the last one to the right edge: what was read
    /// holds until it is read anew.
    fn between(&self, line: &Line, area: Rect, buf: &mut Buffer) {
        for column in 0..area.width {
            let share = f64::from(column) / f64::from(area.width.saturating_sub(1).max(1));
            let x = self.x.0 + share * (self.x.1 - self.x.0);
            if let Some(y) = at(&line.points, x)
                && let Some((_, row)) = self.cell((x, y), area)
            {
                buf[(area.x + column, row)].set_char(line.between).set_style(self.quiet);
            }
        }
    }

    fn cell(&self, (x, y): (f64, f64), area: Rect) -> Option<(u16, u16)> {
        let across = place(x, self.x, area.width)?;
        let up = place(y, self.y, area.height)?;
        Some((area.x + across, area.bottom() - 1 - up))
    }
}

/// The line's height at `x`: straight between points, flat after the last, nothing before the first.
fn at(points: &[(f64, f64)], x: f64) -> Option<f64> {
    let after = points.partition_point(|(at, _)| *at <= x);
    let (x0, y0) = *points.get(after.checked_sub(1)?)?;
    let Some((x1, y1)) = points.get(after) else { return Some(y0) };
    Some(y0 + (y1 - y0) * (x - x0) / (x1 - x0))
}

/// The cell of `value` among `cells` between two ends; nothing outside them.
fn place(value: f64, (low, high): (f64, f64), cells: u16) -> Option<u16> {
    let last = f64::from(cells.checked_sub(1)?);
    let span = high - low;
    let share = if span > 0.0 { (value - low) / span } else { 0.5 };
    (-1e-9..=1.0 + 1e-9).contains(&share).then(|| (share * last).round() as u16)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(lines: &[Line], size: (u16, u16)) -> Vec<String> {
        let area = Rect::new(0, 0, size.0, size.1);
        let mut buf = Buffer::empty(area);
        let style = Style::new();
        Plot { lines, x: (0.0, 10.0), y: (0.0, 4.0), style, quiet: style }.render(area, &mut buf);
        let row = |y| (0..size.0).map(|x| buf[(x, y)].symbol().to_owned()).collect::<String>();
        (0..size.1).map(row).collect()
    }

    #[test]
    fn letters_stand_at_the_readings_and_marks_between() {
        let air = Line { letter: 'a', between: '·', points: vec![(0.0, 4.0), (10.0, 0.0)] };
        let rows = drawn(&[air], (11, 5));
        let wanted = ["a·         ", "  ··       ", "    ···    ", "       ··  ", "         ·a"];
        assert_eq!(rows, wanted);
    }

    #[test]
    fn the_last_reading_is_held_to_the_right_edge() {
        let air = Line { letter: 'a', between: '·', points: vec![(5.0, 2.0)] };
        assert_eq!(drawn(&[air], (11, 5))[2], "     a·····");
    }

    #[test]
    fn nothing_is_drawn_outside_and_no_size_panics() {
        let wild = Line { letter: 'w', between: '·', points: vec![(-5.0, 9.0), (20.0, f64::NAN)] };
        for size in [(0, 0), (1, 1), (3, 1), (1, 3)] {
            drawn(std::slice::from_ref(&wild), size);
        }
        assert!(drawn(&[wild], (11, 5)).iter().all(|row| row.trim().is_empty()));
    }
}
