//! How the rows between top and bottom are shared out.

use super::{air, caution_lines, faces, hero, notices, pots, steps};
use crate::view::page::Page;
use crate::view::panel;

/// Rows of each part, top to bottom.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Layout {
    pub(super) hero: u16,
    pub(super) rule: u16,
    pub(super) steps: u16,
    pub(super) gap_after_steps: u16,
    pub(super) faces: u16,
    pub(super) gap_after_faces: u16,
    pub(super) pots: u16,
    pub(super) air: u16,
    pub(super) caution: u16,
    pub(super) notices: u16,
    pub(super) panel: u16,
}

fn rows(count: usize) -> u16 {
    u16::try_from(count).unwrap_or(u16::MAX)
}

/// Rows still to be given away.
struct Room(u16);

impl Room {
    /// Takes up to `rows`.
    fn take(&mut self, rows: u16) -> u16 {
        let got = rows.min(self.0);
        self.0 -= got;
        got
    }

    /// Takes `rows` or none.
    fn take_whole(&mut self, rows: u16) -> u16 {
        if rows <= self.0 { self.take(rows) } else { 0 }
    }
}

/// Header, two faces, and how many more there are.
const LEAST_FACES: u16 = 4;
/// Most notices that are shown where there is room for them.
const MOST_NOTICES: u16 = 6;

impl Layout {
    /// Gives `height` rows away in the order of what matters most.
    pub(super) fn of(page: &Page<'_, '_>, width: u16, height: u16) -> Self {
        let mut room = Room(height);
        let mut layout = Self::default();
        let all_faces = faces::height(page);
        let all_notices = notices::height(page, width);
        layout.hero = room.take(hero::least(page, width, height));
        layout.panel = room.take(panel::height(page, width));
        layout.faces = room.take(all_faces.min(LEAST_FACES));
        layout.air = room.take(air::height(page, width));
        layout.notices = room.take(all_notices.min(2));
        layout.caution = room.take(rows(caution_lines(page, width).len()));
        layout.pots = room.take(pots::least(page));
        layout.steps = room.take(steps::height(page, width));
        layout.faces += room.take(all_faces - layout.faces.min(all_faces));
        layout.rule = room.take(1);
        layout.pots += room.take_whole(pots::height(page, width) - pots::least(page));
        if layout.faces > 0 {
            layout.gap_after_faces = room.take(1);
        }
        if layout.steps > 0 {
            layout.gap_after_steps = room.take(1);
        }
        let notices = all_notices.min(MOST_NOTICES).saturating_sub(layout.notices);
        layout.notices += room.take(notices);
        layout.steps += room.take_whole(steps::to_come(page, width));
        layout.grow_hero(page, width, &mut room);
        layout
    }

    /// The hero takes the rows that are left, as far as it uses them.
    fn grow_hero(&mut self, page: &Page<'_, '_>, width: u16, room: &mut Room) {
        let most = self.hero + room.0;
        let wanted = hero::best(page, width, most);
        self.hero += room.take(wanted.saturating_sub(self.hero));
    }
}
