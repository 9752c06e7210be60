//! A terminal that is too small for the screens: it says so, and still tells what is due.

use super::page::Page;
use super::pen::Pen;
use super::text::wrap;
use super::theme::Theme;

/// Columns and rows that the screens need.
pub(super) const NEEDED: (u16, u16) = (80, 24);

/// Whether the screens do not fit.
pub(super) const fn is_small(width: u16, height: u16) -> bool {
    width < NEEDED.0 || height < NEEDED.1
}

fn told(pen: &Pen<'_>) -> String {
    let (width, height) = NEEDED;
    format!("{}×{} is too small: make it {width}×{height}", pen.width(), pen.height())
}

/// Draws what there is room for, most important first.
pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (hero, hero_style) = page.hero_line();
    let strong = page.theme.strong();
    let banner = match page.scene.saved {
        crate::update::scene::Saved::NotSaved { waiting, .. } => format!("NOT SAVED {waiting}"),
        _ => String::new(),
    };
    let rehearsal = page.rehearsal().unwrap_or_default();
    let parts = [
        (hero, hero_style),
        (told(pen), page.theme.caution()),
        (banner, page.theme.hold()),
        (format!("SPACE {}", page.words.next(&page.scene.board.next)), strong),
        (rehearsal, page.theme.due()),
    ];
    draw_parts(pen, &parts);
}

/// The same before a session.
pub(super) fn draw_start(pen: &mut Pen<'_>, theme: Theme) {
    let parts = [(told(pen), theme.caution())];
    draw_parts(pen, &parts);
}

fn draw_parts(pen: &mut Pen<'_>, parts: &[(String, ratatui::style::Style)]) {
    let mut y = 0;
    for (text, style) in parts {
        for line in wrap(text, pen.width()) {
            pen.put(0, y, &line, *style);
            y += 1;
        }
    }
}
