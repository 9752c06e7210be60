//! Screen 3: is everything ready for the coat ahead?

use boothside_core::board::{ReadyLine, ReadyNow};

use super::bench;
use super::page::Page;
use super::pen::Pen;
use super::text::{columns, wrap};
use super::words::readiness::{group_word, ready_state};
use super::words::state::Readiness;

/// Columns of the mark, the group, the state and what is checked.
const MARK: u16 = 1;
const GROUP: u16 = 3;
const STATE: u16 = 14;
const WHAT: u16 = 29;
/// From this width on what clears a line stands beside it.
const WIDE: u16 = 150;

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    bench::draw(page, pen, draw_body);
}

fn draw_body(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    let lines = &page.scene.board.ready;
    let chosen = page.scene.ready_line.unwrap_or(0);
    let detail = detail(page, width);
    let detail_rows = u16::try_from(detail.len()).unwrap_or(0).min(height.saturating_sub(4));
    let rows = height.saturating_sub(1 + detail_rows);
    let told: Vec<Vec<String>> =
        lines.iter().map(|line| wrap(&told(page, line), room(width))).collect();
    let heights: Vec<usize> = told.iter().map(|told| told.len().max(1)).collect();
    let (from, to) = shown(&heights, chosen, rows.into());
    draw_summary(page, pen, (from, to));
    let mut y = 1;
    let mut before = None;
    for (number, (line, told)) in lines.iter().zip(&told).enumerate().take(to).skip(from) {
        let rows = u16::try_from(told.len().max(1)).unwrap_or(1);
        let first = before != Some(line.group);
        before = Some(line.group);
        let mut part = pen.part(0, y, width, rows);
        draw_line(page, &mut part, (line, told), (number == chosen, first));
        y += rows;
    }
    for (y, (text, style)) in (height.saturating_sub(detail_rows)..height).zip(detail) {
        pen.put(GROUP, y, &text, style);
    }
}

/// Columns for what is checked and its figure.
const fn room(width: u16) -> u16 {
    let beside = if width >= WIDE { width / 2 + WHAT / 2 } else { width };
    beside.saturating_sub(WHAT + 1)
}

/// What is checked, with its figure.
fn told(page: &Page<'_, '_>, line: &ReadyLine) -> String {
    let words = page.words.ready_line(line);
    match words.figure.is_empty() {
        true => words.what,
        false => format!("{} · {}", words.what, words.figure),
    }
}

/// Which lines are shown, each of so many rows: all, or as many whole ones as fit round the chosen one.
fn shown(heights: &[usize], chosen: usize, rows: usize) -> (usize, usize) {
    let Some(own) = heights.get(chosen).filter(|own| **own <= rows) else {
        return (0, 0);
    };
    let (mut from, mut to, mut left) = (chosen, chosen + 1, rows - own);
    loop {
        let above = from.checked_sub(1).and_then(|at| heights.get(at)).filter(|own| **own <= left);
        let below = heights.get(to).filter(|own| **own <= left);
        // as many above as below, as far as there are any
        match (above, below) {
            (Some(own), None) => (from, left) = (from - 1, left - own),
            (Some(own), Some(_)) if chosen - from < to - chosen => {
                (from, left) = (from - 1, left - own);
            }
            (_, Some(own)) => (to, left) = (to + 1, left - own),
            (None, None) => return (from, to),
        }
    }
}

fn draw_summary(page: &Page<'_, '_>, pen: &mut Pen<'_>, (from, to): (usize, usize)) {
    let lines = &page.scene.board.ready;
    let of = |now: ReadyNow| lines.iter().filter(|line| line.now == now).count();
    let states =
        [ReadyNow::Hold, ReadyNow::NotKnown, ReadyNow::Caution, ReadyNow::Said, ReadyNow::Clear];
    let left = match page.scene.board.to_check {
        0 => "Ready?".to_owned(),
        left => format!("Ready? {left} to check"),
    };
    let mut x = pen.put(GROUP, 0, &left, page.theme.strong()) + 2;
    for now in states.into_iter().filter(|now| of(*now) > 0) {
        let state = ready_state(now);
        let text = format!("{} {} {}", state.shape(), of(now), state.word());
        x = pen.put(x, 0, &text, state.style(page.theme)) + 2;
    }
    if to - from < lines.len() {
        let long = format!("{}–{to} of {}  ↑ ↓", from + 1, lines.len());
        let end = pen.width().saturating_sub(1);
        // where there is no room for it the arrows alone say that there is more
        let text = if x + columns(&long) <= end { long } else { "↑ ↓".to_owned() };
        if x + columns(&text) <= end {
            pen.put_right(end, 0, &text, page.theme.plain());
        }
    }
}

