//! Screen 2: what to pour.

mod pours;
mod reading;
mod under;

use boothside_core::board::mixing::MixBoard;

use super::bench;
use super::page::Page;
use super::pen::Pen;

/// Draws the whole screen.
pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    bench::draw(page, pen, draw_body);
}

fn draw_body(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let Some(mix) = &page.scene.board.mixing else {
        pen.put(1, 0, "every coat is on: nothing is to be mixed", page.theme.plain());
        return;
    };
    draw_pot(page, pen, mix);
}

/// Rows between the parts where there is room.
struct Rows {
    reading: u16,
    pours: u16,
    gap: u16,
}

impl Rows {
    /// The pours first, then what follows from them, then the large reading, then the rest.
    fn of(page: &Page<'_, '_>, mix: &MixBoard, width: u16, height: u16) -> Self {
        let pours = pours::height(mix).min(height);
        let left = height - pours;
        let under = under::height(page, mix, width);
        let least = reading::least(page, mix, width);
        let reading = if left >= least + under::least(page, mix, width) { least } else { 0 };
        let spare = left.saturating_sub(reading + under);
        let grown = reading::best(page, mix, width, reading + spare.saturating_sub(2));
        let reading = if reading > 0 { grown.max(reading) } else { 0 };
        let gap = u16::from(left > reading + under);
        Self { reading, pours, gap }
    }
}

fn draw_pot(page: &Page<'_, '_>, pen: &mut Pen<'_>, mix: &MixBoard) {
    let (width, height) = (pen.width(), pen.height());
    pen.put(1, 0, &page.words.bench_title(mix), page.theme.strong());
    let rows = Rows::of(page, mix, width, height.saturating_sub(1));
    let mut y = 1;
    reading::draw(page, &mut pen.part(0, y, width, rows.reading), mix);
    y += rows.reading;
    pours::draw(page, &mut pen.part(0, y, width, rows.pours), mix);
    y += rows.pours + rows.gap;
    under::draw(page, &mut pen.part(0, y, width, height.saturating_sub(y)), mix);
}
