//! A board as the painter reads it: what SPACE does, the large letters, every clock to the
//! millisecond, what is ready, what holds.

use boothside::view::words::Words;
use boothside::view::words::event::reason_words;
use boothside::view::words::state::{face_word, pot_word, step_word};
use boothside_core::board::mixing::{Gauge, MixBoard, OnBench};
use boothside_core::board::{Board, FaceRow, Hero, PotRow};
use boothside_core::session::Session;
use boothside_core::session::clocks::Doubt;
use boothside_core::session::standing::{
    Hold, Standing, StepStanding, WipeWhy, holds_on_begin, holds_on_close,
};
use boothside_core::session::watch::Watch;

use crate::rig::Wall;
use crate::texts::{at, due, due_at, figure, flag, join, num, told, utc};

/// A line and what it is the line of, by which it is compared with the board before.
pub(crate) type Line = (String, String);

/// What is otherwise than before; a line that is gone stands with a minus.
pub(crate) fn changes(before: &[Line], now: &[Line]) -> String {
    let mut text = String::new();
    for line in now.iter().filter(|line| !before.contains(line)) {
        text.push_str(&format!("{}: {}\n", line.0, line.1));
    }
    for (key, _) in before.iter().filter(|(key, _)| now.iter().all(|(other, _)| other != key)) {
        text.push_str(&format!("- {key}\n"));
    }
    text
}

pub(crate) fn lines(session: &Session, board: &Board) -> Vec<Line> {
    let words = Words::new(session, board, &Wall);
    let mut lines = large(&words, board);
    let mut add = |key: String, text: String| lines.push((key, text));
    for (number, row) in board.faces.iter().enumerate() {
        let id = &session.plan().faces()[number].id;
        add(format!("face {id}"), face(&words, row));
        add(format!("film {id}"), film(row));
    }
    for row in &board.pots {
        add(format!("pot {}", row.at.id), pot(&words, row));
    }
    for row in &board.steps {
        add(format!("step {}", row.id), step(row));
    }
    for row in &board.ready {
        let told = words.ready_line(row);
        let text = [words.ready_word(row), told.what, told.figure, told.why, told.how];
        add(format!("ready {}", row.id), text.join(" | "));
    }
    lines.extend(air(&words, board));
    lines.extend(board.mixing.iter().flat_map(|mix| bench(&words, mix)));
    lines.extend(holds(session, &words, board));
    unique(lines)
}

/// What is shown more than once under a name gets its number.
fn unique(lines: Vec<Line>) -> Vec<Line> {
    let mut unique: Vec<Line> = Vec::with_capacity(lines.len());
    for (key, text) in lines {
        let same = unique.iter().filter(|(other, _)| other.split('#').next() == Some(&key)).count();
        let key = if same == 0 { key } else { format!("{key}#{}", same + 1) };
        unique.push((key, text));
    }
    unique
}

fn large(words: &Words<'_>, board: &Board) -> Vec<Line> {
    let hero = words.hero();
    let second = join([Some(hero.verb), flag("due", hero.due)]);
    let mut lines = vec![
        ("SPACE".to_owned(), words.next(&board.next)),
        ("large".to_owned(), hero.big),
        ("second".to_owned(), second),
        ("stage".to_owned(), words.stage()),
    ];
    lines.extend(hero.lines.into_iter().map(|line| ("about".to_owned(), line)));
    let clocks = [("clock", &board.hero), ("other clock", &board.soonest)];
    let clocks = clocks.into_iter().filter_map(|(key, hero)| Some((key, hero.as_ref()?)));
    lines.extend(clocks.map(|(key, hero)| (key.to_owned(), clock(words, hero))));
    if board.to_check > 0 {
        lines.push(("to check".into(), board.to_check.to_string()));
    }
    lines.extend(board.next_change.map(|turns| ("turns".to_owned(), utc(turns))));
    lines.extend(board.fan.as_ref().map(|fan| ("fan".to_owned(), words.fan(fan))));
    lines.extend(board.forgotten.map(|it| {
        let asks = words.forgotten(&it);
        let text = format!("{} since {}, likely {}", asks.question, utc(it.asked), utc(it.likely));
        ("forgotten".to_owned(), text)
    }));
    lines
}

fn clock(words: &Words<'_>, hero: &Hero) -> String {
    let what = words.waited(&hero.what, "");
    join([Some(format!("{} {}", what.trim_end(), utc(hero.at))), flag("due", hero.due)])
}

fn face(words: &Words<'_>, row: &FaceRow) -> String {
    let it = &row.at;
    let next = it.next.map(|(layer, coat)| format!("{layer}.{coat}"));
    let turn = it.turn.map(|turn| {
        let ready = turn.ready.map_or("not known".to_owned(), utc);
        let now = if turn.may_be_turned { ", may be" } else { "" };
        format!("turned after face {}, ready {ready}{now}", turn.after + 1)
    });
    let wipe = it.wipe.map(wipe_why);
    join([
        Some(face_word(it.now).to_owned()),
        (it.film != it.now).then(|| format!("film {}", face_word(it.film))),
        told("next", next),
        at("begun", it.begun),
        at("on", it.finished),
        at("since", it.since),
        told("until", it.until.map(due_at)),
        told("by later readings", it.recomputed.map(due_at)),
        due("look", it.look),
        due("opens", it.opens),
        due("open until", it.open_until),
        due("wipe until", it.wipe_until),
        wipe,
        flag("wipe flashes", it.wipe_flashes),
        words.speed("clock", it.speed),
        doubt(words, "opens", it.opens_doubt),
        doubt(words, "closes", it.closes_doubt),
        turn,
    ])
}

