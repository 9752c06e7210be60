//! The book's list: what there is to go on with, to begin, and everything that is in the book.

use boothside_store::book::Kind;
use ratatui::style::{Modifier, Style};

use super::{RoomScene, draw_keys};
use crate::update::book::list::{Entry, KEYS, LEAVES, Leaf, List};
use crate::view::pen::Pen;
use crate::view::text::{columns, wrap};
use crate::view::theme::Theme;
use crate::view::widgets::big::{BigText, Scale};
use crate::view::words::notice::{Loud, notice_without_session};

/// Rows of top line, pages and rule.
const HEAD: u16 = 3;
/// Rows of the program's name, where there is room for it.
const NAME: u16 = 6;

/// A line in words.
struct LineWords {
    what: String,
    detail: String,
    style: Style,
}

pub(super) fn draw(scene: &RoomScene<'_>, theme: Theme, pen: &mut Pen<'_>) {
    let (width, height) = (pen.width(), pen.height());
    draw_head(scene, theme, pen);
    let told = below(scene, theme, width);
    let foot = height.saturating_sub(2);
    let told_rows = u16::try_from(told.len()).unwrap_or(u16::MAX);
    let told_from = foot.saturating_sub(told_rows).max(HEAD + 1);
    let lines: Vec<LineWords> = scene.list.shown().into_iter().map(|it| line(it, theme)).collect();
    let room = told_from.saturating_sub(HEAD + 1);
    let count = u16::try_from(lines.len()).unwrap_or(u16::MAX);
    let name = scene.list.leaf() == Leaf::Work
        && scene.list.find().is_empty()
        && count.saturating_add(NAME) <= room;
    let top = HEAD + 1 + if name { NAME } else { 0 };
    if name {
        let at = (3, HEAD + 1, width.saturating_sub(3), 4);
        pen.draw(at, BigText::new("boothside").scale(Scale::ONE));
    }
    let mut part = pen.part(0, top, width, told_from.saturating_sub(top));
    draw_lines(scene.list, &lines, theme, &mut part);
    for (y, (text, style)) in (told_from..foot).zip(&told) {
        pen.put(3, y, text, *style);
    }
    draw_foot(scene, theme, pen, foot);
}

fn draw_head(scene: &RoomScene<'_>, theme: Theme, pen: &mut Pen<'_>) {
    let width = pen.width();
    pen.put(1, 0, "boothside · the book", theme.strong());
    let now = scene.now.format("%a %-d %b %H:%M").to_string();
    pen.put_right(width.saturating_sub(1), 0, &now, theme.plain());
    let mut x = 1;
    for leaf in LEAVES {
        let count = scene.list.on(leaf).iter().filter(|it| is_something(it)).count();
        let name = leaf_name(leaf);
        let text = match (leaf, count) {
            (Leaf::Of(Kind::Shop), _) | (_, 0) => format!(" {name} "),
            (_, count) => format!(" {name} {count} "),
        };
        let here = leaf == scene.list.leaf();
        let reverse = Style::new().add_modifier(Modifier::BOLD.union(Modifier::REVERSED));
        x = pen.put(x, 1, &text, if here { reverse } else { theme.plain() }) + 1;
    }
    pen.rule(2, theme.quiet());
}

fn is_something(entry: &Entry) -> bool {
    !matches!(entry, Entry::New(_) | Entry::Shop { .. } | Entry::Example | Entry::ExampleRehearsal)
}

fn leaf_name(leaf: Leaf) -> &'static str {
    match leaf {
        Leaf::Work => "Work",
        Leaf::Past => "Past",
        Leaf::Of(Kind::Sheet) => "Sheets",
        Leaf::Of(Kind::Part) => "Parts",
        Leaf::Of(Kind::System) => "Systems",
        Leaf::Of(Kind::Job) => "Jobs",
        Leaf::Of(Kind::Can) => "Cans",
        Leaf::Of(Kind::Shop) => "Shop",
    }
}

fn draw_lines(list: &List, lines: &[LineWords], theme: Theme, pen: &mut Pen<'_>) {
    if lines.is_empty() {
        let text = if list.find().is_empty() { "empty" } else { "no match" };
        pen.put(5, 0, text, theme.plain());
    }
    let room = usize::from(pen.height());
    let shown = if lines.len() <= room { room } else { room.saturating_sub(1) };
    let from = list.chosen().saturating_sub(shown / 2).min(lines.len().saturating_sub(shown));
    let detail_x = lines.iter().map(|line| columns(&line.what)).max().unwrap_or(0);
    let detail_x = 5 + detail_x.min(pen.width() / 2) + 3;
    for (y, (number, line)) in (0..).zip(lines.iter().enumerate().skip(from).take(shown)) {
        let chosen = list.chosen() == number;
        if chosen {
            pen.put(3, y, "▸", theme.chosen());
        }
        let style = if chosen { theme.chosen() } else { theme.plain() };
        pen.put_within(5, y, detail_x - 7, &line.what, style);
        let end = pen.width().saturating_sub(1);
        pen.put_within(detail_x, y, end.saturating_sub(detail_x), &line.detail, line.style);
    }
    let (above, below) = (from, lines.len().saturating_sub(from + shown));
    let more = [(above, "above"), (below, "below")].into_iter().filter(|(count, _)| *count > 0);
    let more: Vec<String> = more.map(|(count, way)| format!("{count} more {way}")).collect();
    if !more.is_empty() {
        pen.put(5, pen.height().saturating_sub(1), &more.join(", "), theme.plain());
    }
}

