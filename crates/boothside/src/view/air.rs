//! Screen 6: the air now, since the sitting began, and the booth's exhaust.

mod chart;

use boothside_core::board::{BoothAir, booth_air};
use boothside_core::session::event::Reading;
use ratatui::style::Style;

use super::bench;
use super::page::Page;
use super::pen::Pen;
use super::text::{clean, wrap};
use super::words::booth::{exhaust, share, share_from};
use super::words::time::{Time, spoken};

type Lines = Vec<(String, Style)>;

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    bench::draw(page, pen, draw_body);
}

/// Least rows of the chart, its axes included.
const LEAST_CHART: u16 = 5;

fn draw_body(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    let room = width.saturating_sub(12);
    let now = wrapped(now_lines(page), room);
    let booth = wrapped(booth_lines(page, &booth_air(page.scene.session)), room);
    let rows = |lines: &Lines| u16::try_from(lines.len()).unwrap_or(u16::MAX);
    let now_rows = rows(&now).min(height);
    let left = height - now_rows;
    let booth_rows = rows(&booth).min(left.saturating_sub(LEAST_CHART));
    put(page, &mut pen.part(0, 0, width, now_rows), "Air", &now);
    chart::draw(page, &mut pen.part(0, now_rows, width, left - booth_rows));
    put(page, &mut pen.part(0, height - booth_rows, width, booth_rows), "Booth", &booth);
}

fn put(page: &Page<'_, '_>, pen: &mut Pen<'_>, title: &str, lines: &Lines) {
    pen.put(3, 0, title, page.theme.strong());
    for (y, (text, style)) in (0..).zip(lines) {
        pen.put(10, y, text, *style);
    }
}

fn wrapped(lines: Lines, room: u16) -> Lines {
    let wrap = |(text, style): (String, Style)| {
        wrap(&text, room).into_iter().map(move |line| (line, style))
    };
    lines.into_iter().flat_map(wrap).collect()
}

fn now_lines(page: &Page<'_, '_>) -> Lines {
    let (theme, words, air) = (page.theme, &page.words, &page.scene.board.air);
    let Some((reading, taken)) = air.reading.zip(air.taken) else {
        return vec![("no reading yet: press a".into(), theme.caution())];
    };
    let mut lines = vec![(figures_line(page, &reading), theme.plain())];
    let of = if air.margin_of_surface { "surface" } else { "air (surface not read)" };
    let margin =
        words.margin((air.margin_k, air.margin_over_k), air.margin_rule, air.margin_rising);
    lines.push((format!("{of} over dew point {margin}"), theme.plain()));
    let trend = words.trend(air.margin_trend);
    let breaks = air.margin_trend.is_some_and(|trend| trend.breaks.is_some());
    let style = if breaks { theme.caution() } else { theme.plain() };
    lines.push((format!("{}trend: {trend}", if breaks { "! " } else { "" }), style));
    let outside = air.out_of_limits.iter();
    lines.extend(outside.map(|it| (format!("× {}", words.out_of_limits(it)), theme.hold())));
    let past = page.scene.board.overridden.iter();
    lines.extend(past.map(|it| (words.gone_past(it), theme.hold())));
    let (mark, style) = if air.stale { ("! ", theme.caution()) } else { ("", theme.plain()) };
    let age = spoken(words.now().since(taken), Time::Past);
    lines.push((format!("{mark}reading {age} old{}", taken_by(page, taken)), style));
    lines
}

fn figures_line(page: &Page<'_, '_>, reading: &Reading) -> String {
    let (words, air) = (&page.words, &page.scene.board.air);
    let figures = words.figures();
    let named =
        |name: &str, c: Option<f64>| c.map(|c| format!("{name} {}", figures.temperature(c)));
    let parts = [
        Some(figures.air(reading)).filter(|air| !air.is_empty()),
        named("surface", reading.surface_c),
        named("warmest", air.warmest_c),
        named("paint", air.paint_c),
        named("dew point", air.dew_point_c),
        named("wet bulb", air.wet_bulb_c),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// Where and with what the last reading was taken.
fn taken_by(page: &Page<'_, '_>, taken: boothside_core::session::time::Moment) -> String {
    let told = page.scene.session.state().read_by.iter().rev().find(|by| by.at == taken);
    let Some(told) = told else { return String::new() };
    let place = told.place.as_deref().map(|place| format!(" · {}", clean(place)));
    let with = told.with.as_deref().map(|with| format!(" · with {}", clean(with)));
    [place, with].into_iter().flatten().collect()
}

fn booth_lines(page: &Page<'_, '_>, booth: &BoothAir) -> Lines {
    let theme = page.theme;
    let mut lines = vec![(exhaust(booth), theme.plain())];
    if let Some(until) = booth.fan_until.filter(|until| *until > page.words.now()) {
        let until = page.words.clock(until, Time::Wait);
        lines.push((format!("fan on until {until} or later"), theme.strong()));
    }
    lines.push((share(&booth.share_of_limit), theme.plain()));
    if let Ok(share) = &booth.share_of_limit {
        lines.push((share_from(share, page.words.figures()), theme.plain()));
    }
    let caution = "! calculated, not measured: it proves no air safe to breathe or free of fire risk; \
                   the safety data sheet, local codes and licensed practice decide";
    lines.push((caution.into(), theme.caution()));
    lines
}
