//! The start screen: what there is to go on with, and what to begin.

use super::pen::Pen;
use super::text::{columns, wrap};
use super::theme::Theme;
use super::widgets::big::{BigText, Scale};
use super::words::notice::{Loud, notice_without_session};
use crate::update::scene::{StartItem, StartScene};

/// Rows of the title with what is around it.
const TITLE: u16 = 6;

/// An item in words.
struct ItemWords {
    what: String,
    detail: String,
    loud: bool,
}

pub(super) fn draw(scene: &StartScene<'_>, theme: Theme, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    pen.draw((3, 1, width.saturating_sub(3), 4), BigText::new("boothside").scale(Scale::ONE));
    let told = below(scene, theme, width);
    let told_rows = u16::try_from(told.len()).unwrap_or(u16::MAX);
    let foot = height.saturating_sub(2);
    let told_from = foot.saturating_sub(told_rows).max(TITLE);
    let room = told_from.saturating_sub(TITLE + 1);
    draw_items(scene, theme, &mut pen.part(0, TITLE, width, room));
    for (y, (text, style)) in (told_from..foot).zip(&told) {
        pen.put(3, y, text, *style);
    }
    pen.rule(foot, theme.quiet());
    if scene.leaving {
        pen.put(1, foot + 1, "q again leaves", theme.caution());
    } else {
        draw_keys(theme, &mut pen.part(0, foot + 1, width, 1));
    }
}

fn draw_keys(theme: Theme, pen: &mut Pen<'_>) {
    let mut x = 1;
    for (key, does) in [("↑ ↓", "choose"), ("SPACE", "opens the chosen one"), ("q", "leave")] {
        let after = pen.put(x, 0, key, theme.strong());
        x = pen.put(after + 1, 0, does, theme.plain()) + 2;
    }
}

fn draw_items(scene: &StartScene<'_>, theme: Theme, pen: &mut Pen<'_>) {
    let items: Vec<ItemWords> = scene.items.iter().map(item).collect();
    let room = usize::from(pen.height());
    let shown = if items.len() <= room { room } else { room.saturating_sub(1) };
    let from = scene.chosen.saturating_sub(shown / 2).min(items.len().saturating_sub(shown));
    let detail_x = items.iter().map(|item| columns(&item.what)).max().unwrap_or(0);
    let detail_x = 5 + detail_x.min(pen.width() / 2) + 3;
    for (y, number) in (0..).zip((from..items.len()).take(shown)) {
        let Some(item) = items.get(number) else { break };
        let chosen = scene.chosen == number;
        let style = if chosen { theme.chosen() } else { theme.plain() };
        if chosen {
            pen.put(3, y, "▸", theme.chosen());
        }
        pen.put_within(5, y, detail_x - 7, &item.what, style);
        let style = if item.loud { theme.caution() } else { theme.plain() };
        let end = pen.width().saturating_sub(1);
        pen.put_within(detail_x, y, end.saturating_sub(detail_x), &item.detail, style);
    }
    let (above, below) = (from, items.len().saturating_sub(from + shown));
    let more = match (above, below) {
        (0, 0) => return,
        (above, 0) => format!("{above} more above"),
        (0, below) => format!("{below} more below"),
        (above, below) => format!("{above} more above, {below} more below"),
    };
    pen.put(5, pen.height().saturating_sub(1), &more, theme.plain());
}

fn item(item: &StartItem) -> ItemWords {
    let say = |what: String, detail: String| ItemWords { what, detail, loud: false };
    match item {
        StartItem::GoOn { job, stands, soonest, read_only, .. } => {
            let soonest = soonest.map(|at| format!("next edge {}: ", at.format("%a %-d %b %H:%M")));
            let detail = match read_only {
                Some(why) => format!("! only to be read: {why}"),
                None => format!("{}{stands}", soonest.unwrap_or_default()),
            };
            ItemWords { what: format!("go on: {job}"), detail, loud: read_only.is_some() }
        }
        StartItem::Example => say("the example job, for real".into(), "a log is kept".into()),
        StartItem::ExampleRehearsal => say(
            "the example job, as a rehearsal".into(),
            "on a faster clock; nothing is kept".into(),
        ),
        StartItem::OwnJob { name, title: Ok(title) } => {
            say(format!("begin: {title}"), name.clone())
        }
        StartItem::OwnJob { name, title: Err(fault) } => {
            ItemWords { what: name.clone(), detail: format!("! {fault}"), loud: true }
        }
        StartItem::GoOnAfterDamage { name, line, byte, why } => ItemWords {
            what: format!("go on in a new file: {name}"),
            detail: format!("! damaged in line {line}, byte {byte}: {why}"),
            loud: true,
        },
        StartItem::LookAtDamaged { name } => {
            say(format!("look at: {name}"), "what stands before the damage".into())
        }
        StartItem::Past { job, opened, .. } => say(format!("past: {job}"), opened.clone()),
    }
}

/// Notices, where the files are, how to stay awake, and the standing caution.
fn below(scene: &StartScene<'_>, theme: Theme, width: u16) -> Vec<(String, ratatui::style::Style)> {
    let room = width.saturating_sub(6);
    let mut lines = Vec::new();
    let mut add = |text: &str, style| {
        lines.extend(wrap(text, room).into_iter().map(|line| (line, style)));
    };
    for notice in scene.notices {
        let (text, loud) = notice_without_session(notice);
        let style = if loud == Loud::Calm { theme.plain() } else { theme.caution() };
        add(&text, style);
    }
    add(&format!("files: {}", scene.data), theme.plain());
    add(scene.keep_awake, theme.plain());
    add(
        "This screen and its charger belong outside the spray area. The material's safety data \
         sheet rules; so do local codes.",
        theme.strong(),
    );
    lines
}