fn wipe_why(why: WipeWhy) -> String {
    let why = match why {
        WipeWhy::Window => "its window is over".to_owned(),
        WipeWhy::CameOff(coat) => format!("coat {coat} came off"),
        WipeWhy::Sanded => "sanded".to_owned(),
        WipeWhy::Turned => "turned".to_owned(),
        WipeWhy::Overnight => "left overnight".to_owned(),
        WipeWhy::TooOld => "its wipe is too old".to_owned(),
    };
    format!("wipe wanted: {why}")
}

fn doubt(words: &Words<'_>, of: &str, doubt: Option<Doubt>) -> Option<String> {
    doubt.map(|doubt| format!("{of} in doubt: {}", words.doubt(doubt)))
}

/// The stages of cure, and the coats that are on.
fn film(row: &FaceRow) -> String {
    let cure = row.at.cure.iter().map(|cure| {
        let name = boothside::view::words::next::cure_word(cure.stage);
        let doubt = if cure.doubt.is_some() { " in doubt" } else { "" };
        due(name, Some(cure.due)).map(|text| format!("{text}{doubt}"))
    });
    join(std::iter::once(Some(format!("{} coats", row.coats.len()))).chain(cure))
}

fn pot(words: &Words<'_>, row: &PotRow) -> String {
    let it = &row.at;
    let needs = row.needs_ml.iter().map(|(coat, ml)| format!("{coat}: {}", figure(*ml)));
    let needs = needs.collect::<Vec<_>>().join(", ");
    join([
        Some(pot_word(it.now).to_owned()),
        Some(format!("layer {}", it.layer)),
        at("born", it.born),
        due("stands until", it.stands_until),
        at("last trigger", it.last_trigger),
        due("dead", it.dead),
        num("mL", it.amount_ml),
        num("left mL", row.left_ml),
        told("coats need mL", (!needs.is_empty()).then_some(needs)),
        words.speed("life", it.speed),
        doubt(words, "stand", it.stand_doubt),
        doubt(words, "life", it.life_doubt),
        flag("in the gun", row.in_the_gun),
    ])
}

fn step(row: &StepStanding) -> String {
    let lacking: Vec<String> = row.lacking.iter().map(|face| (face + 1).to_string()).collect();
    join([
        Some(step_word(row.now).to_owned()),
        at("done", row.done),
        due("wait", row.wait),
        at("not before", row.not_before),
        at("too old", row.too_old),
        flag("again", row.again),
        told("lacking on faces", (!lacking.is_empty()).then(|| lacking.join(" "))),
        at("came", row.came),
    ])
}

fn air(words: &Words<'_>, board: &Board) -> Vec<Line> {
    let it = &board.air;
    let figures = words.figures();
    let text = join([
        it.reading.map(|reading| figures.reading(&reading)),
        at("taken", it.taken),
        flag("stale", it.stale),
        num("warmest °C", it.warmest_c),
        num("paint °C", it.paint_c),
        num("dew point °C", it.dew_point_c),
        num("wet bulb °C", it.wet_bulb_c),
        num("margin K", it.margin_k),
        num("margin over K", it.margin_over_k),
        Some(words.margin((it.margin_k, it.margin_over_k), it.margin_rule, it.margin_rising)),
        Some(words.trend(it.margin_trend)),
    ]);
    let mut lines = vec![("air".to_owned(), text)];
    let outside = it.out_of_limits.iter().map(|it| words.out_of_limits(it));
    lines.extend(outside.map(|text| ("outside the sheet".to_owned(), text)));
    lines.extend(board.overridden.iter().map(|it| {
        let text = format!("{} {} ({})", it.hold, utc(it.at), reason_words(it.reason));
        ("gone past".to_owned(), text)
    }));
    lines
}

fn bench(words: &Words<'_>, mix: &MixBoard) -> Vec<Line> {
    let stands = match mix.stands {
        OnBench::ToMix => "to mix",
        OnBench::Mixing => "mixing",
        OnBench::Mixed => "mixed",
    };
    let by = match mix.by {
        Gauge::Scale => "by scale",
        Gauge::Mark => "by marks",
    };
    let title = words.bench_title(mix);
    let head = [Some(stands.to_owned()), Some(by.to_owned()), Some(title), Some(words.need(mix))];
    let mut lines = vec![("bench".to_owned(), join(head))];
    let minded = words.consequences(mix).into_iter().map(|(_, text)| text);
    lines.extend(minded.map(|text| ("bench says".to_owned(), text)));
    let pours = mix.now.iter().flat_map(|now| now.pot.lines.iter().enumerate());
    lines.extend(pours.map(|(nth, line)| {
        let name = words.component(mix.layer, nth);
        let text = join([
            num("shows g", line.shows.and_then(|told| told.g)),
            num("shows mL", line.shows.and_then(|told| told.ml)),
        ]);
        (format!("pour {name}"), text)
    }));
    lines.extend(words.cans(mix).into_iter().map(|text| ("bench can".to_owned(), text)));
    lines
}

/// What would hold each face now, and the closing.
fn holds(session: &Session, words: &Words<'_>, board: &Board) -> Vec<Line> {
    let watch = Watch::at(board.now);
    let standing = Standing::of(session, &watch);
    let told = |holds: Vec<Hold>| {
        let told = holds.iter().map(|hold| format!("{hold} ({})", words.hold(hold).what));
        told.collect::<Vec<_>>().join("; ")
    };
    let mut lines = Vec::new();
    for (number, planned) in session.plan().faces().iter().enumerate() {
        let holds = holds_on_begin(session, &standing, number, &watch);
        lines.push((format!("holds {}", planned.id), told(holds)));
    }
    lines.push(("holds closing".to_owned(), told(holds_on_close(session, &standing, &watch))));
    lines.retain(|(_, text)| !text.is_empty());
    lines
}
