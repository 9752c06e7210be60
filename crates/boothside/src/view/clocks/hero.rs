//! The clock that matters most, large; or, once it is due, its word; or what the last key did.

mod due;
mod running;
mod said;

use crate::view::page::Page;
use crate::view::pen::Pen;

/// Rows of the number at its smallest with a blank row above and below.
const LEAST: u16 = 6;

/// How many rows are kept for it before all else.
pub(super) fn least(page: &Page<'_, '_>, width: u16, height: u16) -> u16 {
    let wanted = if page.hero.due { due::least(page, width) } else { LEAST };
    wanted.min((height / 2).max(LEAST))
}

/// How many rows it makes use of where there are `most`.
pub(super) fn best(page: &Page<'_, '_>, width: u16, most: u16) -> u16 {
    if page.hero.due { due::best(page, width, most) } else { running::best(page, width, most) }
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    if page.hero.due {
        due::draw(page, pen);
    } else if page.scene.said.is_some() {
        said::draw(page, pen);
    } else {
        running::draw(page, pen);
    }
}
