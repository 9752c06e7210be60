//! The chart: temperatures, and under them how fast the clocks ran.

use boothside_core::board::{AirChart, Points, air_chart};
use boothside_core::session::time::Moment;

use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::columns;
use crate::view::widgets::plot::{Line, Plot};
use crate::view::words::booth::clocked;
use crate::view::words::time::Time;

/// Columns of the figures at the left.
const LEFT: u16 = 10;
/// Least rows of the speeds.
const SPEEDS: u16 = 2;
/// From so many rows on the speeds are drawn beneath the temperatures.
const WITH_SPEEDS: u16 = 8;

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    if height < 3 {
        return;
    }
    let chart = air_chart(page.scene.session);
    let Some(span) = chart.temperatures() else {
        let since = page.words.clock(chart.from, Time::Past);
        pen.put(LEFT, 1, &format!("no reading since {since}"), page.theme.plain());
        return;
    };
    let speeds = chart.speed_span().filter(|_| height >= WITH_SPEEDS);
    let speed_rows = if speeds.is_some() { SPEEDS + 1 + (height - WITH_SPEEDS) / 4 } else { 0 };
    // a row for the names, and one for the times
    let rows = height - 2 - speed_rows;
    let times = (chart.from, page.words.now().max(chart.from));
    put_names(page, pen, &chart, 0);
    let area = Area { top: 1, rows, width: width.saturating_sub(LEFT + 2) };
    let figures = page.words.figures();
    let label = |c: f64| figures.temperature(c);
    area.draw(page, pen, &temperatures(&chart), (times, apart(span, 1.0)), label);
    if let Some(span) = speeds {
        let top = 1 + rows;
        put_speed_names(page, pen, &chart, top);
        let area = Area { top: top + 1, rows: speed_rows - 1, ..area };
        area.draw(page, pen, &speed_lines(&chart), (times, apart(span, 0.1)), |x| {
            format!("×{x:.2}")
        });
    }
    put_times(page, pen, times, height - 1);
}

/// Where a plot stands.
#[derive(Clone, Copy)]
struct Area {
    top: u16,
    rows: u16,
    width: u16,
}

impl Area {
    fn draw(
        self,
        page: &Page<'_, '_>,
        pen: &mut Pen<'_>,
        lines: &[Line],
        ((from, to), y): ((Moment, Moment), (f64, f64)),
        label: impl Fn(f64) -> String,
    ) {
        let theme = page.theme;
        for row in 0..self.rows {
            pen.put(LEFT - 1, self.top + row, "│", theme.quiet());
        }
        pen.put_right(LEFT - 2, self.top, &label(y.1), theme.plain());
        if self.rows > 1 {
            pen.put_right(LEFT - 2, self.top + self.rows - 1, &label(y.0), theme.plain());
        }
        let x = (from.seconds(), to.seconds());
        let plot = Plot { lines, x, y, style: theme.strong(), quiet: theme.plain() };
        pen.draw((LEFT, self.top, self.width, self.rows), plot);
    }
}

/// Ends of an axis at least so far apart, in whole steps of that.
fn apart((low, high): (f64, f64), step: f64) -> (f64, f64) {
    let low = (low / step).floor() * step;
    let high = (high / step).ceil() * step;
    (low, high.max(low + step))
}

fn line(letter: char, between: char, points: &Points) -> Line {
    let points = points.iter().map(|(at, value)| (at.seconds(), *value)).collect();
    Line { letter, between, points }
}

fn temperatures(chart: &AirChart) -> Vec<Line> {
    vec![
        line('d', '~', &chart.dew_point_c),
        line('s', '-', &chart.surface_c),
        line('a', '·', &chart.air_c),
    ]
}

fn speed_lines(chart: &AirChart) -> Vec<Line> {
    let marks = ['·', '-', '~'];
    let lines = chart.speeds.iter().zip(marks);
    lines.map(|((clock, points), mark)| line(clocked(*clock).0, mark, points)).collect()
}

fn put_names(page: &Page<'_, '_>, pen: &mut Pen<'_>, chart: &AirChart, y: u16) {
    let figures = page.words.figures();
    let last = |points: &Points| points.last().map(|(_, c)| figures.temperature(*c));
    let names = [
        ("a air", last(&chart.air_c)),
        ("s surface", last(&chart.surface_c)),
        ("d dew point", last(&chart.dew_point_c)),
    ];
    let mut x = LEFT;
    for (name, value) in names {
        if let Some(value) = value {
            x = pen.put(x, y, &format!("{name} {value}"), page.theme.strong()) + 3;
        }
    }
}

fn put_speed_names(page: &Page<'_, '_>, pen: &mut Pen<'_>, chart: &AirChart, y: u16) {
    let mut x = pen.put(LEFT, y, "clocks, ×1 is the sheet's speed:", page.theme.plain()) + 1;
    for (clock, points) in &chart.speeds {
        let (letter, name) = clocked(*clock);
        let now = points.last().map_or_else(String::new, |(_, rate)| format!(" ×{rate:.2}"));
        x = pen.put(x, y, &format!("{letter} {name}{now}"), page.theme.strong()) + 2;
    }
}

fn put_times(page: &Page<'_, '_>, pen: &mut Pen<'_>, (from, to): (Moment, Moment), y: u16) {
    let (words, theme) = (&page.words, page.theme);
    let left = words.clock(from, Time::Past);
    pen.put(LEFT, y, &left, theme.plain());
    let right = format!("now {}", words.clock(to, Time::Past));
    if LEFT + columns(&left) + columns(&right) + 4 < pen.width() {
        pen.put_right(pen.width().saturating_sub(2), y, &right, theme.plain());
    }
}
