//! Picking from a list, with what is chosen beside it: a fault and what it can come from, a can, a part
//! and its faces.

mod hang;

use boothside_core::work::film_fault::FilmFault;
use ratatui::style::{Modifier, Style};

use super::page::{HEAD, Page};
use super::pen::Pen;
use super::text::{clean, columns, tail, wrap};
use super::words::fault::{about, fault_name};
use super::words::time::Time;
use crate::update::picker::{CanChoice, Picker, Picking};

/// Columns of the list: of faces and faults, and of cans, whose names are longer.
const LIST: u16 = 30;
const CANS: u16 = 48;
/// Rows of a rule, what PageDown does, how typing ends.
const FOOT: u16 = 3;

/// Draws the whole screen.
pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>, picker: &Picker) {
    let (width, height) = (pen.width(), pen.height());
    page.draw_head(pen);
    let (hero, style) = page.hero_line();
    pen.put(1, HEAD, &hero, style);
    draw_foot(page, &mut pen.part(0, height.saturating_sub(FOOT), width, FOOT));
    let top = HEAD + 2;
    let mut body = pen.part(0, top, width, height.saturating_sub(top + FOOT));
    draw_find(page, &mut body, picker);
    let room = body.height().saturating_sub(3);
    let list = if picker.picking == Picking::Can { CANS } else { LIST };
    draw_list(page, &mut body.part(0, 3, list, room), picker);
    draw_beside(page, &mut body.part(list + 1, 3, width.saturating_sub(list + 2), room), picker);
}

fn draw_foot(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    pen.rule(0, page.theme.quiet());
    let after = pen.put(1, 1, " PageDown ", page.theme.due());
    pen.put(after + 1, 1, &page.words.next(&page.scene.board.next), page.theme.strong());
    let how = "type to find · ↑ ↓ choose · Enter takes it · Backspace or Esc closes";
    pen.put(1, 2, how, page.theme.strong());
}

fn draw_find(page: &Page<'_, '_>, pen: &mut Pen<'_>, picker: &Picker) {
    let title = match picker.picking {
        Picking::Part => "parts in the booth".to_owned(),
        Picking::Hanging { part } => {
            let part = page.scene.session.state().work.job.parts.get(part);
            let part = part.map(|part| page.words.part(part)).unwrap_or_default();
            format!("what of {part}?")
        }
        Picking::Face => "a fault was seen: on which face?".to_owned(),
        Picking::Fault { face } => format!("a fault was seen on {}: which?", page.words.face(face)),
        Picking::Can => {
            "from which can is poured? What was poured before stays as it is".to_owned()
        }
    };
    pen.put(1, 0, &title, page.theme.strong());
    let after = pen.put(1, 1, "find: ", page.theme.plain());
    let typed = tail(&clean(&picker.typed), pen.width().saturating_sub(after + 2));
    let after = pen.put(after, 1, &typed, page.theme.strong());
    // a cursor of our own: the terminal's may blink
    pen.put_within(after, 1, 1, " ", Style::new().add_modifier(Modifier::REVERSED));
}

fn names(page: &Page<'_, '_>, picker: &Picker) -> Vec<String> {
    match picker.picking {
        Picking::Face => {
            let faces = picker.faces(page.scene.session).into_iter();
            faces.map(|face| page.words.face(face)).collect()
        }
        Picking::Fault { .. } => {
            picker.faults().iter().map(|fault| fault.name.to_owned()).collect()
        }
        Picking::Can => {
            let cans = picker.cans(page.scene.session).into_iter();
            cans.map(|choice| clean(&format!("{}: {}", choice.name, choice.title()))).collect()
        }
        Picking::Part => hang::parts(page, picker),
        Picking::Hanging { .. } => hang::lines(page, picker),
    }
}

