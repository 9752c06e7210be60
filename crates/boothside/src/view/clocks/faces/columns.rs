//! The columns of the table of faces.

use boothside_core::board::FaceRow;

use crate::view::page::Page;
use crate::view::text::columns;
use crate::view::words::time::Time;

/// Width of a state's word.
pub(super) const STATE: u16 = 10;
/// Width of a countdown: '11:43:40', '3 d 14 h'.
const COUNT: u16 = 8;
/// Width of 'dust free 14:24'.
const WINDOW: u16 = 15;
/// Width of 'open to Wed 14:24', and of a cure's stage with its day.
const WIDE_WINDOW: u16 = 20;
/// Where the names begin, after the mark of the chosen face and the shape.
const NAME: u16 = 4;
const LONGEST_BAR: u16 = 40;

/// Where each column begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Columns {
    pub(super) name: u16,
    pub(super) name_width: u16,
    first_coat: u32,
    shown_coats: u32,
    pub(super) coat_width: u16,
    coats_x: u16,
    pub(super) state: u16,
    pub(super) bar: u16,
    pub(super) bar_width: u16,
    pub(super) count_end: u16,
    pub(super) window: u16,
    pub(super) window_width: u16,
}

impl Columns {
    /// The columns for coats of `layer` in `width`: all coats where they fit, else the latest.
    pub(super) fn of(page: &Page<'_, '_>, layer: u32, width: u16) -> Self {
        let faces = 0..page.scene.board.faces.len();
        let longest = faces.map(|face| columns(&page.words.face(face))).max().unwrap_or(0);
        let name_width = longest.clamp(8, (width / 4).max(14));
        let window_width = if width >= 96 { WIDE_WINDOW } else { WINDOW };
        let coats = page.words.coats(layer).max(1);
        let fixed = NAME + name_width + 2 + STATE + 1 + COUNT + 2 + window_width + 1;
        let room = width.saturating_sub(fixed);
        let (shown_coats, coat_width) = fitting_coats(coats, room, widest_coat(page, layer) + 1);
        let coats_width = coat_width * u16::try_from(shown_coats).unwrap_or(u16::MAX);
        let coats_x = NAME + name_width + 2;
        let state = coats_x + coats_width;
        let bar = state + STATE + 1;
        let bar_width = room.saturating_sub(coats_width).saturating_sub(1).min(LONGEST_BAR);
        let count_end = bar + bar_width + 1 + COUNT;
        Self {
            name: NAME,
            name_width,
            first_coat: first_shown(page, layer, shown_coats),
            shown_coats,
            coat_width,
            coats_x,
            state,
            bar,
            bar_width,
            count_end,
            window: count_end + 2,
            window_width,
        }
    }

    /// Where each coat's column begins, and the coat's number.
    pub(super) fn coats(&self) -> impl Iterator<Item = (u16, u32)> + use<> {
        let (x, width, first) = (self.coats_x, self.coat_width, self.first_coat);
        (0..self.shown_coats)
            .map(move |at| (x + width * u16::try_from(at).unwrap_or(0), first + at))
    }
}

/// The first coat shown where not all are: so that the latest that any face has is the last.
fn first_shown(page: &Page<'_, '_>, layer: u32, shown: u32) -> u32 {
    let on = |row: &FaceRow| row.coats.iter().filter(|coat| coat.layer == layer).count();
    let latest = page.scene.board.faces.iter().map(on).max().unwrap_or(0);
    u32::try_from(latest).unwrap_or(u32::MAX).saturating_sub(shown) + 1
}

/// Columns of the longest time at which a coat of `layer` was on: with its day, where it was another.
fn widest_coat(page: &Page<'_, '_>, layer: u32) -> u16 {
    let coats = page.scene.board.faces.iter().flat_map(|row| &row.coats);
    let on = coats.filter(|coat| coat.layer == layer && !coat.skipped);
    let times = on.filter_map(|coat| coat.finished);
    times.map(|at| columns(&page.words.clock(at, Time::Past))).max().unwrap_or(0)
}

/// How many coats are shown, and how wide, `least` at the least. The bar gives way first, then the
/// earlier coats.
fn fitting_coats(coats: u32, room: u16, least: u16) -> (u32, u16) {
    let least = least.clamp(6, room.max(6));
    let usual = [(11, 24), (8, 8), (7, 6), (6, 5)].into_iter().filter(|(width, _)| *width >= least);
    for (width, bar) in usual.chain([(least, 5), (least, 0)]) {
        let wanted = u32::from(width) * coats + bar;
        if wanted <= u32::from(room) {
            return (coats, width);
        }
    }
    ((u32::from(room) / u32::from(least)).clamp(1, coats), least)
}

#[cfg(test)]
mod tests {
    use super::fitting_coats;

    #[test]
    fn a_time_with_its_day_has_its_room_before_the_bar_and_before_older_coats() {
        assert_eq!(fitting_coats(2, 23, 6), (2, 7));
        assert_eq!(fitting_coats(2, 23, 10), (2, 10), "the bar gives way");
        assert_eq!(fitting_coats(4, 23, 10), (2, 10), "the older coats give way");
        assert_eq!(fitting_coats(4, 8, 17), (1, 8));
        for room in 0..60 {
            for least in 0..20 {
                let (shown, width) = fitting_coats(5, room, least);
                assert!(shown >= 1 && (shown == 1 || u32::from(width) * shown <= room.into()));
            }
        }
    }
}
