//! The pots: what is left in them, and until when they may be sprayed.

use boothside_core::board::PotRow;
use boothside_core::session::clocks::Due;
use boothside_core::session::standing::PotNow;
use boothside_core::session::time::Moment;

use super::window::share;
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::{columns, wrap};
use crate::view::widgets::bar::Bar;
use crate::view::words::state::{pot_shape, pot_style, pot_word};
use crate::view::words::time::Time;

/// Where the second line of a pot begins.
const SECOND: u16 = 11;

/// A line each.
pub(super) fn least(page: &Page<'_, '_>) -> u16 {
    u16::try_from(page.scene.board.pots.len()).unwrap_or(u16::MAX)
}

/// With more lines for those that have more to tell.
pub(super) fn height(page: &Page<'_, '_>, width: u16) -> u16 {
    let pots = page.scene.board.pots.iter();
    let second: usize = pots.map(|row| second_lines(page, row, width).0.len()).sum();
    least(page).saturating_add(u16::try_from(second).unwrap_or(u16::MAX))
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let both = pen.height() >= height(page, pen.width());
    let mut y = 0;
    // the pot in the gun first: it is the one that may not fall off the bottom
    let mut rows: Vec<&PotRow> = page.scene.board.pots.iter().collect();
    rows.sort_by_key(|row| !row.in_the_gun);
    for row in rows {
        let width = pen.width();
        draw_first(page, &mut pen.part(0, y, width, 1), row);
        y += 1;
        let (lines, short) = second_lines(page, row, width);
        let style = if short { page.theme.caution() } else { page.theme.plain() };
        for line in lines.iter().filter(|_| both) {
            pen.put(SECOND, y, line, style);
            y += 1;
        }
    }
}

fn draw_first(page: &Page<'_, '_>, pen: &mut Pen<'_>, row: &PotRow) {
    let (theme, now) = (page.theme, row.at.now);
    let end = pen.width().saturating_sub(2);
    let bar_width = bar_width(pen.width());
    let bar_x = end.saturating_sub(9 + bar_width);
    let Edge { text: edge, ends, time } = edge(page, row);
    if let Some((from, to)) = ends {
        let share = share(from, to, page.words.now());
        pen.draw((bar_x, 0, bar_width, 1), Bar::new(share).style(theme.plain()));
        pen.put_right(end, 0, &page.words.left_until(to, time), theme.strong());
    }
    let edge_end = bar_x.saturating_sub(2);
    pen.put_right(edge_end, 0, &edge, theme.plain());
    let room = edge_end.saturating_sub(columns(&edge) + 1);
    pen.put(2, 0, pot_shape(now), pot_style(now, theme));
    let (name, word) = name_and_word(page, row);
    let after = pen.put(4, 0, &name, theme.strong()).max(9) + 2;
    let after = pen.put(after, 0, &word, pot_style(now, theme));
    let amount = format!(" · {}", amount(page, row));
    // it stands whole here or on the line below
    if columns(&amount) <= room.saturating_sub(after) {
        pen.put(after, 0, &amount, theme.plain());
    }
}

fn name_and_word(page: &Page<'_, '_>, row: &PotRow) -> (String, String) {
    let name = page.words.pot(&row.at.id).replacen('p', "P", 1);
    let word = pot_word(row.at.now);
    let loud = row.at.now == PotNow::StopAndClean;
    (name, if loud { word.to_uppercase() } else { word.to_owned() })
}

/// Whether the amount has room on the first line.
fn amount_fits(page: &Page<'_, '_>, row: &PotRow, width: u16) -> bool {
    let (name, word) = name_and_word(page, row);
    let before = (4 + columns(&name)).max(9) + 2 + columns(&word) + columns(" · ");
    let after = columns(&edge(page, row).text) + 3 + bar_width(width) + 9 + 2;
    before + columns(&amount(page, row)) + after <= width
}

fn bar_width(width: u16) -> u16 {
    (width / 8).clamp(6, 30)
}

/// The next edge of a pot.
struct Edge {
    text: String,
    /// From when to when it runs.
    ends: Option<(Moment, Moment)>,
    time: Time,
}

fn edge(page: &Page<'_, '_>, row: &PotRow) -> Edge {
    let at = &row.at;
    let moment = |due: Option<Due>| due.and_then(|due| due.moment());
    let runs = |before: &str, to: Option<Moment>, time: Time| Edge {
        text: to.map_or_else(String::new, |to| format!("{before} {}", page.words.clock(to, time))),
        ends: at.born.zip(to),
        time,
    };
    match at.now {
        PotNow::Standing => runs("until", moment(at.stands_until), Time::Wait),
        PotNow::Good => runs("last trigger", at.last_trigger, Time::Limit),
        PotNow::StopAndClean => runs("dead at", moment(at.dead), Time::Limit),
        PotNow::Dead => Edge { ends: None, ..runs("since", moment(at.dead), Time::Past) },
        PotNow::Emptied => Edge { text: String::new(), ends: None, time: Time::Past },
    }
}

/// '610 of 900 mL'.
fn amount(page: &Page<'_, '_>, row: &PotRow) -> String {
    let figures = page.words.figures();
    match (row.left_ml, row.at.amount_ml) {
        (Some(left), Some(all)) => {
            format!("{} of {}", figures.bare_volume(left), figures.volume(all))
        }
        (None, Some(all)) => format!("{} mixed", figures.volume(all)),
        (_, None) => "amount not known".into(),
    }
}

/// What is short, what is to be minded of its clocks, what the coats to come need, the gun, the
/// activator; in as many lines as that takes, and whether any of it is a caution.
fn second_lines(page: &Page<'_, '_>, row: &PotRow, width: u16) -> (Vec<String>, bool) {
    let figures = page.words.figures();
    let in_at =
        |born| format!("{} {}", page.words.born(&row.at.id), page.words.clock(born, Time::Past));
    let born = row.at.born.map(in_at);
    let gun = row.in_the_gun.then(|| "in the gun".to_owned());
    let usable = matches!(row.at.now, PotNow::Standing | PotNow::Good);
    let sum: f64 = row.needs_ml.iter().map(|(_, ml)| ml).sum();
    let over = row.left_ml.map(|left| left - sum).filter(|_| usable && !row.needs_ml.is_empty());
    let short = over.filter(|over| *over < -0.5);
    let spare =
        over.filter(|over| *over >= 0.5).map(|ml| format!("{} to spare", figures.volume(ml)));
    let needed = (usable && !row.needs_ml.is_empty()).then(|| {
        let needs = row.needs_ml.iter().enumerate().map(|(nth, (coat, ml))| {
            let needs = if nth == 0 { "needs " } else { "" };
            format!("coat {coat} {needs}{}", figures.volume(*ml))
        });
        needs.collect::<Vec<_>>().join(", ")
    });
    let needed = [needed, spare].into_iter().flatten().collect::<Vec<_>>().join(", ");
    let needed = Some(needed).filter(|text| !text.is_empty());
    let short_text = short.map(|ml| format!("{} short", figures.volume(-ml)));
    let amount = (!amount_fits(page, row, width)).then(|| amount(page, row));
    let doubt = row.at.stand_doubt.or(row.at.life_doubt).filter(|_| usable);
    let doubt = doubt.map(|doubt| page.words.doubt(doubt));
    let minded = short.is_some() || doubt.is_some();
    let parts: Vec<String> =
        [short_text, doubt, amount, needed, gun, born].into_iter().flatten().collect();
    (wrap(&parts.join(" · "), width.saturating_sub(SECOND + 1)), minded)
}