fn draw_list(page: &Page<'_, '_>, pen: &mut Pen<'_>, picker: &Picker) {
    let names = names(page, picker);
    if names.is_empty() {
        pen.put(3, 0, "nothing fits that", page.theme.caution());
        return;
    }
    let room = usize::from(pen.height());
    let from = picker.at.saturating_sub(room / 2).min(names.len().saturating_sub(room));
    for (y, (number, name)) in (0..).zip((from..).zip(names.iter().skip(from).take(room))) {
        let chosen = number == picker.at;
        if chosen {
            pen.put(1, y, "▸", page.theme.chosen());
        }
        let style = if chosen { page.theme.chosen() } else { page.theme.plain() };
        pen.put_within(3, y, pen.width().saturating_sub(4), name, style);
    }
    let more = |y: u16, pen: &mut Pen<'_>| {
        pen.put_right(pen.width(), y, "…", page.theme.quiet());
    };
    if from > 0 {
        more(0, pen);
    }
    if from + room < names.len() {
        more(pen.height().saturating_sub(1), pen);
    }
}

fn draw_beside(page: &Page<'_, '_>, pen: &mut Pen<'_>, picker: &Picker) {
    match picker.picking {
        Picking::Face => {
            if let Some(face) = picker.faces(page.scene.session).get(picker.at) {
                draw_seen(page, pen, *face);
            }
        }
        Picking::Fault { .. } => {
            if let Some(fault) = picker.faults().get(picker.at) {
                draw_about(page, pen, fault);
            }
        }
        Picking::Can => {
            if let Some(choice) = picker.cans(page.scene.session).get(picker.at) {
                draw_can(page, pen, choice);
            }
        }
        Picking::Part => hang::draw_beside(page, pen, picker),
        Picking::Hanging { .. } => {}
    }
}

/// The faults that were seen on a face already.
fn draw_seen(page: &Page<'_, '_>, pen: &mut Pen<'_>, face: usize) {
    let faults = &page.scene.session.state().faults;
    let seen: Vec<_> = faults.iter().filter(|fault| fault.face == face).collect();
    if seen.is_empty() {
        pen.put(0, 0, "no fault noted yet", page.theme.quiet());
        return;
    }
    pen.put(0, 0, "seen on it already", page.theme.title());
    for (y, fault) in (1..).zip(seen.iter().rev()) {
        let at = page.words.clock(fault.at, Time::Past);
        pen.put(0, y, &format!("{at}  {}", fault_name(&fault.fault)), page.theme.plain());
    }
}

/// What is known of a can.
fn draw_can(page: &Page<'_, '_>, pen: &mut Pen<'_>, choice: &CanChoice<'_>) {
    pen.put(0, 0, &clean(choice.title()), page.theme.strong());
    let Some(seen) = choice.can else {
        pen.put(0, 1, "its lot is told by l; nothing is reckoned off a can", page.theme.plain());
        return;
    };
    let about = page.words.about_can(seen);
    let heading = about.iter().map(|(heading, _)| columns(heading)).max().unwrap_or(0) + 2;
    let mut y = 1;
    for (what, text) in &about {
        pen.put(0, y, what, page.theme.quiet());
        for line in wrap(text, pen.width().saturating_sub(heading)) {
            pen.put(heading, y, &line, page.theme.plain());
            y += 1;
        }
    }
}

fn draw_about(page: &Page<'_, '_>, pen: &mut Pen<'_>, fault: &FilmFault) {
    pen.put(0, 0, fault.name, page.theme.strong());
    let about = about(fault);
    let heading = about.iter().map(|about| columns(about.heading)).max().unwrap_or(0) + 2;
    let mut y = 1;
    for part in &about {
        pen.put(0, y, part.heading, page.theme.quiet());
        for line in wrap(&part.text, pen.width().saturating_sub(heading)) {
            pen.put(heading, y, &line, page.theme.plain());
            y += 1;
        }
    }
    let standing = "common practice; the material's sheet and its safety data sheet come first";
    for (y, line) in (y + 1..).zip(wrap(standing, pen.width())) {
        pen.put(0, y, &line, page.theme.quiet());
    }
}
