//! The pots: what is left in them, and until when they may be sprayed.

use boothside_core::board::PotRow;
use boothside_core::session::clocks::Due;
use boothside_core::session::standing::PotNow;
use boothside_core::session::time::Moment;

use super::window::share;
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::columns;
use crate::view::widgets::bar::Bar;
use crate::view::words::state::{pot_shape, pot_style, pot_word};

/// A line each.
pub(super) fn least(page: &Page<'_, '_>) -> u16 {
    u16::try_from(page.scene.board.pots.len()).unwrap_or(u16::MAX)
}

/// With a second line for those that have more to tell.
pub(super) fn height(page: &Page<'_, '_>) -> u16 {
    let pots = page.scene.board.pots.iter();
    let second = pots.filter(|row| !second_line(page, row).0.is_empty()).count();
    least(page).saturating_add(u16::try_from(second).unwrap_or(u16::MAX))
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let both = pen.height() >= height(page);
    let mut y = 0;
    // the pot in the gun first: it is the one that may not fall off the bottom
    let mut rows: Vec<&PotRow> = page.scene.board.pots.iter().collect();
    rows.sort_by_key(|row| !row.in_the_gun);
    for row in rows {
        let width = pen.width();
        draw_first(page, &mut pen.part(0, y, width, 1), row);
        y += 1;
        let (text, short) = second_line(page, row);
        if both && !text.is_empty() {
            let style = if short { page.theme.caution() } else { page.theme.plain() };
            pen.put(11, y, &text, style);
            y += 1;
        }
    }
}

fn draw_first(page: &Page<'_, '_>, pen: &mut Pen<'_>, row: &PotRow) {
    let (theme, now) = (page.theme, row.at.now);
    let end = pen.width().saturating_sub(2);
    let bar_width = (pen.width() / 8).clamp(6, 30);
    let bar_x = end.saturating_sub(9 + bar_width);
    let (edge, ends) = edge(page, row);
    if let Some((from, to)) = ends {
        let share = share(from, to, page.words.now());
        pen.draw((bar_x, 0, bar_width, 1), Bar::new(share).style(theme.plain()));
        pen.put_right(end, 0, &page.words.left_until(to), theme.strong());
    }
    let edge_end = bar_x.saturating_sub(2);
    pen.put_right(edge_end, 0, &edge, theme.plain());
    let room = edge_end.saturating_sub(columns(&edge) + 1);
    pen.put(2, 0, pot_shape(now), pot_style(now, theme));
    let name = page.words.pot(&row.at.id).replacen('p', "P", 1);
    let after = pen.put(4, 0, &name, theme.strong()).max(9) + 2;
    let word = if now == PotNow::StopAndClean {
        pot_word(now).to_uppercase()
    } else {
        pot_word(now).to_owned()
    };
    let after = pen.put(after, 0, &word, pot_style(now, theme));
    let amount = format!(" · {}", amount(page, row));
    pen.put_within(after, 0, room.saturating_sub(after), &amount, theme.plain());
}

/// The next edge in words, and from when to when it runs.
fn edge(page: &Page<'_, '_>, row: &PotRow) -> (String, Option<(Moment, Moment)>) {
    let at = &row.at;
    let clock = |moment: Moment| page.words.clock(moment);
    let run = |to: Option<Moment>| at.born.zip(to);
    let moment = |due: Option<Due>| due.and_then(|due| due.moment());
    match at.now {
        PotNow::Standing => {
            let until = moment(at.stands_until);
            let text = until.map_or_else(String::new, |until| format!("until {}", clock(until)));
            (text, run(until))
        }
        PotNow::Good => {
            let last = at.last_trigger;
            let text = last.map_or_else(String::new, |at| format!("last trigger {}", clock(at)));
            (text, run(last))
        }
        PotNow::StopAndClean => {
            let dead = moment(at.dead);
            let text = dead.map_or_else(String::new, |dead| format!("dead at {}", clock(dead)));
            (text, run(dead))
        }
        PotNow::Dead => {
            let dead = moment(at.dead);
            (dead.map_or_else(String::new, |dead| format!("since {}", clock(dead))), None)
        }
        PotNow::Emptied => (String::new(), None),
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
        (_, None) => "amount not told".into(),
    }
}

/// What the coats to come need, whether that is more than is left; the gun, the birth.
fn second_line(page: &Page<'_, '_>, row: &PotRow) -> (String, bool) {
    let figures = page.words.figures();
    let born = row.at.born.map(|born| format!("born {}", page.words.clock(born)));
    let gun = row.in_the_gun.then(|| "in the gun".to_owned());
    let usable = matches!(row.at.now, PotNow::Standing | PotNow::Good);
    let needs: Vec<String> = row
        .needs_ml
        .iter()
        .filter(|_| usable)
        .enumerate()
        .map(|(row, (coat, ml))| {
            let needs = if row == 0 { "still needs " } else { "" };
            format!("{coat} {needs}{}", figures.volume(*ml))
        })
        .collect();
    let needed = (!needs.is_empty()).then(|| format!("coat {}", needs.join(", coat ")));
    let sum: f64 = row.needs_ml.iter().map(|(_, ml)| ml).sum();
    let short_ml = row.left_ml.map(|left| sum - left).filter(|short| usable && *short > 0.5);
    let short = short_ml.map(|ml| format!("{} short", figures.volume(ml)));
    let is_short = short.is_some();
    let parts: Vec<String> = [short, needed, gun, born].into_iter().flatten().collect();
    (parts.join(" · "), is_short)
}
