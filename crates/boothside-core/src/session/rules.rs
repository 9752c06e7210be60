//! What other rules make of a session's clocks.

use crate::material::sheet::CureStage;
use crate::physics::rate::Rules;
use crate::session::Session;
use crate::session::clocks::{Due, DueAt};
use crate::session::entry::By;
use crate::session::event::Event;
use crate::session::standing::{FaceStanding, PotStanding, Standing, StepStanding};
use crate::session::time::{Moment, Span};
use crate::session::watch::Watch;

/// A difference up to this is not told.
const TOLD_FROM: Span = Span::from_minutes(1);

/// A clock whose time differs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ruled {
    /// The look at a face, by its number.
    Look(usize),
    /// The earliest next coat on a face.
    Opens(usize),
    /// Until when a face takes the next coat directly.
    OpenUntil(usize),
    /// Until when it takes it after a wipe.
    WipeUntil(usize),
    /// A stage of cure of a face.
    Cure(usize, CureStage),
    /// The stand of a pot, by its letter.
    Stand(String),
    /// The last trigger of a pot; the end of its life where it has none.
    LastTrigger(String),
    /// The wait of a step, by its id.
    Step(String),
}

/// What this program's rules make of an open clock.
#[derive(Debug, Clone, PartialEq)]
pub struct RulesChange {
    /// Whose clock.
    pub of: Ruled,
    /// Its time by the rules of now. It counts.
    pub now: DueAt,
    /// Its time by the rules under which it was written.
    pub before: DueAt,
}

/// The rules that the log named last.
#[must_use]
pub fn last_rules(session: &Session) -> Rules {
    named(session).last().map_or(Rules::FIRST, |(_, rules)| rules)
}

/// The rules that the log named, each with the number of the entry.
fn named(session: &Session) -> impl Iterator<Item = (u64, Rules)> + '_ {
    let entries = session.entries().iter();
    let events = entries.flat_map(|entry| entry.events.iter().map(|event| (entry.n, event)));
    events.filter_map(|(n, event)| match event {
        Event::Opened(opening) => Some((n, Rules::numbered(opening.rules))),
        Event::Restarted { rules, .. } => Some((n, Rules::numbered(*rules))),
        _ => None,
    })
}

/// The rules under which a hand last wrote: a restart that no key followed has answered nothing.
fn last_seen(session: &Session) -> Rules {
    let last_key = session.entries().iter().rev().find(|entry| entry.by == By::Key);
    let last_key = last_key.map_or(0, |entry| entry.n);
    let seen = named(session).filter(|(n, _)| *n <= last_key);
    seen.last().map_or_else(|| last_rules(session), |(_, rules)| rules)
}

/// The clocks that run at `at` and differ by more than a minute from what the rules said under which
/// the session was last written; soonest first.
#[must_use]
pub fn changed_by_rules(session: &Session, at: Moment) -> Vec<RulesChange> {
    let before = last_seen(session);
    if before >= Rules::NOW || session.state().closed.is_some() {
        return Vec::new();
    }
    let mut old = session.clone();
    old.state.rules = before;
    let watch = Watch::at(at);
    let (now, old) = (Standing::of(session, &watch), Standing::of(&old, &watch));
    let mut changes = Changes { watch: &watch, found: Vec::new() };
    for (number, pair) in now.faces.iter().zip(&old.faces).enumerate() {
        let answered = session.state().faces.get(number).and_then(|face| face.last_on());
        let dulled = answered.is_some_and(|coat| coat.dulled.is_some());
        changes.of_face(number, pair, dulled);
    }
    now.pots.iter().zip(&old.pots).for_each(|pair| changes.of_pot(pair));
    now.steps.iter().zip(&old.steps).for_each(|pair| changes.of_step(pair));
    let mut found = changes.found;
    found.sort_by_key(|change| change.now.moment().unwrap_or(Moment::from_ms(i64::MAX)));
    found
}

struct Changes<'a> {
    watch: &'a Watch,
    found: Vec<RulesChange>,
}

impl Changes<'_> {
    fn of_face(&mut self, number: usize, (now, old): (&FaceStanding, &FaceStanding), dulled: bool) {
        if now.next.is_some() {
            if !dulled {
                self.due(Ruled::Look(number), now.look, old.look);
            }
            self.due(Ruled::Opens(number), now.opens, old.opens);
            self.due(Ruled::OpenUntil(number), now.open_until, old.open_until);
            self.due(Ruled::WipeUntil(number), now.wipe_until, old.wipe_until);
        }
        for (now, old) in now.cure.iter().zip(&old.cure) {
            self.due(Ruled::Cure(number, now.stage), Some(now.due), Some(old.due));
        }
    }

    fn of_pot(&mut self, (now, old): (&PotStanding, &PotStanding)) {
        if now.now == super::standing::PotNow::Emptied {
            return;
        }
        self.due(Ruled::Stand(now.id.clone()), now.stands_until, old.stands_until);
        let at = |moment: Option<Moment>| moment.map(DueAt::At);
        self.pair(Ruled::LastTrigger(now.id.clone()), at(now.last_trigger), at(old.last_trigger));
    }

    fn of_step(&mut self, (now, old): (&StepStanding, &StepStanding)) {
        self.due(Ruled::Step(now.id.clone()), now.wait, old.wait);
    }

    fn due(&mut self, of: Ruled, now: Option<Due>, before: Option<Due>) {
        self.pair(of, now.map(|due| due.at), before.map(|due| due.at));
    }

    /// Notes a clock that runs by one of the rules at least, and differs.
    fn pair(&mut self, of: Ruled, now: Option<DueAt>, before: Option<DueAt>) {
        let (Some(now), Some(before)) = (now, before) else { return };
        let over = |at: DueAt| at.moment().is_some_and(|moment| self.watch.reached(moment));
        let differ = match (now.moment(), before.moment()) {
            (Some(now), Some(before)) => now.since(before).ms().abs() > TOLD_FROM.ms(),
            (None, None) => false,
            _ => true,
        };
        if differ && !(over(now) && over(before)) {
            self.found.push(RulesChange { of, now, before });
        }
    }
}
