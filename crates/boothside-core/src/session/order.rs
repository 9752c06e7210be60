//! Which entries are in force, and in which order they are folded.

use std::collections::{BTreeMap, BTreeSet};

use super::entry::Entry;
use super::event::Event;
use super::time::Moment;

/// Whether an entry changes the standing of earlier ones, so that the fold starts anew.
pub(super) fn reorders(entry: &Entry) -> bool {
    entry.events.iter().any(|event| {
        matches!(event, Event::Struck { .. } | Event::Retimed { .. } | Event::FigureChanged { .. })
    })
}

/// The numbers of the entries that stand struck. A strike counts unless it is struck itself, and
/// reaches only what was before it; so the last strike is judged first.
pub(super) fn struck(entries: &[Entry]) -> BTreeSet<u64> {
    let mut struck = BTreeSet::new();
    for entry in entries.iter().rev() {
        if struck.contains(&entry.n) {
            continue;
        }
        for event in &entry.events {
            if let Event::Struck { entries: targets } = event {
                struck.extend(targets.iter().filter(|target| **target < entry.n));
            }
        }
    }
    // the opening cannot be taken back: without it there is no session
    if let Some(first) = entries.first() {
        struck.remove(&first.n);
    }
    struck
}

/// An entry in force.
pub(super) struct Placed<'a> {
    /// Its true time.
    pub(super) when: Moment,
    /// Since when that is known: when it was made or last re-timed.
    pub(super) known: Moment,
    pub(super) entry: &'a Entry,
}

/// The entries in force, ordered by (true time, number).
pub(super) fn effective(entries: &[Entry]) -> Vec<Placed<'_>> {
    let struck = struck(entries);
    let live = || entries.iter().filter(|entry| !struck.contains(&entry.n));
    let mut retimed = BTreeMap::new();
    for entry in live() {
        for event in &entry.events {
            if let Event::Retimed { entry: target, when_ms } = event
                && *target < entry.n
            {
                retimed.insert(*target, (*when_ms, entry.t_ms));
            }
        }
    }
    let mut ordered: Vec<Placed<'_>> = live()
        .map(|entry| {
            let told = (entry.told_ms(), entry.t_ms);
            let (when, known) = retimed.get(&entry.n).copied().unwrap_or(told);
            Placed { when, known, entry }
        })
        .collect();
    ordered.sort_by_key(|placed| (placed.when, placed.entry.n));
    ordered
}
