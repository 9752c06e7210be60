//! The air by the last reading, and what lies outside the sheet.

use boothside_core::board::OutOfLimits;
use boothside_core::session::time::Span;
use ratatui::style::Style;

use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::wrap;
use crate::view::words::time::{Time, spoken};

pub(super) fn height(page: &Page<'_, '_>, width: u16) -> u16 {
    u16::try_from(lines(page, width).len()).unwrap_or(u16::MAX)
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    for (y, (text, style)) in (0..pen.height()).zip(lines(page, pen.width())) {
        if y == 0 {
            pen.put(OTHERS, y, "Air", page.theme.strong());
        }
        let x = if y == 0 { FIRST } else { OTHERS };
        pen.put(x, y, &text, style);
    }
}

/// Where the first line begins, and the others.
const FIRST: u16 = 11;
const OTHERS: u16 = 4;

/// Every line whole: what is too long goes on in the next.
fn lines(page: &Page<'_, '_>, width: u16) -> Vec<(String, Style)> {
    let room = width.saturating_sub(FIRST + 1);
    let fold = |(text, style): (String, Style)| {
        wrap(&text, room).into_iter().map(move |line| (line, style))
    };
    told(page).into_iter().flat_map(fold).collect()
}

fn told(page: &Page<'_, '_>) -> Vec<(String, Style)> {
    let mut lines = vec![first(page)];
    let mut outside: Vec<&OutOfLimits> = page.scene.board.air.out_of_limits.iter().collect();
    outside.sort_by_key(|outside| !matches!(outside, OutOfLimits::NearDewPoint { .. }));
    lines.extend(outside.into_iter().map(|outside| {
        let text = page.words.out_of_limits(outside);
        // water on the part is the loudest of all
        let wet = matches!(outside, OutOfLimits::NearDewPoint { margin_k, .. } if *margin_k < 0.0);
        let style = if wet { page.theme.due() } else { page.theme.hold() };
        (format!("× {text}"), style)
    }));
    let past = page.scene.board.overridden.iter();
    lines.extend(past.map(|it| (page.words.gone_past(it), page.theme.hold())));
    lines
}

fn first(page: &Page<'_, '_>) -> (String, Style) {
    let (air, words) = (&page.scene.board.air, &page.words);
    let (Some(reading), Some(taken)) = (air.reading, air.taken) else {
        return ("no reading yet: press a".into(), page.theme.caution());
    };
    let figures = words.figures();
    let over = air.margin_k.filter(|margin| *margin >= 0.0);
    let over = over.map(|margin| format!("{} over dew point", figures.difference(margin)));
    let more = air.margin_over_k.filter(|over| *over >= 0.0);
    let more = more.map(|over| format!("over {} over dew point", figures.difference(over)));
    let over = over.or(more);
    let surface = match reading.surface_c {
        Some(c) => format!("surface {}", figures.temperature(c)),
        None => "surface not read".into(),
    };
    let of = match (&over, air.margin_of_surface) {
        (Some(over), true) => format!("{surface}, {over}"),
        (Some(over), false) => format!("{surface}; air {over}"),
        (None, _) => surface,
    };
    let since = words.now().since(taken);
    let (age, now_taken) = (spoken(since, Time::Past), since < Span::from_minutes(1));
    if air.stale {
        (format!("{of} · ! last read {age} ago: read again (a)"), page.theme.caution())
    } else {
        let age = if now_taken { "just read".into() } else { format!("read {age} ago") };
        (format!("{of} · {age}"), page.theme.plain())
    }
}
