//! Facts of pots: pours, flow cup, weighings, returns.

use super::cans::dated;
use super::facts::not_there;
use super::figures::amount;
use super::{Deciding, Events};
use crate::material::recipe::{SheetRecipe, Told};
use crate::material::sheet::{Role, Sheet};
use crate::session::bounds::{FLOW_CUP, LEFT, Unit, VOLUME, WEIGHT};
use crate::session::command::{Command, Poured};
use crate::session::demand;
use crate::session::event::{Event, LimitedBy, Lot};
use crate::session::mixing::{largest_pot, need, planned_ml, pot_amounts};
use crate::session::refusal::Refusal;
use crate::session::standing::PotStanding;
use crate::session::stock::FromCan;

impl Deciding<'_> {
    pub(super) fn pot_fact(&self, command: &Command) -> Result<Option<Event>, Refusal> {
        Ok(Some(match command {
            Command::MixPot { layer, amount_ml, lots } => {
                self.mix_pot(self.layer(*layer)?, amount(*amount_ml)?, lots)
            }
            Command::PlanPot { layer, wanted, short, container_ml } => {
                self.plan_pot(self.layer(*layer)?, *wanted, short, *container_ml)?
            }
            Command::TellLots { pot, layer, lots } => {
                let (pot, layer, lots) = (pot.clone(), self.layer(*layer)?, dated(lots)?);
                Event::LotsTold { pot, layer, lots }
            }
            Command::ReadFlowCup { pot, seconds } => self.flow_cup(pot, *seconds)?,
            Command::WeighPot { pot, left } => {
                Event::PotWeighed { pot: self.pot(pot)?, left_ml: self.left_ml(pot, *left)? }
            }
            Command::ReturnToCan { pot, amount, can_ml } => Event::PotReturned {
                pot: self.pot(pot)?,
                returned_ml: VOLUME.check("returned", self.left_ml(pot, *amount)?)?,
                can_ml: can_ml.map(|ml| VOLUME.check("can", ml)).transpose()?,
                can: self.can_to_return(pot),
            },
            Command::TopUpPot { pot, amount_ml } => Event::PotToppedUp {
                pot: self.pot(pot)?,
                amount_ml: amount(*amount_ml)?,
                cans: self.cans_of_pot(pot, *amount_ml),
            },
            Command::PickCan { layer, component, can } => {
                self.pick_can(*layer, *component, can.as_deref())?
            }
            Command::SeeStock { cans } => self.see_stock(cans)?,
            Command::EmptyPot { pot } => Event::PotEmptied { pot: self.pot_or_mixing(pot)? },
            Command::PutAside { pot } => Event::LeftoverAside { pot: self.pot(pot)? },
            Command::FillCup { pot } => Event::CupFilled { pot: self.pot(pot)? },
            Command::CleanGun => Event::GunCleaned {},
            _ => return Ok(None),
        }))
    }

    fn mix_pot(&self, layer: u32, amount_ml: Option<f64>, lots: &[Lot]) -> Event {
        let state = self.session.state();
        let open = state.open_mixing(layer);
        let pot = open.map_or_else(|| self.session.next_letter(), |mixing| mixing.pot.clone());
        let poured = open.filter(|mixing| !mixing.pours.is_empty());
        let poured_ml = poured.and_then(|mixing| pot_amounts(state, mixing)?.told.ml);
        // as it was planned, a short component counted, else what the coats to come need
        let planned_ml = || planned_ml(state, layer);
        let amount_ml = poured_ml.or(amount_ml).or_else(planned_ml);
        // what was poured came from the cans that the pours name
        let cans = if poured.is_some() { Vec::new() } else { self.cans_taken(layer, amount_ml) };
        Event::PotMixed { pot, layer, amount_ml, lots: lots.to_vec(), cans }
    }

    fn cans_of_pot(&self, pot: &str, amount_ml: Option<f64>) -> Vec<FromCan> {
        let layer = self.session.state().mixing(pot).map(|mixing| mixing.layer);
        layer.map_or_else(Vec::new, |layer| self.cans_taken(layer, amount_ml))
    }

    fn plan_pot(
        &self,
        layer: u32,
        wanted: Told,
        short: &[(usize, Told)],
        container_ml: Option<f64>,
    ) -> Result<Event, Refusal> {
        let (state, plan) = (self.session.state(), self.session.plan());
        let recipe = self.recipe(layer)?;
        let asked = match wanted {
            Told { ml: None, g: None } => need(state, plan, layer, &self.watch),
            told => told,
        };
        let (wanted, limited_by) = match short {
            [] => (asked, None),
            short => {
                let largest = largest_pot(&recipe, asked, short);
                largest.ok_or_else(|| no_density("short component"))?
            }
        };
        let components = &self.sheet(layer)?.mix.components;
        let limited = limited_by.and_then(|at| components.get(at)).map(|it| LimitedBy {
            component: it.name.clone(),
            asked_ml: asked.ml,
            asked_g: asked.g,
        });
        check_told("amount", wanted)?;
        if recipe.plan(wanted).is_err() {
            return Err(no_density("amount"));
        }
        let container_ml = container_ml.map(|ml| VOLUME.check("container", ml)).transpose()?;
        let pot = self.letter_to_pour(layer);
        let Told { ml: wanted_ml, g: wanted_g } = wanted;
        Ok(Event::PotPlanned { pot, layer, wanted_ml, wanted_g, container_ml, limited })
    }

    fn letter_to_pour(&self, layer: u32) -> String {
        let state = self.session.state();
        state
            .open_mixing(layer)
            .map_or_else(|| self.session.next_letter(), |mixing| mixing.pot.clone())
    }

    /// A pour: one event, or one for each can that it came from.
    pub(super) fn pour(
        &self,
        pot: Option<&str>,
        layer: u32,
        component: usize,
        poured: Poured,
    ) -> Events {
        let layer = self.layer(layer)?;
        let state = self.session.state();
        let sheet = self.sheet(layer)?;
        let recipe = self.recipe(layer)?;
        let named = sheet.mix.components.get(component);
        let name = named.ok_or_else(|| not_there("component", &(component + 1).to_string()))?;
        let pot = match pot {
            Some(pot) => self.pot_or_mixing(pot)?,
            None => self.letter_to_pour(layer),
        };
        let mixing = state.mixing(&pot);
        let amount = match poured {
            Poured::Amount(told) => told,
            Poured::ScaleShows(to) => {
                let from = mixing.map_or(Some(0.0), |mixing| pot_amounts(state, mixing)?.running.g);
                Told { g: Some(risen(from, to, Unit::Gram)?), ml: None }
            }
            Poured::MarkShows(to) => {
                let from =
                    mixing.map_or(Some(0.0), |mixing| pot_amounts(state, mixing)?.running.ml);
                Told { ml: Some(risen(from, to, Unit::Millilitre)?), g: None }
            }
        };
        check_told("poured", amount)?;
        recipe.mass(component, amount).ok_or_else(|| no_density("poured"))?;
        let wanted = match mixing {
            Some(mixing) => mixing.wanted,
            None => need(state, self.session.plan(), layer, &self.watch),
        };
        let (wanted_ml, wanted_g) = (wanted.ml, wanted.g);
        let component = name.name.clone();
        let from = self.poured_from(layer, &component, amount);
        let of_can = |from: Option<FromCan>, amount: Told| Event::Poured {
            pot: pot.clone(),
            layer,
            wanted_ml,
            wanted_g,
            component: component.clone(),
            poured_g: amount.g,
            poured_ml: amount.ml,
            thinner_pct: from.as_ref().map(|from| from.thinner_pct).filter(|pct| *pct > 0.0),
            can: from.map(|from| from.can),
        };
        if from.is_empty() {
            return Ok(vec![of_can(None, amount)]);
        }
        Ok(from.into_iter().map(|(from, amount)| of_can(Some(from), amount)).collect())
    }

    fn flow_cup(&self, pot: &str, seconds: f64) -> Result<Event, Refusal> {
        let id = self.pot_or_mixing(pot)?;
        let layer = self.session.state().mixing(&id).map_or(0, |mixing| mixing.layer);
        let rule = self.sheet(layer)?.mix.flow_cup.as_ref();
        let rule = rule.ok_or_else(|| not_there("flow cup in its sheet for pot", pot))?;
        FLOW_CUP.check("flow cup", seconds)?;
        Ok(Event::FlowCup { pot: id, cup: rule.cup.clone(), seconds })
    }

    /// What is left in a pot, mL, from what the scale or the mark says.
    fn left_ml(&self, pot: &str, left: Told) -> Result<f64, Refusal> {
        let state = self.session.state();
        let density = || state.mixing(pot).and_then(|mixing| pot_amounts(state, mixing)?.density);
        let by_weight = || left.g.zip(density()).map(|(g, density)| g / density);
        let ml = left.ml.or_else(by_weight).ok_or_else(|| no_density("left"))?;
        LEFT.check("left", ml)
    }

    /// The rules that a fact of a pot breaks.
    pub(super) fn breaks_of_pot(&self, event: &Event) -> Vec<String> {
        let state = self.session.state();
        let left = |pot: &str| {
            let at = state.pot(pot)?;
            demand::left_ml(state, self.session.plan(), at)
        };
        match event {
            Event::PotReturned { pot, returned_ml, .. } => {
                let more = left(pot).is_some_and(|left| *returned_ml > left + 0.5);
                let layer = state.mixing(pot).map(|mixing| mixing.layer);
                let reacts = layer.and_then(|layer| state.sheet(layer)).is_some_and(Sheet::reacts);
                let mut broken = Vec::new();
                broken.extend(more.then(|| format!("returned-more {pot}")));
                broken.extend(reacts.then(|| format!("returned-reacted {pot}")));
                broken
            }
            Event::PotMixed { lots, cans, .. } => {
                let mut broken = self.breaks_of_lots(lots);
                broken.extend(self.breaks_of_cans(cans.iter().map(|from| &from.can)));
                broken
            }
            Event::LotsTold { lots, .. } => self.breaks_of_lots(lots),
            Event::Poured { pot, layer, component, can, poured_g, poured_ml, .. } => {
                let mut broken = self.breaks_of_cans(can.iter());
                let amount = Told { g: *poured_g, ml: *poured_ml };
                broken.extend(can.as_ref().and_then(|can| self.empties(can, amount)));
                let late = self.thins_late(pot, *layer, component);
                broken.extend(late.then(|| format!("thinned-late {pot}")));
                broken
            }
            Event::PotToppedUp { cans, .. } => {
                self.breaks_of_cans(cans.iter().map(|from| &from.can))
            }
            _ => Vec::new(),
        }
    }

    /// Whether this is reducer into a two-part pot past half its life: it is setting, and thinning it
    /// hides that.
    fn thins_late(&self, pot: &str, layer: u32, component: &str) -> bool {
        let mix = self.session.state().sheet(layer).map(|sheet| &sheet.mix);
        let mut named = mix.into_iter().flat_map(|mix| &mix.components);
        let reducer = named.any(|it| it.name == component && it.role == Role::Reducer);
        let half = self.standing.pot(pot).and_then(PotStanding::half_life);
        reducer && half.is_some_and(|half| self.watch.reached(half))
    }

    fn breaks_of_lots(&self, lots: &[Lot]) -> Vec<String> {
        let past = lots.iter().filter(|lot| lot.is_past(&self.today));
        past.map(|lot| format!("lot-past {} {}", lot.lot, lot.component)).collect()
    }

    pub(super) fn sheet(&self, layer: u32) -> Result<&Sheet, Refusal> {
        let sheet = self.session.state().sheet(layer);
        sheet.ok_or_else(|| not_there("layer", &layer.to_string()))
    }

    fn recipe(&self, layer: u32) -> Result<SheetRecipe, Refusal> {
        SheetRecipe::of(&self.sheet(layer)?.mix).map_err(|_| Refusal::Nothing)
    }

    pub(super) fn pot(&self, id: &str) -> Result<String, Refusal> {
        self.session.state().pot(id).map(|pot| pot.id.clone()).ok_or_else(|| not_there("pot", id))
    }

    fn pot_or_mixing(&self, id: &str) -> Result<String, Refusal> {
        let mixing = self.session.state().mixing(id);
        mixing.map(|mixing| mixing.pot.clone()).ok_or_else(|| not_there("pot", id))
    }
}

/// How far a reading has risen.
fn risen(from: Option<f64>, to: f64, unit: Unit) -> Result<f64, Refusal> {
    let from = from.ok_or_else(|| no_density("poured"))?;
    let more = to - from;
    if more > 0.0 {
        return Ok(more);
    }
    Err(Refusal::NotMore { field: "poured", given: to, than: from, unit })
}

/// Checks an amount by volume, by weight, or both.
fn check_told(field: &'static str, told: Told) -> Result<(), Refusal> {
    told.ml.map(|ml| VOLUME.check(field, ml)).transpose()?;
    told.g.map(|g| WEIGHT.check(field, g)).transpose()?;
    Ok(())
}

fn no_density(field: &'static str) -> Refusal {
    Refusal::Figure {
        field,
        given: "nothing that can be reckoned".to_owned(),
        accepted: "a weight, or a volume, as far as the sheet's densities allow",
    }
}
