//! Screen 1: the clocks.

mod air;
mod faces;
mod hero;
mod layout;
pub(super) mod notices;
mod pots;
mod steps;
mod window;

use super::foot;
use super::page::{HEAD, Page};
use super::panel;
use super::pen::Pen;
use super::text::wrap;
use super::words::stage::layer_of;
use super::words::state::caution;
use boothside_core::board::Stage;
use layout::Layout;

/// Draws the whole screen.
pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    page.draw_head(pen);
    let foot_rows = foot::height(page, width, height);
    foot::draw(page, &mut pen.part(0, height.saturating_sub(foot_rows), width, foot_rows));
    let body = height.saturating_sub(HEAD + foot_rows);
    draw_body(page, &mut pen.part(0, HEAD, width, body));
}

fn draw_body(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let width = pen.width();
    let layout = Layout::of(page, width, pen.height());
    hero::draw(page, &mut pen.part(0, 0, width, layout.hero));
    if layout.rule > 0 {
        pen.rule(layout.hero, page.theme.quiet());
    }
    draw_rest(page, pen, &layout, layout.hero + layout.rule);
}

fn draw_rest(page: &Page<'_, '_>, pen: &mut Pen<'_>, layout: &Layout, from: u16) {
    let (width, height) = (pen.width(), pen.height());
    let mut y = from;
    steps::draw(page, &mut pen.part(0, y, width, layout.steps));
    y += layout.steps + layout.gap_after_steps;
    faces::draw(page, &mut pen.part(0, y, width, layout.faces));
    y += layout.faces + layout.gap_after_faces;
    pots::draw(page, &mut pen.part(0, y, width, layout.pots));
    y += layout.pots;
    air::draw(page, &mut pen.part(0, y, width, layout.air));
    // what is told stands at the bottom, next to what SPACE does
    let mut bottom = height;
    bottom -= layout.panel;
    panel::draw(page, &mut pen.part(0, bottom, width, layout.panel));
    bottom -= layout.notices;
    notices::draw(page, &mut pen.part(0, bottom, width, layout.notices));
    bottom -= layout.caution;
    for (y, line) in (bottom..bottom + layout.caution).zip(caution_lines(page, width)) {
        pen.put(CAUTION_INDENT, y, &line, page.theme.plain());
    }
}

const CAUTION_INDENT: u16 = 2;

/// The calm line of the layer's hazards, while it is being made ready; once every coat is on, how long
/// the fan is to run.
fn caution_lines(page: &Page<'_, '_>, width: u16) -> Vec<String> {
    let text = caution_of(page).unwrap_or_default();
    wrap(&text, width.saturating_sub(CAUTION_INDENT * 2))
}

fn caution_of(page: &Page<'_, '_>) -> Option<String> {
    if let Some(fan) = &page.scene.board.fan {
        return Some(page.words.fan(fan));
    }
    let stage = page.scene.board.stage;
    let layer = match stage {
        Stage::Prep { .. } | Stage::Ready { .. } | Stage::Mix { .. } => layer_of(stage)?,
        _ => return None,
    };
    let sheet = page.scene.session.state().sheet(layer)?;
    caution(&sheet.hazards)
}
