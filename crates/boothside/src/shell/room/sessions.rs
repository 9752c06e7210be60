//! The sessions that there are, as lines of the book.

use std::path::{Path, PathBuf};

use boothside_core::board::board;
use boothside_core::session::Session;
use boothside_store::log::{Ending, Inspection, inspect, logs_in};
use boothside_store::printable;
use boothside_store::storage::RealDisk;
use chrono::{DateTime, FixedOffset};

use crate::shell::opening::machine;
use crate::shell::time::Time;
use crate::update::book::list::Entry;
use crate::update::scene::Eye;
use crate::view::words::Words;

/// A session file and a line that the book says of it.
#[derive(Debug, Clone)]
pub(crate) struct Found {
    pub(crate) path: PathBuf,
    pub(crate) entry: Entry,
}

/// Every session file, the open ones first, soonest edge first. What cannot be read is left out here;
/// `boothside sessions` lists it.
pub(crate) fn find(folder: &Path) -> Vec<Found> {
    let logs = logs_in(&RealDisk, folder).unwrap_or_default();
    let mut found = Vec::new();
    for path in logs {
        let Ok(inspection) = inspect(&RealDisk, &path) else { continue };
        let entries = entries_of(&path, inspection);
        found.extend(entries.into_iter().map(|entry| Found { path: path.clone(), entry }));
    }
    let (mut past, mut open): (Vec<_>, Vec<_>) =
        found.into_iter().partition(|found| matches!(found.entry, Entry::Past { .. }));
    open.sort_by_key(|found| soonest(&found.entry));
    past.reverse();
    open.extend(past);
    open
}

fn soonest(entry: &Entry) -> DateTime<FixedOffset> {
    let last = DateTime::<FixedOffset>::MAX_UTC.into();
    match entry {
        Entry::GoOn { soonest, .. } => soonest.unwrap_or(last),
        _ => last,
    }
}

fn entries_of(path: &Path, inspection: Inspection) -> Vec<Entry> {
    let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    if let Ending::Damaged { line, byte, why } = &inspection.ending {
        if inspection.continued_in.is_some() {
            return Vec::new();
        }
        let why = why.to_string();
        return vec![
            Entry::GoOnAfterDamage { name: name.clone(), line: *line, byte: *byte, why },
            Entry::LookAtDamaged { name },
        ];
    }
    let holder = inspection.holder.as_ref().map(ToString::to_string);
    let newer = (!inspection.unknown.is_empty()).then(|| "written by a newer boothside".to_owned());
    let (time, _) = Time::resume(machine(), &inspection.entries);
    let Ok(session) = Session::open(inspection.entries) else { return Vec::new() };
    let job = printable(&session.opening().work.job.name);
    if session.state().closed.is_some() {
        let opened = session.entries()[0].at.chars().take(16).collect::<String>().replace('T', " ");
        return vec![Entry::Past { name, job, opened }];
    }
    vec![open_entry(name, job, &session, &time, holder.or(newer))]
}

fn open_entry(
    name: String,
    job: String,
    session: &Session,
    time: &Time,
    read_only: Option<String>,
) -> Entry {
    let board = board(session, time.t);
    let soonest = board.hero.as_ref().map(|hero| time.wall(hero.at));
    let words = Words::new(session, &board, time);
    let stands = words.next(&board.next);
    Entry::GoOn { name, job, stands, soonest, read_only }
}