fn line(entry: &Entry, theme: Theme) -> LineWords {
    let say = |what: String, detail: String| LineWords { what, detail, style: theme.plain() };
    let loud = |what: String, detail: String| LineWords { what, detail, style: theme.caution() };
    match entry {
        Entry::GoOn { job, stands, soonest, read_only, .. } => {
            let soonest =
                soonest.map(|at| format!("next clock {}: ", at.format("%a %-d %b %H:%M")));
            let what = format!("go on: {job}");
            match read_only {
                Some(why) => loud(what, format!("! only to be read: {why}")),
                None => say(what, format!("{}{stands}", soonest.unwrap_or_default())),
            }
        }
        Entry::Example => say("the example job, for real".into(), "a log is kept".into()),
        Entry::ExampleRehearsal => say(
            "the example job, as a rehearsal".into(),
            "on a faster clock; nothing is kept".into(),
        ),
        Entry::GoOnAfterDamage { name, line, byte: _, why } => loud(
            format!("repair: continue {name} in a new file"),
            format!("! damage at line {line}: {why}"),
        ),
        Entry::LookAtDamaged { name } => {
            say(format!("look at: {name}"), "what was written before the damage".into())
        }
        Entry::Past { job, opened, .. } => say(format!("past: {job}"), opened.clone()),
        Entry::Half { title, kind, changes, .. } => {
            let detail = if *changes { "half changed" } else { "half filled in" };
            say(format!("go on filling in: {title}"), format!("{}, {detail}", kind.name()))
        }
        Entry::New(kind) => say(format!("new {}", kind.name()), new_detail(*kind).into()),
        Entry::Thing { title, broken: Some(why), .. } => loud(title.clone(), format!("! {why}")),
        Entry::Thing { title, about, retired: true, .. } => {
            say(format!("{title} (retired)"), about.clone())
        }
        // a can that is past its date, empty, or wrong in its count
        Entry::Thing { kind: Kind::Can, title, about, .. } if about.contains("! ") => {
            loud(title.clone(), about.clone())
        }
        Entry::Thing { kind: Kind::Job, title, about, .. } => {
            say(format!("begin: {title}"), about.clone())
        }
        Entry::Thing { title, about, .. } => say(title.clone(), about.clone()),
        Entry::Shop { broken: Some(why), .. } => {
            loud("the shop's settings".into(), format!("! {why}"))
        }
        Entry::Shop { about, .. } => say("the shop's settings".into(), about.clone()),
    }
}

const fn new_detail(kind: Kind) -> &'static str {
    match kind {
        Kind::Sheet => "a material, from its technical sheet",
        Kind::Part => "a thing to be coated, its faces and their areas",
        Kind::System => "layers, coats and what is done between them",
        Kind::Job => "of your own: parts and a system",
        Kind::Can => "stock on the shelf: mixes draw from it",
        Kind::Shop => "",
    }
}

/// Notices, the acts to choose among, where the files are, how to stay awake, and the standing caution.
fn below(scene: &RoomScene<'_>, theme: Theme, width: u16) -> Vec<(String, Style)> {
    let room = width.saturating_sub(6);
    let mut lines = Vec::new();
    let mut add = |text: &str, style| {
        lines.extend(wrap(text, room).into_iter().map(|line| (line, style)));
    };
    if let Some(why) = scene.list.shop_broken() {
        add(&format!("! {why}"), theme.caution());
    }
    for notice in scene.list.notices() {
        let (text, loud) = notice_without_session(notice);
        add(&text, if loud == Loud::Calm { theme.plain() } else { theme.caution() });
    }
    if let Some(acts) = scene.list.menu() {
        let acts = acts.iter().enumerate();
        let acts: Vec<String> =
            acts.map(|(at, act)| format!("{} {}", at + 1, act.word())).collect();
        add(&acts.join(" · "), theme.strong());
        return lines;
    }
    if !scene.list.find().is_empty() {
        add(&format!("found by: {}", scene.list.find()), theme.strong());
    }
    if scene.list.leaf() == Leaf::Work {
        add(&format!("files: {}", scene.data), theme.plain());
        add(scene.keep_awake, theme.plain());
    }
    add(
        "This screen and its charger belong outside the spray area. The material's safety data \
         sheet, local codes and licensed practice rule.",
        theme.strong(),
    );
    lines
}

fn draw_foot(scene: &RoomScene<'_>, theme: Theme, pen: &mut Pen<'_>, foot: u16) {
    pen.rule(foot, theme.quiet());
    if scene.list.is_leaving() {
        pen.put(1, foot + 1, "q again leaves", theme.caution());
    } else if scene.list.menu().is_some() {
        let keys = [("1–9", "does it"), ("Esc", "leaves it")];
        draw_keys(theme, pen, foot + 1, &keys);
    } else {
        let keys = KEYS.map(|(key, short, _)| (key, short));
        draw_keys(theme, pen, foot + 1, &keys);
    }
}
