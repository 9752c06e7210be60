//! What the last key did, large, with how to take it back.

use boothside_core::session::event::Event;

use crate::update::scene::Said;
use crate::view::big::Large;
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::{columns, cut};

const INDENT: u16 = 3;

/// The event that counts: what the key meant stands last.
fn main_event(said: &Said) -> Option<&Event> {
    said.events.last()
}

fn details(page: &Page<'_, '_>, said: &Said) -> Vec<String> {
    let mut details = Vec::new();
    if let Some(event) = main_event(said) {
        let of = page.words.event(event).of;
        details.extend(Some(of).filter(|of| !of.is_empty()));
    }
    details.push(page.words.clock_to_the_second(said.when));
    if said.can_take_back {
        details.push("u takes it back".into());
    }
    details
}

/// The details in one line: what is too long for it is cut in the name, never in the time or in how
/// to take it back.
fn fitted(mut details: Vec<String>, width: u16) -> String {
    let over = columns(&details.join(" · ")).saturating_sub(width);
    if details.len() == 3
        && let Some(of) = details.first_mut()
    {
        *of = cut(of, columns(of).saturating_sub(over));
    }
    details.join(" · ")
}

/// What goes with it: the rules broken or gone past, and a face finished by the same key.
fn besides(page: &Page<'_, '_>, said: &Said) -> Option<String> {
    let (_, before) = said.events.split_last()?;
    let mut told: Vec<String> =
        before.iter().map(|event| page.words.event(event).whole()).collect();
    if !said.breaks.is_empty() {
        let broken: Vec<String> =
            said.breaks.iter().map(|broken| page.words.broken(broken)).collect();
        told.push(format!("breaks a rule: {}", broken.join("; ")));
    }
    (!told.is_empty()).then(|| format!("! {}", told.join("; ")))
}

/// All of it in two lines, for when a due clock has the room.
pub(super) fn in_lines(page: &Page<'_, '_>) -> Vec<String> {
    let Some((said, event)) = page.scene.said.and_then(|said| Some((said, main_event(said)?)))
    else {
        return Vec::new();
    };
    let mut told = vec![page.words.event(event).what];
    told.extend(details(page, said));
    let besides = besides(page, said);
    [Some(told.join(" · ")), besides].into_iter().flatten().collect()
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    let Some((said, event)) = page.scene.said.and_then(|said| Some((said, main_event(said)?)))
    else {
        return;
    };
    let theme = page.theme;
    let what = page.words.event(event).what;
    let besides = besides(page, said);
    let top = u16::from(height > 6);
    let under = 2 + u16::from(besides.is_some() && height > 6);
    let rows = height.saturating_sub(top + under);
    let large = Large::fitting(&what, width.saturating_sub(INDENT + 1), rows);
    let mut y = top;
    if large.scale.is_some() {
        let place = (INDENT, y, large.columns, large.rows);
        pen.draw(place, large.widget().style(theme.strong()));
    } else {
        pen.put(INDENT, y, &what.to_uppercase(), theme.strong());
    }
    y += large.rows;
    pen.put(
        INDENT,
        y,
        &fitted(details(page, said), width.saturating_sub(INDENT + 1)),
        theme.strong(),
    );
    y += 1;
    if let Some(besides) = besides {
        pen.put(INDENT, y, &besides, theme.caution());
        y += 1;
    }
    if y < height && page.scene.board.hero.is_some() {
        pen.put(INDENT, y, &page.hero_line().0, theme.plain());
    }
}
