//! A clock that is due: its word in steady reverse and whose it is, both large.

use super::said;
use crate::view::big;
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::widgets::big::BigText;

const INDENT: u16 = 1;
const GAP: u16 = 3;

/// Word and subject in one row of large letters, or one above the other.
#[derive(Clone, PartialEq)]
struct Plan {
    scale: u16,
    subject: Option<String>,
    stacked: bool,
}

impl Plan {
    fn rows(&self) -> u16 {
        let rows = big::rows(self.scale);
        match (&self.subject, self.stacked) {
            (None, _) => rows + 1,
            (_, false) => rows,
            (_, true) => rows * 2 + 1,
        }
    }
}

/// The largest plan that fits.
fn plan(page: &Page<'_, '_>, width: u16, rows: u16) -> Plan {
    let room = width.saturating_sub(INDENT * 2);
    let largest = (rows * 2 / 7).max(1);
    for scale in (1..=largest).rev() {
        let fits = |plan: Plan| (plan.rows() <= rows).then_some(plan);
        let word = big::width_or_columns(&page.hero.big, scale);
        for name in big::variants(&page.hero.subject) {
            let Some((wide, _)) = big::size(&name, scale) else {
                continue;
            };
            if word + GAP * scale.min(2) + wide <= room {
                return Plan { scale, subject: Some(name), stacked: false };
            }
            let stacked = Plan { scale, subject: Some(name), stacked: true };
            if word.max(wide) <= room
                && let Some(plan) = fits(stacked)
            {
                return plan;
            }
        }
        let alone = Plan { scale, subject: None, stacked: false };
        if scale == 1 {
            return alone;
        }
    }
    Plan { scale: 1, subject: None, stacked: false }
}

/// Rows that it needs so that word and subject are both large, with the lines under them.
pub(super) fn least(page: &Page<'_, '_>, width: u16) -> u16 {
    let one = plan(page, width, 4);
    let stacked = plan(page, width, 9);
    let plan = if one.subject.is_some() { one } else { stacked };
    plan.rows() + 2
}

/// Rows that it uses within `most`.
pub(super) fn best(page: &Page<'_, '_>, width: u16, most: u16) -> u16 {
    plan(page, width, most.saturating_sub(4)).rows() + 4
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    let top = u16::from(height > least(page, width) + 1);
    let plan = plan(page, width, height.saturating_sub(top + 2));
    let room = width.saturating_sub(INDENT * 2);
    let rows = big::rows(plan.scale);
    let word = BigText::new(&page.hero.big).scale(plan.scale).style(page.theme.due());
    pen.draw((INDENT, top, room, rows), word);
    let strong = page.theme.strong();
    if let Some(name) = &plan.subject {
        let beside = INDENT
            + big::width_or_columns(&page.hero.big, plan.scale)
            + GAP * plan.scale.min(2);
        let (x, y) = if plan.stacked { (INDENT, top + rows + 1) } else { (beside, top) };
        let place = (x, y, width.saturating_sub(x), rows);
        pen.draw(place, BigText::new(name).scale(plan.scale).style(strong));
    } else {
        let name = format!(" ◆ {} ", page.hero.subject.to_uppercase());
        pen.put(INDENT, top + rows, &name, page.theme.due());
    }
    let mut y = top + plan.rows();
    let mut told = vec![page.hero.verb.clone()];
    told.extend(page.hero.lines.iter().cloned());
    pen.put(INDENT, y, &told.join(" · "), strong);
    y += 1;
    if let Some(line) = said::in_one_line(page) {
        pen.put(INDENT, y, &line, strong);
    }
}
