//! Decides: a command becomes an entry, or a refusal. Pure.

mod cans;
mod facts;
mod figures;
mod films;
mod mending;
mod pots;

use std::collections::BTreeSet;

use super::Session;
use super::command::Command;
use super::entry::{Anchor, By, Entry, Seen};
use super::event::{Event, Reason};
use super::limits::{Limits, limits_of_entry, limits_of_new};
use super::refusal::Refusal;
use super::standing::{Hold, Standing, holds_on_begin, holds_on_close};
use super::strike::group;
use super::time::{Moment, Span};
use super::watch::Watch;
use mending::kept;

/// No hand sprays a face quicker than this: our own choice.
const QUICK: Span = Span::from_ms(3_000);

/// When a command comes, and what was on the screen.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Told {
    /// Session time now.
    pub t: Moment,
    /// The wall's time, RFC 3339.
    pub at: String,
    /// The true time of what is told, where that is not now.
    pub when: Option<Moment>,
    /// What the screen showed.
    pub seen: Seen,
    /// Where the machine's clocks stand, when that is to be kept.
    pub anchor: Option<Anchor>,
}

impl Told {
    /// Told now, with nothing on the screen.
    #[must_use]
    pub fn now(t: Moment, at: impl Into<String>) -> Self {
        Self { t, at: at.into(), ..Self::default() }
    }
}

/// Turns a command into the entry that would be written.
///
/// # Errors
/// [`Refusal`] when an intention meets a hold, or what is told cannot have been.
pub fn decide(session: &Session, command: &Command, told: &Told) -> Result<Entry, Refusal> {
    let when = told.when.unwrap_or(told.t);
    if when > told.t {
        return Err(Refusal::Future { nearest: told.t });
    }
    let watch = Watch::at(when);
    let standing = Standing::of(session, &watch);
    let deciding = Deciding { session, standing, watch, today: told.at.clone() };
    let mut events = deciding.events(command, told.t)?;
    if session.state().paused.is_some() && command.is_work() {
        // whoever works again is back
        events.insert(0, Event::Resumed {});
    }
    let limits = limits_of_new(session, &events, told.t);
    if told.when.is_some() && limits.nearest(when) != when {
        return Err(Refusal::OutOfOrder { nearest: limits.nearest(when) });
    }
    Ok(Entry {
        n: session.next_n(),
        t_ms: told.t,
        at: told.at.clone(),
        by: if command.is_machines() { By::Machine } else { By::Key },
        when_ms: told.when.filter(|when| *when != told.t),
        breaks: deciding.breaks(&events),
        events,
        seen: told.seen.clone(),
        anchor: told.anchor.clone(),
    })
}

struct Deciding<'a> {
    session: &'a Session,
    standing: Standing,
    watch: Watch,
    /// The wall's time, for the dates of lots.
    today: String,
}

type Events = Result<Vec<Event>, Refusal>;

