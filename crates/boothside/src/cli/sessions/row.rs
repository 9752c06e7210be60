//! One session in the list.

use std::cmp::Ordering;
use std::path::Path;

use boothside_core::session::Session;
use boothside_core::session::event::Event;
use boothside_store::log::{Ending, InspectError, Inspection};
use boothside_store::printable;
use chrono::{DateTime, FixedOffset};
use serde::Serialize;

/// What can be said about a log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum State {
    /// It goes on.
    Open,
    /// It was closed.
    Closed,
    /// Damaged in the middle.
    Damaged,
    /// Written by a newer program.
    ReadOnly,
    /// No whole line.
    Empty,
    /// Its lines hold, but tell no session.
    NoSession,
    /// It cannot be read.
    Unreadable,
}

/// One session in the list.
#[derive(Debug, Serialize)]
pub(super) struct Row {
    session: String,
    job: Option<String>,
    rehearsal: bool,
    opened_at: Option<String>,
    last_at: Option<String>,
    entries: usize,
    state: State,
    held_by: Option<String>,
    continued_in: Option<String>,
}

impl Row {
    pub(super) fn of(log: &Path, inspected: Result<Inspection, InspectError>) -> Self {
        let name = log.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let blank = Self {
            session: name,
            job: None,
            rehearsal: false,
            opened_at: None,
            last_at: None,
            entries: 0,
            state: State::Unreadable,
            held_by: None,
            continued_in: None,
        };
        match inspected {
            Ok(inspection) => blank.filled(inspection),
            Err(_) => blank,
        }
    }

    fn filled(self, inspection: Inspection) -> Self {
        let continued = inspection.continued_in.as_deref().and_then(Path::file_stem);
        let opening = inspection.entries.first().and_then(|entry| match entry.events.first() {
            Some(Event::Opened(opening)) => Some(opening),
            _ => None,
        });
        Self {
            job: opening.map(|opening| opening.work.job.name.clone()),
            rehearsal: opening.is_some_and(|opening| opening.rehearsal),
            opened_at: inspection.entries.first().map(|entry| entry.at.clone()),
            last_at: inspection.entries.last().map(|entry| entry.at.clone()),
            entries: inspection.entries.len(),
            held_by: inspection.holder.map(|holder| holder.to_string()),
            continued_in: continued.map(|name| name.to_string_lossy().into_owned()),
            state: state(inspection),
            ..self
        }
    }

    /// Later opened first; those without a time last, by name.
    pub(super) fn newest_first(&self, other: &Self) -> Ordering {
        let when = |row: &Self| row.opened_at.as_deref().and_then(parsed);
        when(other).cmp(&when(self)).then_with(|| other.session.cmp(&self.session))
    }

    pub(super) fn cells(&self) -> [String; 5] {
        let time = |at: &Option<String>| at.as_deref().map_or_else(String::new, shown);
        [
            printable(&self.session),
            self.job.as_deref().map_or_else(String::new, printable),
            time(&self.opened_at),
            time(&self.last_at),
            self.state_in_words(),
        ]
    }

    fn state_in_words(&self) -> String {
        let mut words = match self.state {
            State::Open => "open",
            State::Closed => "closed",
            State::Damaged => "damaged",
            State::ReadOnly => "read only: from a newer program",
            State::Empty => "nothing saved in it",
            State::NoSession => "tells no session",
            State::Unreadable => "cannot be read",
        }
        .to_owned();
        if self.rehearsal {
            words += ", rehearsal";
        }
        if let Some(name) = &self.continued_in {
            words = format!("{words}, goes on in {}", printable(name));
        }
        if let Some(holder) = &self.held_by {
            words = format!("{words}, {holder} has it");
        }
        words
    }
}

fn state(inspection: Inspection) -> State {
    if matches!(inspection.ending, Ending::Damaged { .. }) {
        return State::Damaged;
    }
    if !inspection.unknown.is_empty() {
        return State::ReadOnly;
    }
    if inspection.lines == 0 {
        return State::Empty;
    }
    let Ok(session) = Session::open(inspection.entries) else {
        return State::NoSession;
    };
    let in_force = session.in_force();
    let mut events = in_force.iter().flat_map(|(_, entry)| &entry.events);
    match events.any(|event| matches!(event, Event::Closed {})) {
        true => State::Closed,
        false => State::Open,
    }
}

fn parsed(at: &str) -> Option<DateTime<FixedOffset>> {
    DateTime::parse_from_rfc3339(at).ok()
}

/// To the minute, in the time zone in which it was written.
fn shown(at: &str) -> String {
    let time = parsed(at).map(|at| at.format("%Y-%m-%d %H:%M").to_string());
    time.unwrap_or_else(|| printable(at))
}
