//! What the last key did, with how to take it back.

use boothside_core::session::event::Event;

use crate::update::scene::Said;
use crate::view::hero::{HeroText, INDENT};
use crate::view::page::Page;
use crate::view::text::{columns, cut};
use crate::view::words::event::Back;

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
    details.extend(page.words.way_back(said).map(|back| match back {
        Back::TakeBack => "u takes it back".to_owned(),
        Back::Restore => "7 restores it".to_owned(),
    }));
    details
}

/// The details in one line: what is too long for it is cut in its first part, a name, never in the time
/// or in how to take it back.
fn fitted(mut details: Vec<String>, width: u16) -> String {
    let over = columns(&details.join(" · ")).saturating_sub(width);
    if details.len() > 1
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

/// All of it as ordinary text, for when something due has the large letters.
pub(super) fn in_lines(page: &Page<'_, '_>, width: u16) -> Vec<String> {
    let Some((said, event)) = page.scene.said.and_then(|said| Some((said, main_event(said)?)))
    else {
        return Vec::new();
    };
    let words = page.words.event(event);
    let mut told = details(page, said);
    if !words.of.is_empty() {
        told.remove(0);
    }
    told.insert(0, words.whole());
    let line = fitted(told, width.saturating_sub(INDENT * 2));
    [Some(line), besides(page, said)].into_iter().flatten().collect()
}

/// The same large: what the key did, what SPACE does now, how to take the key back.
pub(super) fn text(page: &Page<'_, '_>, width: u16) -> Option<HeroText> {
    let said = page.scene.said?;
    let event = main_event(said)?;
    let details = fitted(details(page, said), width.saturating_sub(INDENT * 2));
    Some(HeroText {
        band: false,
        large: page.words.event(event).what,
        second: format!("SPACE {}", page.words.next(&page.scene.board.next)),
        small: [Some(details), besides(page, said)].into_iter().flatten().collect(),
    })
}
