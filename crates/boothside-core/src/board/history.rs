//! The log as a screen shows it: newest first, what is struck among it.

use std::collections::BTreeMap;

use crate::session::entry::{By, Entry};
use crate::session::event::Event;
use crate::session::time::Moment;
use crate::session::{Limits, Session, limits_of_entry};

/// How an entry stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// It counts.
    InForce,
    /// It was taken back.
    Struck {
        /// The entry that took it back.
        by: u64,
    },
}

/// One line of the log as it is shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LogRow<'a> {
    /// The entry as it was made.
    pub entry: &'a Entry,
    /// The true time of what it tells, re-timings counted.
    pub when: Moment,
    /// The entry that gave it its true time, where one did.
    pub retimed_by: Option<u64>,
    /// Whether it counts.
    pub stands: Stands,
    /// Whether it can be taken back: neither the opening nor the machine's own news can.
    pub can_strike: bool,
    /// Whether it can be given another time: it tells a fact, and counts.
    pub can_retime: bool,
}

/// Every entry, newest first.
#[must_use]
pub fn log_rows<'a>(session: &'a Session) -> Vec<LogRow<'a>> {
    let entries = session.entries();
    let struck_by = struck_by(entries);
    let retimed = retimed(entries, &struck_by);
    let row = |(at, entry): (usize, &'a Entry)| {
        let by = struck_by.get(&entry.n).copied();
        let retimed = retimed.get(&entry.n).copied();
        let told = at > 0 && entry.by == By::Key;
        LogRow {
            entry,
            when: retimed.map_or(entry.told_ms(), |(_, when)| when),
            retimed_by: retimed.map(|(n, _)| n),
            stands: by.map_or(Stands::InForce, |by| Stands::Struck { by }),
            can_strike: told && by.is_none(),
            can_retime: told && by.is_none() && !corrects(entry),
        }
    };
    entries.iter().enumerate().rev().map(row).collect()
}

/// Between which times the entry numbered `n` can have happened; nothing where it cannot be given
/// another time.
#[must_use]
pub fn retime_limits(session: &Session, n: u64, now: Moment) -> Option<Limits> {
    let entry = session.entry(n).filter(|entry| entry.n > 0 && !corrects(entry))?;
    limits_of_entry(session, entry.n, now)
}

fn corrects(entry: &Entry) -> bool {
    let corrects = |event: &Event| {
        matches!(event, Event::Struck { .. } | Event::Retimed { .. } | Event::Continued(_))
    };
    entry.events.iter().any(corrects)
}

/// By which entry each struck one stands struck. As the fold has it: the last strike is judged
/// first, for a strike that is struck itself takes nothing back.
fn struck_by(entries: &[Entry]) -> BTreeMap<u64, u64> {
    let mut struck = BTreeMap::new();
    for entry in entries.iter().rev() {
        if struck.contains_key(&entry.n) {
            continue;
        }
        for event in &entry.events {
            if let Event::Struck { entries: targets } = event {
                let earlier = targets.iter().filter(|target| **target < entry.n);
                for target in earlier {
                    struck.entry(*target).or_insert(entry.n);
                }
            }
        }
    }
    if let Some(first) = entries.first() {
        struck.remove(&first.n);
    }
    struck
}

/// The re-timing in force of each entry that has one, with its time.
fn retimed(entries: &[Entry], struck: &BTreeMap<u64, u64>) -> BTreeMap<u64, (u64, Moment)> {
    let live = entries.iter().filter(|entry| !struck.contains_key(&entry.n));
    let events = live.flat_map(|entry| entry.events.iter().map(move |event| (entry.n, event)));
    let mut retimed = BTreeMap::new();
    for (n, event) in events {
        if let Event::Retimed { entry: target, when_ms } = event
            && *target < n
        {
            retimed.insert(*target, (n, *when_ms));
        }
    }
    retimed
}
