//! What follows from a true time: told, also where nothing does.

use boothside_core::board::{Board, moved, news};
use boothside_core::material::sheet::Role;
use boothside_core::session::State;
use boothside_core::session::command::Command;
use boothside_core::session::event::Event;

use super::Desk;
use crate::update::scene::{ActivatorIn, Notice};

impl Desk {
    /// The entry that a command gives its true time.
    pub(super) const fn retimed_by(command: &Command) -> Option<u64> {
        match command {
            Command::Retime { n, .. } => Some(*n),
            _ => None,
        }
    }

    /// Says what follows from the true time of entry `n`, where the board was `before`.
    pub(super) fn notice_true_time(&mut self, n: u64, before: &Board, hand_ms: i64) {
        let activator = self.activator_in(n, before);
        let (news, moved) = (news(before, &self.board), moved(before, &self.board));
        self.notice(Notice::TrueTime { activator, news, moved }, hand_ms);
    }

    /// When activator met base in the pot of which entry `n` tells, and which of the two was the later
    /// one where that is not what the entry tells of.
    fn activator_in(&self, n: u64, before: &Board) -> Option<ActivatorIn> {
        let state = self.session.state();
        let events = &self.session.entry(n)?.events;
        let told = events.iter().find_map(|event| match event {
            Event::Poured { pot, component, .. } => Some((pot, Some(component))),
            Event::PotMixed { pot, .. } => Some((pot, None)),
            _ => None,
        });
        let (pot, component) = told?;
        let born =
            state.pot(pot).filter(|it| state.sheet(it.layer).is_some_and(|it| it.reacts()))?;
        let was = before.pots.iter().find(|it| it.at.id == *pot).and_then(|it| it.at.born);
        let later = later_one(state, pot);
        let other = later.as_ref().filter(|later| component.is_some_and(|it| it != *later));
        let counts = component.is_none_or(|it| meets(state, pot, it)) || was != Some(born.mixed);
        counts.then(|| ActivatorIn { pot: pot.clone(), later: other.cloned(), at: born.mixed })
    }
}

/// Whether a component is one of the two whose meeting is the pot's birth.
fn meets(state: &State, pot: &str, component: &str) -> bool {
    let mix = state.mixing(pot).and_then(|mixing| state.sheet(mixing.layer)).map(|it| &it.mix);
    let mut named = mix.into_iter().flat_map(|mix| &mix.components);
    named.any(|it| it.name == component && it.role != Role::Reducer)
}

/// The component whose pour was the pot's birth.
fn later_one(state: &State, pot: &str) -> Option<String> {
    let (mixing, born) = (state.mixing(pot)?, state.pot(pot)?.mixed);
    let pours = mixing.pours.iter().filter(|pour| pour.at == born);
    let mut pours = pours.filter(|pour| meets(state, pot, &pour.component));
    pours.next().map(|pour| pour.component.clone())
}
