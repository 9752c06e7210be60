//! Figures and times as the texts have them, and the files that are compared.

use std::fs;
use std::path::PathBuf;

use boothside::update::scene::Eye;
use boothside_core::physics::rate::NeverBecause;
use boothside_core::session::clocks::{Due, DueAt};
use boothside_core::session::time::Moment;
use chrono::Utc;

use crate::logs::folder;
use crate::rig::Wall;

/// A moment in UTC, to the millisecond.
pub(crate) fn utc(moment: Moment) -> String {
    Wall.wall(moment).with_timezone(&Utc).format("%m-%d %H:%M:%S%.3f").to_string()
}

/// A figure: fine enough for every change that a painter could see, too coarse for the last bit.
pub(crate) fn figure(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// 'name value', where there is one.
pub(crate) fn told(name: &str, value: Option<impl Into<String>>) -> Option<String> {
    value.map(|value| format!("{name} {}", value.into()))
}

pub(crate) fn at(name: &str, moment: Option<Moment>) -> Option<String> {
    told(name, moment.map(utc))
}

pub(crate) fn num(name: &str, value: Option<f64>) -> Option<String> {
    told(name, value.map(figure))
}

/// 'name', where it is so.
pub(crate) fn flag(name: &str, is_so: bool) -> Option<String> {
    is_so.then(|| name.to_owned())
}

/// When a clock is due, and what later readings make of it.
pub(crate) fn due(name: &str, due: Option<Due>) -> Option<String> {
    let due = due?;
    let later = due.recomputed.map(|it| format!(" (by later readings {})", due_at(it)));
    Some(format!("{name} {}{}", due_at(due.at), later.unwrap_or_default()))
}

pub(crate) fn due_at(due: DueAt) -> String {
    match due {
        DueAt::At(moment) => utc(moment),
        DueAt::Never(because) => format!("never: {}", never(because)),
    }
}

fn never(because: NeverBecause) -> String {
    match because {
        NeverBecause::BelowFloor { floor } => format!("below {} °C", figure(floor.celsius())),
        NeverBecause::AirSaturated => "the air is saturated".to_owned(),
        NeverBecause::SurfaceAtDewPoint => "the surface is at the dew point".to_owned(),
        NeverBecause::TooSlow => "too slow".to_owned(),
    }
}

pub(crate) fn join(parts: impl IntoIterator<Item = Option<String>>) -> String {
    parts.into_iter().flatten().collect::<Vec<_>>().join(" · ")
}

pub(crate) fn rewrites() -> bool {
    std::env::var_os("UPDATE_PINNED").is_some_and(|it| it == "1")
}

pub(crate) fn path(name: &str) -> PathBuf {
    folder().join(name)
}

/// Compares a text with the file of this name, or writes it anew.
pub(crate) fn pinned(name: &str, text: &str) {
    let path = path(name);
    if rewrites() {
        fs::write(path, text).expect("written");
        return;
    }
    let kept = fs::read_to_string(path).unwrap_or_else(|why| panic!("{name}: {why}"));
    let rows = kept.lines().zip(text.lines()).enumerate();
    let first = rows.into_iter().find(|(_, (kept, now))| kept != now);
    if let Some((row, (kept, now))) = first {
        panic!("{name}: line {}\n kept {kept}\n  now {now}\n{HOW}", row + 1);
    }
    assert_eq!(kept.lines().count(), text.lines().count(), "{name}: {HOW}");
    assert_eq!(kept, text, "{name}");
}

const HOW: &str = "where that is meant: UPDATE_PINNED=1, and read the difference";
