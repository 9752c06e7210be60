//! Between which times an entry can have happened.

use super::Session;
use super::entry::Entry;
use super::event::Event;
use super::time::{Moment, Span};
use crate::work::job::face_id;
use crate::work::part::Part;

/// The times between which something can have happened, ends included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Not before this; nothing where nothing binds it.
    pub earliest: Option<Moment>,
    /// Not after this.
    pub latest: Moment,
}

impl Limits {
    /// The nearest possible time to `when`.
    #[must_use]
    pub fn nearest(&self, when: Moment) -> Moment {
        self.earliest.map_or(when, |earliest| when.max(earliest)).min(self.latest)
    }
}

/// What an event is about, for its place in the sequence.
#[derive(PartialEq)]
enum Subject<'a> {
    /// Events of one face keep their order.
    Face(&'a str),
    /// A part comes and goes in order.
    Part(&'a str),
    /// A part's faces are spoken of after it joined.
    Joined(&'a str, &'a Part),
    /// A pot is used after it was mixed.
    PotMade(&'a str),
    /// See [`Subject::PotMade`].
    PotUsed(&'a str),
    /// A pot is stirred after it was poured, and poured before it is used or after.
    PotPoured(&'a str),
}

impl Subject<'_> {
    fn bound_to(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Face(a), Self::Face(b))
            | (Self::PotMade(a), Self::PotUsed(b))
            | (Self::PotUsed(a), Self::PotMade(b) | Self::PotPoured(b))
            | (Self::PotPoured(a), Self::PotMade(b) | Self::PotUsed(b))
            | (Self::PotMade(a), Self::PotPoured(b)) => a == b,
            (Self::Part(a), Self::Part(b) | Self::Joined(b, _))
            | (Self::Joined(a, _), Self::Part(b) | Self::Joined(b, _)) => a == b,
            (Self::Joined(part, is), Self::Face(face))
            | (Self::Face(face), Self::Joined(part, is)) => has_face(part, is, face),
            _ => false,
        }
    }
}

fn has_face(part: &str, is: &Part, id: &str) -> bool {
    is.faces.iter().any(|face| face_id(part, &face.id) == id)
}

/// Whether an entry speaks of the faces and the coming and going of one part alone.
pub(super) fn speaks_of_alone(entry: &Entry, part: &str, is: &Part) -> bool {
    let own = |subject: &Subject<'_>| match subject {
        Subject::Face(face) => Some(has_face(part, is, face)),
        Subject::Part(name) | Subject::Joined(name, _) => Some(*name == part),
        Subject::PotMade(_) | Subject::PotUsed(_) | Subject::PotPoured(_) => None,
    };
    let told: Vec<bool> = subjects(&entry.events).iter().filter_map(own).collect();
    !told.is_empty() && told.into_iter().all(|own| own)
}

fn subjects(events: &[Event]) -> Vec<Subject<'_>> {
    events.iter().flat_map(subjects_of).collect()
}

fn subjects_of(event: &Event) -> Vec<Subject<'_>> {
    match event {
        Event::FaceBegun { face, pot, .. }
        | Event::FaceFinished { face, pot, .. }
        | Event::FaceStopped { face, pot, .. } => {
            let pot = pot.as_deref().map(Subject::PotUsed);
            [Some(Subject::Face(face)), pot].into_iter().flatten().collect()
        }
        Event::RestFinished { faces, pot, .. } => {
            let pot = pot.as_deref().map(Subject::PotUsed);
            faces.iter().map(|face| Subject::Face(face)).chain(pot).collect()
        }
        Event::Wiped { faces } | Event::Scuffed { faces } | Event::Sanded { faces } => {
            faces.iter().map(|face| Subject::Face(face)).collect()
        }
        Event::Dulled { face }
        | Event::StillWet { face }
        | Event::Turned { face }
        | Event::CoatSkipped { face, .. }
        | Event::CoatWipedOff { face }
        | Event::ExtraCoat { face, .. }
        | Event::TouchedUp { face }
        | Event::StillSpraying { face }
        | Event::FaultSeen { face, .. }
        | Event::FaceLeft { face }
        | Event::FaceBack { face }
        | Event::FilmRead { face, .. }
        | Event::DryFilmRead { face, .. } => vec![Subject::Face(face)],
        Event::PartHung { part } | Event::PartAway { part } => vec![Subject::Part(part)],
        Event::PartJoined { part, is } => vec![Subject::Joined(part, is)],
        Event::PotMixed { pot, .. } => vec![Subject::PotMade(pot)],
        Event::Poured { pot, .. } => vec![Subject::PotPoured(pot)],
        Event::PotToppedUp { pot, .. }
        | Event::PotEmptied { pot }
        | Event::PotWeighed { pot, .. }
        | Event::PotReturned { pot, .. }
        | Event::FlowCup { pot, .. }
        | Event::PotAccounted { pot, .. }
        | Event::LeftoverAside { pot }
        | Event::CupFilled { pot } => vec![Subject::PotUsed(pot)],
        _ => Vec::new(),
    }
}

/// Between which times events that are told now can have happened: after everything else of the
/// same face or pot, and not in the future.
#[must_use]
pub fn limits_of_new(session: &Session, events: &[Event], now: Moment) -> Limits {
    let new = subjects(events);
    let in_force = session.in_force();
    let bound = in_force.iter().filter(|(_, entry)| shares(&new, entry)).map(|(when, _)| *when);
    Limits { earliest: bound.max(), latest: now }
}

/// Between which times entry `n` can be re-timed without changing the order of what happened to
/// its face or pot. `None` when it is not in force.
#[must_use]
pub fn limits_of_entry(session: &Session, n: u64, now: Moment) -> Option<Limits> {
    let in_force = session.in_force();
    let at = in_force.iter().position(|(_, entry)| entry.n == n)?;
    let own = subjects(&in_force[at].1.events);
    let bound = |(_, entry): &&(Moment, &Entry)| shares(&own, entry);
    // of one moment the lower number comes first: where that would turn the order, a tick of room
    let tick = |turns: bool| Span::from_ms(i64::from(turns));
    let after = in_force[..at].iter().filter(bound).map(|(w, e)| w.plus(tick(e.n > n)));
    let before = in_force[at + 1..].iter().filter(bound).map(|(w, e)| w.minus(tick(e.n < n)));
    Some(Limits { earliest: after.max(), latest: before.min().unwrap_or(now).min(now) })
}

fn shares(own: &[Subject<'_>], entry: &Entry) -> bool {
    let others = subjects(&entry.events);
    own.iter().any(|own| others.iter().any(|other| own.bound_to(other)))
}