fn draw_line(
    page: &Page<'_, '_>,
    pen: &mut Pen<'_>,
    (line, told): (&ReadyLine, &[String]),
    (chosen, first): (bool, bool),
) {
    let (theme, width) = (page.theme, pen.width());
    let state = ready_state(line.now);
    let words = page.words.ready_line(line);
    if chosen {
        pen.put(MARK, 0, "▸", theme.chosen());
    }
    if first {
        pen.put_within(GROUP, 0, STATE - GROUP - 1, group_word(line.group), theme.plain());
    }
    let style = state.style(theme);
    // what was passed stays a hold to the eye
    let shape = if line.overridden.is_some() { Readiness::Hold.shape() } else { state.shape() };
    pen.put(STATE, 0, shape, style);
    pen.put_within(STATE + 2, 0, WHAT - STATE - 3, &page.words.ready_word(line), style);
    let loud = if chosen { theme.strong() } else { theme.plain() };
    for (y, text) in (0..).zip(told) {
        pen.put_within(WHAT, y, room(width), text, loud);
    }
    if width >= WIDE && !matches!(line.now, ReadyNow::Clear | ReadyNow::Said) {
        let text = format!("{} → {}", words.why, words.how);
        let text = text.trim_start_matches(" → ").trim_end_matches(" → ");
        pen.put(width / 2 + WHAT / 2, 0, text, theme.plain());
    }
}

/// What goes with the chosen line: why it matters, how it is cleared.
fn detail(page: &Page<'_, '_>, width: u16) -> Vec<(String, ratatui::style::Style)> {
    let lines = &page.scene.board.ready;
    let Some(line) = page.scene.ready_line.and_then(|at| lines.get(at)) else {
        return Vec::new();
    };
    let (theme, words) = (page.theme, page.words.ready_line(line));
    let room = width.saturating_sub(GROUP + 1);
    let mut detail = vec![("─".repeat(room.into()), theme.quiet())];
    if line.now != ReadyNow::Clear && !words.why.is_empty() {
        detail.extend(wrap(&words.why, room).into_iter().map(|line| (line, theme.plain())));
    }
    if let Some(overridden) = &line.overridden {
        let passed = wrap(&page.words.gone_past(overridden), room);
        detail.extend(passed.into_iter().map(|line| (line, theme.hold())));
    }
    if !words.how.is_empty() {
        let how = format!("→ {}", words.how);
        detail.extend(wrap(&how, room).into_iter().map(|line| (line, theme.strong())));
    }
    detail
}

#[cfg(test)]
mod tests {
    use super::*;
    use boothside_core::work::system::Group;

    #[test]
    fn the_chosen_line_is_always_shown() {
        for count in [0_usize, 1, 5, 40] {
            // some lines take two rows, some three
            let heights: Vec<usize> = (0..count).map(|at| 1 + at % 3).collect();
            for rows in [3_usize, 7, 60] {
                for chosen in 0..count {
                    let (from, to) = shown(&heights, chosen, rows);
                    assert!(heights[from..to].iter().sum::<usize>() <= rows);
                    assert!((from..to).contains(&chosen), "{count} {rows} {chosen}");
                    let all: usize = heights.iter().sum();
                    assert!(all > rows || (from, to) == (0, count));
                }
            }
        }
        assert_eq!(shown(&[1; 40], 20, 7), (17, 24));
        assert_eq!(shown(&[2], 0, 1), (0, 0));
    }

    #[test]
    fn groups_stand_in_the_order_of_work() {
        let order = [
            Group::LayOut,
            Group::Surface,
            Group::Air,
            Group::Mix,
            Group::Gun,
            Group::Protection,
            Group::Booth,
            Group::PlugsAndMasks,
        ];
        assert!(order.is_sorted());
    }
}
