//! A clock that is due: its word in steady reverse and whose it is, both large.

use super::said;
use crate::view::big::{LEAST_ROWS, Large, variants};
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::widgets::big::BigText;

const INDENT: u16 = 1;
/// Rows of the line that explains it and of the line of the last key.
const UNDER: u16 = 2;
/// Columns between word and what stands beside it, where there is room.
const GAP: u16 = 4;

/// Word and subject in one row of large letters, or one above the other.
struct Plan {
    word: Large,
    subject: Large,
    stacked: bool,
}

impl Plan {
    fn rows(&self) -> u16 {
        if self.stacked { self.word.rows + 1 + self.subject.rows } else { self.word.rows }
    }

    /// Rows of lines under it; above one another, they stand beside the word.
    fn under(&self) -> u16 {
        if self.stacked { 0 } else { UNDER }
    }

    fn is_large(&self) -> bool {
        self.subject.scale.is_some()
    }
}

/// The plan with the largest letters that fits.
fn plan(page: &Page<'_, '_>, width: u16, rows: u16) -> Plan {
    let room = width.saturating_sub(INDENT * 2);
    let beside = beside(page, room, rows);
    let stacked = stacked(page, room, rows);
    match beside {
        Some(plan) if !stacked.is_large() || plan.subject.rows >= stacked.subject.rows => plan,
        _ => stacked,
    }
}

fn beside(page: &Page<'_, '_>, room: u16, rows: u16) -> Option<Plan> {
    let plans = variants(&page.hero.subject).into_iter().filter_map(|name| {
        // a space between them measures the gap
        let whole = BigText::new(&format!("{} {name}", page.hero.big));
        let scale = whole.best_scale(room, rows)?;
        let (word, subject) =
            (Large::at(&page.hero.big, Some(scale)), Large::at(&name, Some(scale)));
        Some(Plan { word, subject, stacked: false })
    });
    // of two that are equally large the full name, which comes first
    plans.collect::<Vec<_>>().into_iter().rev().max_by_key(|plan| plan.subject.rows)
}

fn stacked(page: &Page<'_, '_>, room: u16, rows: u16) -> Plan {
    let each = rows.saturating_sub(1) / 2;
    let subject = Large::name(&page.hero.subject, room, each);
    let for_word = if subject.scale.is_some() { subject.rows } else { rows.saturating_sub(2) };
    let word = Large::fitting(&page.hero.big, room, for_word);
    Plan { word, subject, stacked: true }
}

/// Rows that it needs so that word and subject are both large.
pub(super) fn least(page: &Page<'_, '_>, width: u16) -> u16 {
    let one = plan(page, width, LEAST_ROWS);
    let plan = if one.is_large() { one } else { plan(page, width, LEAST_ROWS * 2 + 1) };
    plan.rows() + plan.under()
}

/// Rows that it uses within `most`, with a blank row above and below.
pub(super) fn best(page: &Page<'_, '_>, width: u16, most: u16) -> u16 {
    let plan = plan(page, width, most.saturating_sub(UNDER + 2));
    plan.rows() + plan.under() + 2
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    let top = u16::from(height >= least(page, width) + 2);
    let plan = plan(page, width, height.saturating_sub(2 * top));
    let plan = if plan.stacked { plan } else { self::plan(page, width, height - UNDER - 2 * top) };
    let (strong, due) = (page.theme.strong(), page.theme.due());
    let (word, subject) = (&plan.word, &plan.subject);
    pen.draw((INDENT, top, word.columns, word.rows), word.widget().style(due));
    let beside = INDENT + word.columns + GAP;
    let (x, y) = if plan.stacked {
        (INDENT, top + word.rows + 1)
    } else {
        (width.saturating_sub(INDENT + subject.columns).min(beside), top)
    };
    if plan.is_large() {
        let place = (x, y, width.saturating_sub(x), subject.rows);
        pen.draw(place, subject.widget().style(strong));
    } else {
        pen.put(x, y, &subject.text.to_uppercase(), strong);
    }
    let (x, y) = match plan.stacked {
        false => (INDENT, top + plan.rows()),
        // beside the shorter of the two
        true if word.columns > subject.columns && plan.is_large() => {
            (INDENT + subject.columns + GAP, y)
        }
        true => (beside, top),
    };
    draw_lines(page, &mut pen.part(x, y, width.saturating_sub(x), height.saturating_sub(y)));
}

/// What is asked, what explains it, and what the last key did.
fn draw_lines(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let strong = page.theme.strong();
    let said = said::in_lines(page);
    let room = usize::from(pen.height());
    let mut told = vec![page.hero.verb.clone()];
    told.extend(page.hero.lines.iter().cloned());
    if told.len() + said.len() > room.min(4) {
        told = vec![told.join(" · ")];
    }
    if told.len() + said.len() > room {
        told.push(said.join(" · "));
    } else {
        told.extend(said);
    }
    for (y, line) in (0..).zip(&told) {
        pen.put(0, y, line, strong);
    }
}
