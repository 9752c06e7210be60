//! The table of faces: coats, state, what is left, the window.

mod columns;
mod scroll;

use boothside_core::board::{FaceRow, Next, Stage, Waited};
use boothside_core::session::clocks::Doubt;
use boothside_core::session::standing::FaceNow;

use super::window::{Countdown, countdown, window};
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::{self, cut_name};
use crate::view::widgets::bar::Bar;
use crate::view::words::stage::layer_of;
use crate::view::words::state::{face_shape, face_style, face_word};
use crate::view::words::time::Time;
use columns::Columns;
use scroll::visible;

/// A bar shorter than this tells nothing.
const LEAST_BAR: u16 = 4;

/// Rows of the whole table with its header; none while there is nothing to tell of any face.
pub(super) fn height(page: &Page<'_, '_>) -> u16 {
    let board = page.scene.board;
    let sprayed = board.faces.iter().any(|row| !row.coats.is_empty());
    let spraying = !matches!(
        board.stage,
        Stage::Prep { .. } | Stage::Ready { .. } | Stage::Mix { .. } | Stage::Closed
    );
    if !sprayed && !spraying && page.scene.chosen.is_none() {
        return 0;
    }
    u16::try_from(board.faces.len()).unwrap_or(u16::MAX).saturating_add(1)
}

/// The layer whose coats are shown: the latest that any face has, unless an earlier one is in work
/// for a face that came late.
fn shown_layer(page: &Page<'_, '_>) -> u32 {
    let board = page.scene.board;
    let coats = board.faces.iter().flat_map(|row| &row.coats).map(|coat| coat.layer).max();
    let in_work = layer_of(board.stage);
    let latest = coats.or(in_work).unwrap_or(1);
    in_work.map_or(latest, |in_work| in_work.min(latest))
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    if height == 0 {
        return;
    }
    let layer = shown_layer(page);
    let columns = Columns::of(page, layer, width);
    draw_header(page, pen, layer, &columns);
    let faces = &page.scene.board.faces;
    let seen = visible(faces.len(), usize::from(height - 1), focus(page));
    for (y, number) in (1..).zip(seen.from..seen.to) {
        draw_row(page, &mut pen.part(0, y, width, 1), (layer, number), &columns);
    }
    if let Some(more) = seen.more() {
        pen.put(columns.name, height - 1, &more, page.theme.plain());
    }
}

fn draw_header(page: &Page<'_, '_>, pen: &mut Pen<'_>, layer: u32, columns: &Columns) {
    let style = page.theme.quiet();
    let other = layer_of(page.scene.board.stage) != Some(layer);
    let of = if other { format!("face · {}", page.words.layer(layer)) } else { "face".into() };
    pen.put_within(columns.name, 0, columns.name_width, &of, style);
    for (x, coat) in columns.coats() {
        let head =
            if columns.coat_width > 6 { format!("coat {coat}") } else { format!("coat{coat}") };
        pen.put_within(x, 0, columns.coat_width - 1, &head, style);
    }
    pen.put(columns.state, 0, "now", style);
    pen.put_right(columns.count_end, 0, "to go", style);
}

fn draw_row(
    page: &Page<'_, '_>,
    pen: &mut Pen<'_>,
    (layer, number): (u32, usize),
    columns: &Columns,
) {
    let row = &page.scene.board.faces[number];
    let (theme, now) = (page.theme, row.at.now);
    let chosen = page.scene.chosen == Some(number);
    let loud = chosen || matches!(now, FaceNow::OnTheGun | FaceNow::Look);
    let name_style = if loud { theme.strong() } else { theme.plain() };
    if chosen {
        pen.put(0, 0, "▸", theme.chosen());
    }
    pen.put(2, 0, face_shape(now), face_style(now, theme));
    let name = cut_name(&page.words.face(number), columns.name_width);
    pen.put_within(columns.name, 0, columns.name_width, &name, name_style);
    for (x, coat) in columns.coats() {
        let text = coat_cell(page, row, (layer, coat), columns.coat_width);
        pen.put_within(x, 0, columns.coat_width - 1, &text, theme.plain());
    }
    if let Some(doubt) = doubt_of(row) {
        draw_in_doubt(page, pen, row, columns, doubt);
        return;
    }
    pen.put_within(columns.state, 0, columns::STATE, face_word(now), face_style(now, theme));
    draw_left(page, pen, row, columns);
}

/// What is to be minded of the clock that opened a face, or will close it.
fn doubt_of(row: &FaceRow) -> Option<Doubt> {
    let open = matches!(row.at.now, FaceNow::Open | FaceNow::Closing);
    row.at.opens_doubt.or(row.at.closes_doubt).filter(|_| open)
}

