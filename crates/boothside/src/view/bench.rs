//! What the screens of the bench share: top and bottom line, what is due, what was told, and the
//! question or form under it.

use super::clocks::notices;
use super::foot;
use super::page::{HEAD, Page};
use super::panel;
use super::pen::Pen;
use super::text::columns;
use super::words::event::Back;

/// Most rows of notices here.
const MOST_NOTICES: u16 = 3;

/// Draws all but the body, and the body by `body` into what is left.
pub(super) fn draw(
    page: &Page<'_, '_>,
    pen: &mut Pen<'_>,
    body: impl FnOnce(&Page<'_, '_>, &mut Pen<'_>),
) {
    let (width, height) = (pen.width(), pen.height());
    page.draw_head(pen);
    let (hero, style) = page.hero_line();
    pen.put(1, HEAD, &hero, style);
    let foot_rows = foot::height(page, width, height).min(3);
    let mut bottom = height.saturating_sub(foot_rows);
    foot::draw(page, &mut pen.part(0, bottom, width, foot_rows));
    let top = HEAD + 1;
    let panel_rows = panel::height(page, width).min(bottom.saturating_sub(top + 1));
    bottom -= panel_rows;
    panel::draw(page, &mut pen.part(0, bottom, width, panel_rows));
    let told = notices::height(page, width).min(MOST_NOTICES).min(bottom.saturating_sub(top));
    bottom -= told;
    notices::draw(page, &mut pen.part(0, bottom, width, told));
    if let Some((said, back)) = said(page).filter(|_| bottom > top) {
        bottom -= 1;
        // what is too long is cut in what was told, never in how to take it back
        let room = width.saturating_sub(4 + columns(back));
        let after = pen.put_within(2, bottom, room, &said, page.theme.strong());
        pen.put(after, bottom, back, page.theme.strong());
    }
    body(page, &mut pen.part(0, top, width, bottom.saturating_sub(top)));
}

/// The last key's effect, and how to take it back.
fn said(page: &Page<'_, '_>) -> Option<(String, &'static str)> {
    let said = page.scene.said?;
    let back = page.words.way_back(said).map_or("", |back| match back {
        Back::TakeBack => " · u takes it back",
        Back::Restore => " · 7 restores it",
    });
    Some((format!("● {}", page.words.events(&said.events)), back))
}
