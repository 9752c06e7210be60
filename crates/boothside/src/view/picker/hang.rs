//! Parts to hang, take away or join, and their faces.

use crate::update::picker::{Hanging, PartRow, Picker};
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::clean;
use crate::view::words::state::{face_shape, face_style, face_word};

/// The parts: 'Hatch, hangs', 'Door, away', 'Fairing, can join'.
pub(super) fn parts(page: &Page<'_, '_>, picker: &Picker) -> Vec<String> {
    let rows = picker.parts(page.scene.session, page.scene.at_hand).into_iter();
    rows.map(|row| match row {
        PartRow::OfJob(part) => {
            let stands = if is_away(page, part) { "away" } else { "hangs" };
            format!("{}, {stands}", name(page, part))
        }
        PartRow::OfBook(row) => {
            let part = page.scene.at_hand.parts.get(row);
            format!("{}, can join", part.map(|(_, part)| clean(&part.name)).unwrap_or_default())
        }
    })
    .collect()
}

fn name(page: &Page<'_, '_>, part: usize) -> String {
    let part = page.scene.session.state().work.job.parts.get(part);
    part.map(|part| page.words.part(part)).unwrap_or_default()
}

fn faces(page: &Page<'_, '_>, part: usize) -> Vec<usize> {
    let session = page.scene.session;
    let part = session.state().work.job.parts.get(part);
    part.map(|part| session.plan().of_part(part)).unwrap_or_default()
}

fn is_away(page: &Page<'_, '_>, part: usize) -> bool {
    let state = page.scene.session.state();
    faces(page, part).into_iter().any(|face| state.faces[face].place.away)
}

/// What can become of a part: 'take it away', 'leave out: upper'.
pub(super) fn lines(page: &Page<'_, '_>, picker: &Picker) -> Vec<String> {
    let face = |face: usize| {
        let face = page.scene.session.plan().faces().get(face);
        face.map(|face| clean(&face.face)).unwrap_or_default()
    };
    let rows = picker.hanging(page.scene.session).into_iter();
    rows.map(|row| match row {
        Hanging::Part { away: true, .. } => "it hangs".to_owned(),
        Hanging::Part { away: false, .. } => "it is taken away".to_owned(),
        Hanging::Face { face: number, left: false } => format!("left out: {}", face(number)),
        Hanging::Face { face: number, left: true } => format!("taken in again: {}", face(number)),
    })
    .collect()
}

/// The faces of the part that is chosen, and where they stand.
pub(super) fn draw_beside(page: &Page<'_, '_>, pen: &mut Pen<'_>, picker: &Picker) {
    let rows = picker.parts(page.scene.session, page.scene.at_hand);
    match rows.get(picker.at) {
        Some(PartRow::OfJob(part)) => {
            for (y, face) in (0..).zip(faces(page, *part)) {
                let Some(row) = page.scene.board.faces.get(face) else { continue };
                let style = face_style(row.at.now, page.theme);
                pen.put(0, y, face_shape(row.at.now), style);
                pen.put(2, y, face_word(row.at.now), style);
                pen.put(14, y, &page.words.face(face), page.theme.plain());
            }
        }
        Some(PartRow::OfBook(row)) => {
            let Some((_, part)) = page.scene.at_hand.parts.get(*row) else { return };
            pen.put(0, 0, "joins bare, with its steps and layers to come", page.theme.quiet());
            for (y, face) in (1..).zip(&part.faces) {
                let area = page.words.figures().area(face.area_m2);
                pen.put(0, y, &clean(&face.name), page.theme.plain());
                pen.put(14, y, &area, page.theme.plain());
            }
        }
        None => {}
    }
}
