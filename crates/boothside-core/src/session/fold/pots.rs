//! The fold of what is told of pots.

use super::Fold;
use crate::material::recipe::{SheetRecipe, Told};
use crate::material::sheet::Role;
use crate::session::demand::left_ml;
use crate::session::event::{Event, Lot};
use crate::session::mixing::{FlowReading, Fresh, Mixing, Pour, Returned, pot_amounts};
use crate::session::state::{Done, Pot, State};
use crate::session::stock::{FromCan, Picked};
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
            Event::Poured { pot, layer, wanted_ml, wanted_g, .. } => {
                let mixing = self.mixing(pot, *layer);
                if mixing.wanted == Told::default() {
                    mixing.wanted = Told { ml: *wanted_ml, g: *wanted_g };
                }
                self.poured(event);
            }
            Event::LotsTold { pot, layer, lots } => self.lots_told(pot, *layer, lots),
            Event::PotMixed { pot, layer, amount_ml, lots, cans } => {
                let fresh = Fresh { ml: *amount_ml, at: self.when, cans: cans.clone() };
                self.mixed(pot, *layer, fresh);
                let of_cans = self.lots_of(cans, lots);
                self.lots_told(pot, *layer, lots);
                self.lots_told(pot, *layer, &of_cans);
            }
            Event::PotToppedUp { pot, amount_ml, cans } => {
                self.topped_up(pot, Fresh { ml: *amount_ml, at: self.when, cans: cans.clone() });
            }
            Event::StockSeen { cans } => self.state.stock.seen(cans),
            Event::CanPicked { sheet, component, can } => {
                let picked = Picked { can: can.clone(), at: self.when };
                self.state.stock.picked.insert((sheet.clone(), component.clone()), picked);
            }
            Event::FlowCup { pot, cup, seconds } => self.flow_cup(pot, cup, *seconds),
            Event::PotWeighed { pot, left_ml } => {
                self.change_pot(pot, |pot, when| pot.weighed = Some((when, *left_ml)));
            }
            Event::PotReturned { pot, returned_ml, can_ml, can } => {
                self.returned(pot, *returned_ml, *can_ml, can.as_ref());
            }
            Event::PotEmptied { pot } => {
                let when = self.when;
                self.change_mixing(pot, |mixing| mixing.emptied = Some(when));
                self.change_pot(pot, |pot, when| pot.emptied = Some(when));
            }
            Event::LeftoverAside { pot } => {
                self.change_pot(pot, |pot, when| pot.aside = Some(when));
            }
            Event::CupFilled { pot } => {
                self.change_pot(pot, |_, _| {});
                self.used(pot);
                self.state.gun = Some(pot.clone());
                self.state.gun_free = Some(self.when);
            }
            Event::GunCleaned {} => self.state.gun = None,
            _ => {}
        }
    }

    fn flow_cup(&mut self, pot: &str, cup: &str, seconds: f64) {
        let (cup, at) = (cup.to_owned(), self.when);
        self.change_mixing(pot, |mixing| {
            let pours = mixing.pours.len();
            mixing.flows.push(FlowReading { seconds, cup, at, pours });
        });
        self.change_pot(pot, |_, _| {});
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

    fn poured(&mut self, event: &Event) {
        let Event::Poured { pot, layer, component, poured_g, poured_ml, can, thinner_pct, .. } =
            event
        else {
            return;
        };
        let amount = Told { g: *poured_g, ml: *poured_ml };
        let pour = Pour {
            component: component.clone(),
            amount,
            at: self.when,
            n: self.n,
            can: can.clone(),
            thinner: thinner_pct.unwrap_or(0.0) / 100.0,
        };
        let more_ml = self.state.volume_of(pot, &pour);
        self.change_mixing(pot, |mixing| mixing.pours.push(pour));
        let lot = can.as_ref().and_then(|can| self.state.stock.can(can)?.lot());
        self.lots_told(pot, *layer, lot.as_slice());
        if self.state.pot(pot).is_some() {
            self.change_pot(pot, |pot, _| pot.add(more_ml));
        } else if self.state.is_born(pot) {
            let amount_ml = self.state.poured_ml(pot);
            self.bear(pot, self.when, amount_ml);
        }
    }

    /// The lots that stand on cans, of components of which none was told.
    fn lots_of(&self, cans: &[FromCan], told: &[Lot]) -> Vec<Lot> {
        let untold =
            cans.iter().filter(|from| told.iter().all(|lot| lot.component != from.component));
        untold.filter_map(|from| self.state.stock.can(&from.can)?.lot()).collect()
    }

    fn returned(&mut self, pot: &str, ml: f64, can_ml: Option<f64>, can: Option<&String>) {
        let state = &*self.state;
        let had_ml = state.pot(pot).and_then(|it| left_ml(state, self.plan, it));
        let mixing = state.mixing(pot);
        let amounts = mixing.and_then(|mixing| pot_amounts(state, mixing));
        let mix = mixing.and_then(|mixing| Some(&state.sheet(mixing.layer)?.mix));
        let volumes = amounts.as_ref().zip(mix).and_then(|(amounts, mix)| amounts.volumes(mix));
        let density = amounts.as_ref().and_then(|amounts| amounts.density);
        let returned = Returned {
            ml,
            g: density.map(|density| ml * density),
            thinner: volumes.map(|(reducer, rest)| reducer / (reducer + rest)),
            can: can.cloned(),
            can_ml,
            more_ml: had_ml.map(|had| ml - had).filter(|more| *more > 0.5),
            at: self.when,
        };
        self.change_mixing(pot, |mixing| mixing.returned.push(returned));
        self.change_pot(pot, |pot, _| {
            pot.weighed = pot.weighed.map(|(at, left)| (at, (left - ml).max(0.0)));
        });
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
            aside: None,
            made_by: self.n,
            told_by: Vec::new(),
        };
        self.state.pots.push(pot);
    }

    fn mixed(&mut self, id: &str, layer: u32, fresh: Fresh) {
        let (when, amount_ml) = (self.when, fresh.ml);
        let mixing = self.mixing(id, layer);
        if !mixing.is_open() {
            return;
        }
        mixing.stirred = Some(when);
        let first_pour = mixing.pours.iter().map(|pour| pour.at).min();
        if first_pour.is_none() {
            mixing.fresh.push(fresh);
        }
        if self.state.pot(id).is_some() {
            self.change_pot(id, |pot, _| pot.amount_ml = amount_ml.or(pot.amount_ml));
        } else {
            // activator met base somewhere between the first pour and now: the earliest is safe
            self.bear(id, first_pour.unwrap_or(when).min(when), amount_ml);
        }
        self.set_stirred(id, when);
    }

    /// What is sprayed from a pot, or filled into the cup, was all in and stirred: when, nobody told,
    /// but not before the last of it was in.
    pub(super) fn used(&mut self, id: &str) {
        let open = self.state.pot(id).is_some_and(|pot| pot.stirred.is_none());
        if open {
            let poured = |mixing: &Mixing| mixing.pours.iter().map(|pour| pour.at).max();
            let in_it = self.state.mixing(id).and_then(poured).unwrap_or(self.when);
            let at = in_it.min(self.when);
            self.change_mixing(id, |mixing| mixing.stirred = mixing.stirred.or(Some(at)));
            self.set_stirred(id, at);
        }
    }

    fn set_stirred(&mut self, id: &str, at: Moment) {
        let stirred = Done { at, known: self.known, n: self.n };
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

    fn topped_up(&mut self, pot: &str, fresh: Fresh) {
        let amount_ml = fresh.ml;
        if let Some(layer) = self.state.mixing(pot).map(|mixing| mixing.layer) {
            let lots = self.lots_of(&fresh.cans, &[]);
            self.lots_told(pot, layer, &lots);
        }
        self.change_mixing(pot, |mixing| mixing.fresh.push(fresh));
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
    fn volume_of(&self, pot: &str, pour: &Pour) -> Option<f64> {
        let mix = &self.sheet(self.mixing(pot)?.layer)?.mix;
        let at = mix.components.iter().position(|it| it.name == pour.component)?;
        SheetRecipe::of(mix).ok()?.both(at, pour.amount, pour.thinner).ml
    }

    /// Everything poured into a pot, mL.
    fn poured_ml(&self, pot: &str) -> Option<f64> {
        let pours = self.mixing(pot)?.pours.iter();
        pours.map(|pour| self.volume_of(pot, pour)).sum()
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
