//! What matters most, large; or what the last key did.

mod said;

use crate::view::hero::HeroText;
use crate::view::page::Page;
use crate::view::pen::Pen;

/// Rows of large letters over one line of text, with a blank row.
const LEAST: u16 = 6;

/// What is large now. What the last key did stands over a clock for a while, never over what is due.
fn text(page: &Page<'_, '_>, width: u16) -> HeroText {
    if !page.loud.band
        && let Some(said) = said::text(page, width)
    {
        return said;
    }
    let mut small = said::in_lines(page, width);
    small.extend(page.loud.small.iter().cloned());
    HeroText { small, ..page.loud.clone() }
}

/// How many rows are kept for it before all else.
pub(super) fn least(page: &Page<'_, '_>, width: u16, height: u16) -> u16 {
    let text = text(page, width);
    // how the last key is taken back stays in sight
    let said = if page.scene.said.is_some() { text.small_rows(width) } else { 0 };
    let wanted = (text.least_rows(width) + said).max(LEAST);
    wanted.min((height * 3 / 5).max(LEAST))
}

/// How many rows it makes use of where there are `most`.
pub(super) fn best(page: &Page<'_, '_>, width: u16, most: u16) -> u16 {
    text(page, width).best_rows(width, most.saturating_sub(1)).saturating_add(1)
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    text(page, pen.width()).draw(page.theme, pen);
}