impl Deciding<'_> {
    fn events(&self, command: &Command, now: Moment) -> Events {
        match command {
            Command::BeginCoat { face, past } => self.begin(face, *past),
            Command::CoatOn { face } => self.coat_on(face),
            Command::RestOn { layer, coat } => self.rest_on(*layer, *coat),
            Command::Close { past } => self.close(*past),
            Command::TakeBack => self.strike(last_key(self.session).ok_or(Refusal::Nothing)?),
            Command::Strike { n } => self.strike(*n),
            Command::Retime { n, when } => self.retime(*n, *when, now),
            Command::Earlier { by } => {
                let (when, n) = last_told(self.session).ok_or(Refusal::Nothing)?;
                self.retime(n, when.minus(*by), now)
            }
            Command::Pour { pot, layer, component, amount } => {
                self.pour(pot.as_deref(), *layer, *component, *amount)
            }
            Command::Read(reading) => figures::read(*reading),
            Command::ReadBy { reading, place, with } => figures::read_by(*reading, place, with),
            Command::ChangeFigure { field, new, why } => self.change_figure(field, *new, why),
            Command::ChangeFigures { changes, why } => self.change_figures(changes, why),
            Command::TakeFigures { figures } => self.take_figures(figures),
            Command::KeepFigures { figures } => {
                kept(figures.clone()).map(|event| vec![event]).ok_or(Refusal::Nothing)
            }
            _ => self.fact(command),
        }
    }

    fn begin(&self, face: &str, past: Option<Reason>) -> Events {
        let (number, face) = self.face(face)?;
        if self.standing.on_the_gun() == Some(number) {
            return Err(Refusal::OnTheGun);
        }
        let holds = holds_on_begin(self.session, &self.standing, number, &self.watch);
        let mut events = go_past(&holds, past)?;
        // whoever begins a face has left the one before
        if let Some(before) = self.standing.on_the_gun() {
            let id = &self.session.plan().faces()[before].id;
            events.extend(self.coat_on(id)?);
        }
        let (layer, coat) = self.coat_to_spray(number);
        events.push(Event::FaceBegun { face, layer, coat, pot: self.pot_for(layer) });
        Ok(events)
    }

    fn coat_on(&self, face: &str) -> Events {
        let (number, face) = self.face(face)?;
        let (layer, coat) = self.coat_to_spray(number);
        Ok(vec![Event::FaceFinished { face, layer, coat, pot: self.pot_for(layer) }])
    }

    fn rest_on(&self, layer: u32, coat: u32) -> Events {
        let layer = self.layer(layer)?;
        let wanted = |number: &usize| {
            let face = &self.standing.faces[*number];
            face.next == Some((layer, coat)) && !face.now.is_absent()
        };
        let faces: Vec<String> = (0..self.standing.faces.len())
            .filter(wanted)
            .map(|number| self.session.plan().faces()[number].id.clone())
            .collect();
        if faces.is_empty() {
            return Err(Refusal::Nothing);
        }
        Ok(vec![Event::RestFinished { faces, layer, coat, pot: self.pot_for(layer) }])
    }

    fn close(&self, past: Option<Reason>) -> Events {
        let holds = holds_on_close(self.session, &self.standing, &self.watch);
        let mut events = go_past(&holds, past)?;
        events.push(Event::Closed {});
        Ok(events)
    }

    fn strike(&self, n: u64) -> Events {
        let known = self.session.entry(n).is_some() && n != self.session.entries()[0].n;
        if !known || self.session.is_struck(n) {
            return Err(Refusal::NotThere { what: "entry in force", name: n.to_string() });
        }
        Ok(vec![Event::Struck { entries: group(self.session, n) }])
    }

    fn retime(&self, n: u64, when: Moment, now: Moment) -> Events {
        let limits: Limits = limits_of_entry(self.session, n, now)
            .filter(|_| n != self.session.entries()[0].n)
            .ok_or_else(|| Refusal::NotThere { what: "entry in force", name: n.to_string() })?;
        if when > now {
            return Err(Refusal::Future { nearest: limits.nearest(when) });
        }
        if limits.nearest(when) != when {
            return Err(Refusal::OutOfOrder { nearest: limits.nearest(when) });
        }
        Ok(vec![Event::Retimed { entry: n, when_ms: when }])
    }

    /// The rules that facts among `events` break, as holds in their text form.
    fn breaks(&self, events: &[Event]) -> Vec<String> {
        let past = events.iter().any(|event| matches!(event, Event::HoldOverridden { .. }));
        let mut broken = Vec::new();
        for event in events {
            if let Event::FaceFinished { face, .. } = event
                && let Some(number) = self.session.plan().index(face)
            {
                broken.extend(self.breaks_of_coat(number));
            }
            if let Event::RestFinished { faces, .. } = event {
                let numbers = faces.iter().filter_map(|face| self.session.plan().index(face));
                broken.extend(numbers.flat_map(|number| self.breaks_of_coat(number)));
            }
            if let Event::Turned { face } = event {
                broken.extend(self.breaks_of_turn(face));
            }
            broken.extend(self.breaks_of_pot(event));
        }
        let mut seen = BTreeSet::new();
        broken.retain(|rule| seen.insert(rule.clone()));
        if past { Vec::new() } else { broken }
    }

    /// A face is turned over that is not fit to handle yet: the one on whose side it lies.
    fn breaks_of_turn(&self, face: &str) -> Option<String> {
        let number = self.session.plan().index(face)?;
        let turn = self.standing.faces.get(number)?.turn.filter(|turn| !turn.may_be_turned)?;
        let other = &self.session.plan().faces().get(turn.after)?.id;
        Some(format!("handle {other}"))
    }

    fn breaks_of_coat(&self, number: usize) -> Vec<String> {
        let holds = holds_on_begin(self.session, &self.standing, number, &self.watch);
        let begun = self.standing.on_the_gun() == Some(number);
        let on = self.standing.faces[number].begun.filter(|_| begun);
        let quick = on.filter(|on| !self.watch.reached(on.plus(QUICK)));
        let id = &self.session.plan().faces()[number].id;
        let quick = quick.map(|_| format!("quick {id}"));
        // what held a beginning was met when the face was begun; a pot goes on ageing
        let counts = |hold: &&Hold| {
            !begun || matches!(hold, Hold::StopAndClean { .. } | Hold::PotDead { .. })
        };
        holds.iter().filter(counts).map(ToString::to_string).chain(quick).collect()
    }

    /// The layer and coat that the face gets now; past its last, one more of the last layer.
    fn coat_to_spray(&self, number: usize) -> (u32, u32) {
        let state = self.session.state();
        let last = state.layer_count();
        let beyond = || (last, state.faces[number].coats_on(last) + 1);
        self.standing.faces[number].next.unwrap_or_else(beyond)
    }

    fn pot_for(&self, layer: u32) -> Option<String> {
        self.session.state().pot_in_use(layer).map(|pot| pot.id.clone())
    }
}

/// The key that taking back strikes: the last in force that is not itself a taking back.
#[must_use]
pub fn last_key(session: &Session) -> Option<u64> {
    keys(session).map(|(_, entry)| entry.n).max()
}

/// The last key that tells a fact: a re-timing moves that one further.
#[must_use]
pub fn last_fact(session: &Session) -> Option<u64> {
    last_told(session).map(|(_, n)| n)
}

fn last_told(session: &Session) -> Option<(Moment, u64)> {
    let retimes = |entry: &Entry| matches!(entry.events[..], [Event::Retimed { .. }]);
    let facts = keys(session).filter(|(_, entry)| !retimes(entry));
    facts.map(|(when, entry)| (entry.n, when)).max().map(|(n, when)| (when, n))
}

fn keys(session: &Session) -> impl Iterator<Item = (Moment, &Entry)> {
    let strikes = |entry: &Entry| matches!(entry.events[..], [Event::Struck { .. }]);
    let first = session.entries()[0].n;
    session
        .in_force()
        .into_iter()
        .filter(move |(_, entry)| entry.by == By::Key && entry.n != first && !strikes(entry))
}

/// Without holds nothing; with a reason an override each; else the refusal.
fn go_past(holds: &[Hold], past: Option<Reason>) -> Events {
    if holds.is_empty() {
        return Ok(Vec::new());
    }
    let reason = past.ok_or_else(|| Refusal::Held(holds.to_vec()))?;
    let overridden = |hold: &Hold| Event::HoldOverridden { hold: hold.to_string(), reason };
    Ok(holds.iter().map(overridden).collect())
}
