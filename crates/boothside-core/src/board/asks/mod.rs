//! What is asked of the painter, in order: the first ask that applies is what SPACE does.
//! docs/rules.md, 'The asks, in order'.

mod bench;
mod closing;
mod faces;
mod gate;
mod pots;
mod reading;
mod stop;
mod wait;

pub use stop::Stop;

use super::next::Next;
use crate::session::Session;
use crate::session::standing::{Gate, PotWhy, Standing, Wanting};
use crate::session::watch::Watch;

/// A look at what is to be asked.
pub(super) struct Asks<'a> {
    session: &'a Session,
    standing: &'a Standing,
    watch: &'a Watch,
    gate: Gate<'a>,
}

impl<'a> Asks<'a> {
    pub(super) fn new(session: &'a Session, standing: &'a Standing, watch: &'a Watch) -> Self {
        Self { session, standing, watch, gate: Gate::new(session, standing, watch) }
    }

    /// What comes next.
    pub(super) fn next(&self) -> Next {
        if self.session.state().closed.is_some() {
            return Next::Over;
        }
        self.coat_on()
            .or_else(|| self.stop_and_clean())
            .or_else(|| self.condensing())
            .or_else(|| self.paused())
            .unwrap_or_else(|| self.at_work())
    }

    /// Where work is interrupted and nothing is due, it goes on.
    fn paused(&self) -> Option<Next> {
        self.session.state().paused.as_ref()?;
        Some(self.closing_face().or_else(|| self.look()).unwrap_or(Next::Resume))
    }

    fn at_work(&self) -> Next {
        let due = self
            .closing_face()
            .or_else(|| self.look())
            .or_else(|| self.other_gun())
            .or_else(|| self.first_reading(self.standing.layer?))
            .or_else(|| self.leftover().filter(|it| self.is_suited_up(it)));
        if let Some(due) = due {
            return due;
        }
        let Some(layer) = self.standing.layer else { return self.closing() };
        self.next_pot(layer)
            .or_else(|| self.begin(layer))
            .or_else(|| self.gate(layer))
            .unwrap_or_else(|| self.wait(layer))
    }

    /// Whether what is asked once a sitting was answered, for the layer in work or for that of the pot
    /// that is put aside; nobody is asked once all coats are on.
    fn is_suited_up(&self, leftover: &Next) -> bool {
        let up = |layer: u32| self.gate.once_a_sitting(layer).is_empty();
        let of_pot = match leftover {
            Next::Leftover { pot, .. } => self.session.state().pot(pot).map(|pot| pot.layer),
            _ => None,
        };
        self.standing.layer.is_none_or(up) || of_pot.is_some_and(up)
    }

    /// A thing wanted, as what SPACE does.
    fn wanted(&self, wanting: Wanting) -> Next {
        match wanting {
            Wanting::Step { step, again } => self.step(step, again),
            Wanting::StepNotYet { step, until } => wait::before_step(step, until),
            Wanting::StepWait { step, until } => wait::after_step(step, until),
            Wanting::Check { layer, coat, check } => Next::Check { layer, coat, check },
            Wanting::SomeoneKnows => Next::SomeoneKnows,
            Wanting::Masks => {
                Next::CountMasks { way: crate::session::event::Way::In, again: false }
            }
            Wanting::Reading => Next::Reading { why: self.age() },
            Wanting::Pot { layer, why } => self.new_pot(layer, why),
            Wanting::Pour { pot, component } => self.pour(&pot, &component),
            Wanting::Stir { pot } => super::mixing::stir(self.session.state(), &pot),
            Wanting::Stand { pot, until } => wait::stand(pot, until),
        }
    }

    /// The pot for a coat of `layer`, unless one is ready.
    fn pot_for(&self, layer: u32) -> Option<Wanting> {
        let wanted = self.gate.pot(layer);
        if wanted.is_some() {
            return wanted;
        }
        let pot = self.session.state().pot_in_use(layer)?;
        let late = self.is_too_late(&pot.id, layer);
        late.then(|| self.gate.pot_to_mix(layer, PotWhy::TooLate(pot.id.clone())))
    }
}
