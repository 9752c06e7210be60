//! All keys, from the one table.

use super::foot;
use super::page::{HEAD, Page};
use super::pen::Pen;
use super::text::columns;
use crate::update::table::{Do, Key, KeyRow};

/// One line: the keys and what they do.
struct Line {
    keys: String,
    short: String,
    long: String,
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    page.draw_head(pen);
    let (hero, style) = page.hero_line();
    pen.put(1, HEAD, &hero, style);
    let foot_rows = foot::height(page, width, height).min(3);
    foot::draw(page, &mut pen.part(0, height.saturating_sub(foot_rows), width, foot_rows));
    let top = HEAD + 1;
    let room = height.saturating_sub(top + foot_rows);
    draw_table(page, &mut pen.part(0, top, width, room));
}

fn draw_table(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let lines = lines(page.scene.keys);
    let room = usize::from(pen.height());
    let spare = room.saturating_sub(lines.len());
    let top = u16::from(spare > 1);
    // what has no line of its own is named on the last one
    let own = own_lines(&lines, room, pen.width());
    let keys = lines.iter().map(|line| columns(&line.keys)).max().unwrap_or(0) + 3;
    let short = lines.iter().map(|line| columns(&line.short)).max().unwrap_or(0) + 2;
    let long = lines.iter().map(|line| columns(&line.long)).max().unwrap_or(0);
    // the short names stand in the bottom line as well: they go first
    let short = if keys + short + long < pen.width() { short } else { 0 };
    for (y, line) in (top..).zip(&lines[..own]) {
        pen.put_within(1, y, keys, &line.keys, page.theme.strong());
        pen.put_within(1 + keys, y, short, &line.short, page.theme.plain());
        pen.put(1 + keys + short, y, &line.long, page.theme.plain());
    }
    let rest = rest(&lines[own..], pen.width());
    let from = pen.height().saturating_sub(u16::try_from(rest.len()).unwrap_or(u16::MAX));
    for (y, line) in (from..).zip(&rest) {
        pen.put(1, y, line, page.theme.plain());
    }
}

/// How many keys have a line of their own, so that the rest are named whole on the last ones.
fn own_lines(lines: &[Line], room: usize, width: u16) -> usize {
    let fits = |own: &usize| own + rest(&lines[*own..], width).len() <= room;
    (0..=lines.len()).rev().find(fits).unwrap_or(0)
}

/// Keys by their short names, as many on a line as fit.
fn rest(lines: &[Line], width: u16) -> Vec<String> {
    let mut rows: Vec<String> = Vec::new();
    for line in lines {
        let name = format!("{} {}", line.keys, line.short);
        match rows.last_mut() {
            Some(row) if columns(row) + 2 + columns(&name) <= width.saturating_sub(2) => {
                row.push_str("  ");
                row.push_str(&name);
            }
            _ => rows.push(name),
        }
    }
    rows
}

/// A line a key; keys that stand together share one.
fn lines(keys: &[KeyRow]) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for row in keys {
        let key = match row.also {
            Some(also) => format!("{} {also}", row.shown),
            None => row.shown.to_owned(),
        };
        let with_the_one_before = match row.does {
            Do::Down => Some("chooses a face"),
            Do::Slower => Some("the rehearsal runs faster or slower"),
            Do::Bench | Do::Ready | Do::FilmScreen | Do::Air | Do::Log => {
                Some("shows the clocks, the bench, readiness, the film, the air, the log")
            }
            _ => None,
        };
        match (with_the_one_before, lines.last_mut()) {
            (Some(long), Some(line)) => {
                line.keys = format!("{} {key}", line.keys);
                if row.key != Key::Down && !matches!(row.does, Do::Slower) {
                    line.short = "screens".to_owned();
                } else if line.short != row.short {
                    line.short = format!("{}, {}", line.short, row.short);
                }
                line.long = long.to_owned();
            }
            _ => lines.push(Line { keys: key, short: row.short.into(), long: row.long.into() }),
        }
    }
    lines
}
