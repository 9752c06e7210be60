//! The session: entries, what they say, and what follows from them.

pub mod bounds;
mod changed;
pub mod clocks;
pub mod command;
mod decide;
pub mod demand;
pub mod entry;
pub mod event;
mod figures;
pub mod film;
mod fold;
pub mod gun;
pub mod hanging;
mod limits;
pub mod mixing;
mod order;
pub mod pace;
mod plan;
mod readings;
mod refusal;
mod rules;
mod sitting;
pub mod standing;
mod state;
pub mod stock;
mod strike;
pub mod time;
pub mod watch;

use std::collections::BTreeSet;

use entry::Entry;
use event::{Event, Opening};
use order::Placed;
use time::Moment;

pub use changed::{BOOK_CHANGED, ChangedFigure, changed_figures, offered_figures};
pub use decide::{Told, decide, last_fact, last_key};
pub use figures::{Figure, FigureError, figures, set_figure};
pub use limits::{Limits, limits_of_entry, limits_of_new};
pub use plan::{Plan, PlannedFace};
pub use readings::Readings;
pub use refusal::Refusal;
pub use rules::{Ruled, RulesChange, changed_by_rules, last_rules};
pub use sitting::Sitting;
pub use state::{
    CoatOn, Done, FaceHistory, FaultSeen, Masks, Overridden, Passed, Pause, Pot, Prepared,
    Preparing, ReadBy, State, Taken,
};
pub use strike::group;

/// Why a list of entries is not a session.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotASession {
    /// Nothing there.
    #[error("the log holds no entry; accepted: a log whose first line opens a session")]
    Empty,
    /// The first entry opens nothing.
    #[error("the first entry opens no session; accepted: a line with 'opened' or 'continued'")]
    NoOpening,
    /// Numbers do not rise.
    #[error("entry {n} does not follow the one before it; accepted: numbers that rise")]
    Unordered {
        /// The offending number.
        n: u64,
    },
    /// The job in line 0 does not hold together.
    #[error("the job in the first line does not fit: {0}")]
    Unfit(String),
}

/// A session: every entry, and the state that follows from them.
///
/// The state is a fold over the entries in the order of their true times, and nothing else is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Session {
    entries: Vec<Entry>,
    opening: Opening,
    plan: Plan,
    state: State,
    /// True time of the latest folded entry: an entry not before it can be folded on top.
    latest: Moment,
}

impl Session {
    /// The session that `entries` tell, a continuation's carried entries included.
    ///
    /// # Errors
    /// [`NotASession`] when they open none, or out of order.
    pub fn open(entries: Vec<Entry>) -> Result<Self, NotASession> {
        let entries = flatten(entries);
        let first = entries.first().ok_or(NotASession::Empty)?;
        let opening = first
            .events
            .iter()
            .find_map(|event| match event {
                Event::Opened(opening) => Some((**opening).clone()),
                _ => None,
            })
            .ok_or(NotASession::NoOpening)?;
        if let Some(pair) = entries.windows(2).find(|pair| pair[0].n >= pair[1].n) {
            return Err(NotASession::Unordered { n: pair[1].n });
        }
        if let Some(fault) = opening.work.check().first() {
            return Err(NotASession::Unfit(fault.to_string()));
        }
        let plan = Plan::of(&opening.work);
        let state = State::new(&opening, &plan);
        let mut session = Self { entries, opening, plan, state, latest: Moment::OPENING };
        session.refold();
        Ok(session)
    }

    /// Takes one more entry. Defined for any entry whose number is new; others are ignored.
    pub fn apply(&mut self, entry: Entry) {
        if self.entries.last().is_some_and(|last| last.n >= entry.n) {
            return;
        }
        let on_top = entry.told_ms() >= self.latest && !order::reorders(&entry);
        self.entries.push(entry);
        if on_top {
            if let Some(entry) = self.entries.last() {
                self.latest = entry.told_ms();
                let placed = Placed { when: self.latest, known: entry.t_ms, entry };
                fold::fold(&mut self.state, &mut self.plan, &placed);
            }
        } else {
            self.refold();
        }
    }

    fn refold(&mut self) {
        // parts that joined later are no part of it yet
        self.plan = Plan::of(&self.opening.work);
        let readings = Readings::anew(&mut self.state.readings);
        self.state = State { readings, ..State::new(&self.opening, &self.plan) };
        self.latest = Moment::OPENING;
        for placed in order::effective(&self.entries) {
            fold::fold(&mut self.state, &mut self.plan, &placed);
            self.latest = self.latest.max(placed.when);
        }
    }

    /// Every entry in the order in which it was made.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The entry numbered `n`.
    #[must_use]
    pub fn entry(&self, n: u64) -> Option<&Entry> {
        let at = self.entries.binary_search_by_key(&n, |entry| entry.n).ok()?;
        self.entries.get(at)
    }

    /// Line 0.
    #[must_use]
    pub fn opening(&self) -> &Opening {
        &self.opening
    }

    /// The faces in spraying order.
    #[must_use]
    pub fn plan(&self) -> &Plan {
        &self.plan
    }

    /// What follows from the entries.
    #[must_use]
    pub fn state(&self) -> &State {
        &self.state
    }

    /// The number that the next entry gets.
    #[must_use]
    pub fn next_n(&self) -> u64 {
        self.entries.last().map_or(0, |last| last.n + 1)
    }

    /// The letter of the next pot: one that was written on a pot, even a struck one, is not given
    /// again.
    #[must_use]
    pub fn next_letter(&self) -> String {
        let events = self.entries.iter().flat_map(|entry| &entry.events);
        let mixed = events.filter_map(|event| match event {
            Event::PotMixed { pot, .. } => Some(pot.as_str()),
            _ => None,
        });
        let poured = self.state.mixings.iter().map(|mixing| mixing.pot.as_str());
        let used: BTreeSet<&str> = mixed.chain(poured).collect();
        (0..=used.len())
            .map(letter)
            .find(|letter| !used.contains(letter.as_str()))
            .unwrap_or_default()
    }

    /// The entries in force with their true times, in the order of the fold.
    #[must_use]
    pub fn in_force(&self) -> Vec<(Moment, &Entry)> {
        let placed = order::effective(&self.entries).into_iter();
        placed.map(|placed| (placed.when, placed.entry)).collect()
    }

    /// Whether entry `n` stands struck.
    #[must_use]
    pub fn is_struck(&self, n: u64) -> bool {
        order::struck(&self.entries).contains(&n)
    }
}

/// A to Z, then A2 to Z2, and on.
fn letter(number: usize) -> String {
    let letter = char::from(b'A' + u8::try_from(number % 26).unwrap_or(0));
    match number / 26 {
        0 => letter.to_string(),
        round => format!("{letter}{}", round + 1),
    }
}

/// Puts a continuation's carried entries before it.
fn flatten(entries: Vec<Entry>) -> Vec<Entry> {
    let mut flat = Vec::with_capacity(entries.len());
    for mut entry in entries {
        for event in &mut entry.events {
            if let Event::Continued(continuation) = event {
                flat.extend(flatten(std::mem::take(&mut continuation.entries)));
            }
        }
        flat.push(entry);
    }
    flat
}
