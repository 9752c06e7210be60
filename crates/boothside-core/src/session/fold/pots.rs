//! The fold of what is told of pots.

use super::Fold;
use crate::material::recipe::{SheetRecipe, Told};
use crate::material::sheet::Role;
use crate::session::demand::left_ml;
use crate::session::event::{Event, Lot};
use crate::session::mixing::{FlowReading, Mixing, Pour, Returned};
use crate::session::state::{Done, Pot, State};
use crate::session::time::Moment;

impl Fold<'_> {
    pub(super) fn pot_event(&mut self, event: &Event) {
        match event {
            Event::PotPlanned { pot, layer, wanted_ml, wanted_g, container_ml, limited } => {
                let mixing = self.mixing(pot, *layer);
                mixing.wanted = Told { ml: *wanted_ml, g: *wanted_g };
                let asked = limited.as_ref().map(|it| Told { ml: it.asked_ml, g: it.asked_g });
                mixing.asked = asked.unwrap_or_default();
                mixing.limited_by = limited.as_ref().map(|it| it.component.clone());
                mixing.container_ml = container_ml.or(mixing.container_ml);
            }
            Event::Poured { pot, layer, wanted_ml, wanted_g, component, poured_g, poured_ml } => {
                let mixing = self.mixing(pot, *layer);
                if mixing.wanted == Told::default() {
                    mixing.wanted = Told { ml: *wanted_ml, g: *wanted_g };
                }
                self.poured(pot, component, Told { g: *poured_g, ml: *poured_ml });
            }
            Event::LotsTold { pot, layer, lots } => self.lots_told(pot, *layer, lots),
            Event::PotMixed { pot, layer, amount_ml, lots } => {
                self.mixed(pot, *layer, *amount_ml);
                self.lots_told(pot, *layer, lots);
            }
            Event::PotToppedUp { pot, amount_ml } => self.topped_up(pot, *amount_ml),
            Event::FlowCup { pot, cup, seconds } => {
                let (seconds, cup, at) = (*seconds, cup.clone(), self.when);
                self.change_mixing(pot, |mixing| {
                    let pours = mixing.pours.len();
                    mixing.flows.push(FlowReading { seconds, cup, at, pours });
                });
                self.change_pot(pot, |_, _| {});
            }
            Event::PotWeighed { pot, left_ml } => {
                self.change_pot(pot, |pot, when| pot.weighed = Some((when, *left_ml)));
            }
            Event::PotReturned { pot, returned_ml, can_ml } => {
                let had_ml = self.state.pot(pot).and_then(|it| left_ml(self.state, self.plan, it));
                let more_ml = had_ml.map(|had| returned_ml - had).filter(|more| *more > 0.5);
                let at = self.when;
                let returned = Returned { ml: *returned_ml, can_ml: *can_ml, more_ml, at };
                self.change_mixing(pot, |mixing| mixing.returned.push(returned));
                self.change_pot(pot, |pot, _| {
                    pot.weighed = pot.weighed.map(|(at, left)| (at, (left - returned.ml).max(0.0)));
                });
            }
            Event::PotEmptied { pot } => {
                let when = self.when;
                self.change_mixing(pot, |mixing| mixing.emptied = Some(when));
                self.change_pot(pot, |pot, when| pot.emptied = Some(when));
            }
            Event::CupFilled { pot } => {
                self.change_pot(pot, |_, _| {});
                self.state.gun = Some(pot.clone());
                self.state.gun_free = Some(self.when);
            }
            Event::GunCleaned {} => self.state.gun = None,
            _ => {}
        }
    }

    /// What is told of mixing `pot`, begun now where nothing was.
    fn mixing(&mut self, pot: &str, layer: u32) -> &mut Mixing {
        let known = self.state.mixings.iter().position(|mixing| mixing.pot == pot);
        let at = known.unwrap_or_else(|| {
            self.state.mixings.push(Mixing { pot: pot.into(), layer, ..Mixing::default() });
            self.state.mixings.len() - 1
        });
        &mut self.state.mixings[at]
    }

    fn change_mixing(&mut self, pot: &str, change: impl FnOnce(&mut Mixing)) {
        if let Some(mixing) = self.state.mixings.iter_mut().find(|mixing| mixing.pot == pot) {
            change(mixing);
        }
    }

    pub(super) fn change_pot(&mut self, id: &str, change: impl FnOnce(&mut Pot, Moment)) {
        if let Some(pot) = self.state.pots.iter_mut().find(|pot| pot.id == id) {
            pot.told_by.push(self.n);
            change(pot, self.when);
        }
    }

    fn poured(&mut self, pot: &str, component: &str, amount: Told) {
        let pour = Pour { component: component.to_owned(), amount, at: self.when, n: self.n };
        self.change_mixing(pot, |mixing| mixing.pours.push(pour));
        let more_ml = self.state.volume_of(pot, component, amount);
        if self.state.pot(pot).is_some() {
            self.change_pot(pot, |pot, _| pot.add(more_ml));
        } else if self.state.is_born(pot) {
            let amount_ml = self.state.poured_ml(pot);
            self.bear(pot, self.when, amount_ml);
        }
    }

    /// A pot is there from now on, mixed at `mixed`.
    fn bear(&mut self, id: &str, mixed: Moment, amount_ml: Option<f64>) {
        let Some(mixing) = self.state.mixing(id) else { return };
        let pot = Pot {
            id: id.to_owned(),
            layer: mixing.layer,
            mixed,
            known: self.known,
            amount_ml,
            lots: mixing.lots.clone(),
            stirred: None,
            weighed: None,
            emptied: None,
            made_by: self.n,
            told_by: Vec::new(),
        };
        self.state.pots.push(pot);
    }

    fn mixed(&mut self, id: &str, layer: u32, amount_ml: Option<f64>) {
        let when = self.when;
        let mixing = self.mixing(id, layer);
        if !mixing.is_open() {
            return;
        }
        mixing.stirred = Some(when);
        let first_pour = mixing.pours.iter().map(|pour| pour.at).min();
        if first_pour.is_none() {
            mixing.fresh_ml.push(amount_ml);
        }
        if self.state.pot(id).is_some() {
            self.change_pot(id, |pot, _| pot.amount_ml = amount_ml.or(pot.amount_ml));
        } else {
            // activator met base somewhere between the first pour and now: the earliest is safe
            self.bear(id, first_pour.unwrap_or(when).min(when), amount_ml);
        }
        self.set_stirred(id);
    }

    fn set_stirred(&mut self, id: &str) {
        let stirred = Done { at: self.when, known: self.known, n: self.n };
        if let Some(pot) = self.state.pots.iter_mut().find(|pot| pot.id == id) {
            pot.stirred = Some(stirred);
        }
    }

    fn lots_told(&mut self, pot: &str, layer: u32, lots: &[Lot]) {
        let today = self.at;
        let mixing = self.mixing(pot, layer);
        mixing.take_lots(lots, today);
        let lots = mixing.lots.clone();
        if let Some(pot) = self.state.pots.iter_mut().find(|it| it.id == pot) {
            pot.lots = lots;
        }
    }

    fn topped_up(&mut self, pot: &str, amount_ml: Option<f64>) {
        self.change_mixing(pot, |mixing| mixing.fresh_ml.push(amount_ml));
        self.change_pot(pot, |pot, _| pot.add(amount_ml));
    }
}