/// A face that is open by a clock in doubt: that takes the place of the bar, and on a narrow screen of
/// the countdown, which goes by the same clock.
fn draw_in_doubt(
    page: &Page<'_, '_>,
    pen: &mut Pen<'_>,
    row: &FaceRow,
    columns: &Columns,
    doubt: Doubt,
) {
    let Countdown { text: left, .. } = countdown(&page.words, row);
    let beside = (columns.count_end - columns.state).saturating_sub(text::columns(&left) + 1);
    let alone = columns.window.saturating_sub(columns.state + 1);
    let [whole, shorter, least] = doubt_texts(page, row.at.now, doubt);
    let tries = [(&whole, true), (&whole, false), (&shorter, false), (&least, true)];
    let room = |counted: bool| if counted { beside } else { alone };
    let fitting = tries.into_iter().find(|(text, counted)| text::columns(text) <= room(*counted));
    let (text, counted) = fitting.unwrap_or((&least, false));
    pen.put_within(columns.state, 0, room(counted), text, page.theme.caution());
    if counted {
        pen.put_right(columns.count_end, 0, &left, page.theme.strong());
    }
    draw_window(page, pen, row, columns);
}

/// The state with its doubt, longest first.
fn doubt_texts(page: &Page<'_, '_>, now: FaceNow, doubt: Doubt) -> [String; 3] {
    let (word, figures) = (face_word(now), page.words.figures());
    match doubt {
        Doubt::OffStated { stated_c, was_c } => {
            let [stated, was] = [stated_c, was_c].map(|celsius| figures.bare_temperature(celsius));
            [
                format!("{word} · stated at {stated}, was {was}"),
                format!("{word} · stated {stated}, was {was}"),
                format!("{word} · was {was}"),
            ]
        }
        Doubt::CarriedOn => [
            format!("{word} · beyond the sheet's table"),
            format!("{word} · beyond the table"),
            format!("{word} · off table"),
        ],
        Doubt::AsEarliest => [
            format!("{word} · sooner, as the earliest"),
            format!("{word} · sooner than stated"),
            format!("{word} · sooner"),
        ],
    }
}

fn draw_left(page: &Page<'_, '_>, pen: &mut Pen<'_>, row: &FaceRow, columns: &Columns) {
    let theme = page.theme;
    let Countdown { text, share } = countdown(&page.words, row);
    if let Some(share) = share.filter(|_| columns.bar_width >= LEAST_BAR) {
        let bar = Bar::new(share).style(theme.plain());
        pen.draw((columns.bar, 0, columns.bar_width, 1), bar);
    }
    pen.put_right(columns.count_end, 0, &text, theme.strong());
    draw_window(page, pen, row, columns);
}

fn draw_window(page: &Page<'_, '_>, pen: &mut Pen<'_>, row: &FaceRow, columns: &Columns) {
    let theme = page.theme;
    let text = window(&page.words, row, columns.window_width);
    let style = match row.at.now {
        FaceNow::Closing | FaceNow::Wipe => theme.caution(),
        FaceNow::Sand => theme.hold(),
        _ => theme.plain(),
    };
    pen.put_within(columns.window, 0, columns.window_width, &text, style);
}

/// When a coat was on: the time, with the day where it was another; the day alone where both have no
/// room.
fn coat_cell(page: &Page<'_, '_>, row: &FaceRow, (layer, coat): (u32, u32), width: u16) -> String {
    let of_layer = row.coats.iter().filter(|coat| coat.layer == layer);
    let Some(coat) = of_layer.take(coat as usize).nth((coat as usize).saturating_sub(1)) else {
        return String::new();
    };
    match coat.finished {
        _ if coat.skipped => "skip".into(),
        None => String::new(),
        Some(at) => {
            let cell = page.words.clock(at, Time::Past);
            let fits = text::columns(&cell) < width;
            let day = page.words.other_day(at).filter(|_| !fits);
            day.unwrap_or(cell)
        }
    }
}

/// The face around which a table is shown that is longer than its room.
fn focus(page: &Page<'_, '_>) -> usize {
    let board = page.scene.board;
    let position = |now: FaceNow| board.faces.iter().position(|row| row.at.now == now);
    let next = match &board.next {
        Next::CoatOn { face, .. }
        | Next::BeginCoat { face, .. }
        | Next::Dulled { face }
        | Next::Turn { face } => Some(*face),
        Next::Wipe { faces, .. } | Next::Sand { faces } => faces.first().copied(),
        Next::Wait {
            what:
                Waited::Look { face }
                | Waited::Opens { face }
                | Waited::WipeDry { face }
                | Waited::Turn { face },
            ..
        } => Some(*face),
        _ => None,
    };
    let chosen = page.scene.chosen;
    let found = chosen.or_else(|| position(FaceNow::OnTheGun)).or(next);
    found.or_else(|| position(FaceNow::Look)).unwrap_or(0)
}
