//! Screen 3: is everything ready for the coat ahead?

use boothside_core::board::{ReadyLine, ReadyNow};

use super::bench;
use super::page::Page;
use super::pen::Pen;
use super::text::{columns, wrap};
use super::words::readiness::{group_word, ready_state};

/// Columns of the mark, the group and the state.
const MARK: u16 = 1;
const GROUP: u16 = 3;
const STATE: u16 = 15;
const WHAT: u16 = 28;
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
    let (from, to) = shown(lines.len(), chosen, rows.into());
    draw_summary(page, pen, (from, to));
    for (y, number) in (1..).zip(from..to) {
        let first = number == from || lines[number - 1].group != lines[number].group;
        let mut row = pen.part(0, y, width, 1);
        draw_line(page, &mut row, &lines[number], (number == chosen, first));
    }
    for (y, (text, style)) in (height.saturating_sub(detail_rows)..height).zip(detail) {
        pen.put(GROUP, y, &text, style);
    }
}

/// Which lines are shown: all, or as many as fit around the chosen one.
fn shown(count: usize, chosen: usize, rows: usize) -> (usize, usize) {
    let from = chosen.saturating_sub(rows / 2).min(count.saturating_sub(rows));
    (from, count.min(from + rows))
}

fn draw_summary(page: &Page<'_, '_>, pen: &mut Pen<'_>, (from, to): (usize, usize)) {
    let lines = &page.scene.board.ready;
    let of = |now: ReadyNow| lines.iter().filter(|line| line.now == now).count();
    let states = [ReadyNow::Hold, ReadyNow::NotKnown, ReadyNow::Caution, ReadyNow::Clear];
    let mut x = GROUP;
    x = pen.put(x, 0, "Ready?", page.theme.strong()) + 2;
    for now in states {
        let state = ready_state(now);
        let text = format!("{} {} {}", state.shape(), of(now), state.word());
        x = pen.put(x, 0, &text, state.style(page.theme)) + 2;
    }
    if to - from < lines.len() {
        let text = format!("{}–{to} of {}  ↑ ↓", from + 1, lines.len());
        pen.put_right(pen.width().saturating_sub(1), 0, &text, page.theme.plain());
    }
}

fn draw_line(
    page: &Page<'_, '_>,
    pen: &mut Pen<'_>,
    line: &ReadyLine,
    (chosen, first): (bool, bool),
) {
    let (theme, width) = (page.theme, pen.width());
    let state = ready_state(line.now);
    let words = page.words.ready_line(line);
    if chosen {
        pen.put(MARK, 0, "▸", theme.chosen());
    }
    if first {
        pen.put_within(GROUP, 0, STATE - GROUP, group_word(line.group), theme.plain());
    }
    let style = state.style(theme);
    pen.put(STATE, 0, state.shape(), style);
    pen.put_within(STATE + 2, 0, WHAT - STATE - 2, state.word(), style);
    let loud = if chosen { theme.strong() } else { theme.plain() };
    let beside = if width >= WIDE { width / 2 + WHAT / 2 } else { width };
    let room = beside.saturating_sub(WHAT + 1);
    let past = if line.overridden.is_some() { " · gone past" } else { "" };
    let text = if words.figure.is_empty() {
        format!("{}{past}", words.what)
    } else {
        format!("{} · {}{past}", words.what, words.figure)
    };
    pen.put_within(WHAT, 0, room, &text, loud);
    if width >= WIDE && line.now != ReadyNow::Clear {
        let text = format!("{} → {}", words.why, words.how);
        let text = text.trim_start_matches(" → ").trim_end_matches(" → ");
        pen.put(beside, 0, text, theme.plain());
    }
}

/// The chosen line in full: the figure where it is cut, why it matters, how it is cleared.
fn detail(page: &Page<'_, '_>, width: u16) -> Vec<(String, ratatui::style::Style)> {
    let lines = &page.scene.board.ready;
    let Some(line) = page.scene.ready_line.and_then(|at| lines.get(at)) else {
        return Vec::new();
    };
    let (theme, words) = (page.theme, page.words.ready_line(line));
    let room = width.saturating_sub(GROUP + 1);
    let mut detail = vec![("─".repeat(room.into()), theme.quiet())];
    let whole = format!("{} · {}", words.what, words.figure);
    if !words.figure.is_empty() && columns(&whole) > width.saturating_sub(WHAT + 1) {
        detail.extend(wrap(&whole, room).into_iter().map(|line| (line, theme.strong())));
    }
    if line.now != ReadyNow::Clear && !words.why.is_empty() {
        detail.extend(wrap(&words.why, room).into_iter().map(|line| (line, theme.plain())));
    }
    if let Some(overridden) = &line.overridden {
        detail.push((page.words.gone_past(overridden), theme.hold()));
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
            for rows in [0_usize, 1, 7, 60] {
                for chosen in 0..count {
                    let (from, to) = shown(count, chosen, rows);
                    assert!(to <= count && to - from <= rows);
                    assert!(rows == 0 || (from..to).contains(&chosen), "{count} {rows} {chosen}");
                }
            }
        }
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