impl Pot {
    /// More is in it, or less; an unknown addition leaves the whole unknown.
    fn add(&mut self, more_ml: Option<f64>) {
        self.amount_ml = self.amount_ml.zip(more_ml).map(|(old, more)| old + more);
        self.weighed = self.weighed.zip(more_ml).map(|((at, left), more)| (at, left + more));
    }
}

impl State {
    /// The volume of a pour, mL; nothing where a density is missing.
    fn volume_of(&self, pot: &str, component: &str, amount: Told) -> Option<f64> {
        let mix = &self.sheet(self.mixing(pot)?.layer)?.mix;
        let at = mix.components.iter().position(|it| it.name == component)?;
        let recipe = SheetRecipe::of(mix).ok()?;
        recipe.told(at, recipe.mass(at, amount)?).ml
    }

    /// Everything poured into a pot, mL.
    fn poured_ml(&self, pot: &str) -> Option<f64> {
        let pours = self.mixing(pot)?.pours.iter();
        pours.map(|pour| self.volume_of(pot, &pour.component, pour.amount)).sum()
    }

    /// Whether activator has met base; a one-part material only needs to be poured.
    fn is_born(&self, pot: &str) -> bool {
        let Some(mixing) = self.mixing(pot) else { return false };
        let Some(sheet) = self.sheet(mixing.layer) else { return !mixing.pours.is_empty() };
        let has = |role: Role| {
            let named = |pour: &Pour| {
                let mut all = sheet.mix.components.iter();
                all.any(|it| it.name == pour.component && it.role == role)
            };
            mixing.pours.iter().any(named)
        };
        if sheet.reacts() {
            has(Role::Activator) && has(Role::Base)
        } else {
            !mixing.pours.is_empty()
        }
    }
}
