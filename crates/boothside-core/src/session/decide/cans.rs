//! Cans: which one a pour came from, what the machine sees on the shelf.

use super::Deciding;
use super::facts::not_there;
use crate::material::can;
use crate::material::date::is_month_or_day;
use crate::material::recipe::{SheetRecipe, Told};
use crate::session::event::{Event, Lot};
use crate::session::refusal::Refusal;
use crate::session::stock::{FromCan, Level, SeenCan, can_of_pot, cans_of, level_of, taken};
use crate::units::Mass;

impl Deciding<'_> {
    /// The shelf as the machine sees it; nothing to be told where it is as it was.
    pub(super) fn see_stock(&self, cans: &[SeenCan]) -> Result<Event, Refusal> {
        if self.session.state().stock.is_as(cans) {
            return Err(Refusal::Nothing);
        }
        Ok(Event::StockSeen { cans: cans.to_vec() })
    }

    /// The painter takes a can of a component (from 0); nothing for one that is not on the shelf.
    pub(super) fn pick_can(
        &self,
        layer: u32,
        component: usize,
        can: Option<&str>,
    ) -> Result<Event, Refusal> {
        let state = self.session.state();
        let named = self.sheet(layer)?.mix.components.get(component);
        let name = named.ok_or_else(|| not_there("component", &(component + 1).to_string()))?;
        let known = cans_of(state, layer, &name.name);
        if let Some(can) = can.filter(|can| known.iter().all(|known| known.can != **can)) {
            return Err(not_there("can", can));
        }
        let sheet = state.layer(layer).map(|layer| layer.sheet.clone()).unwrap_or_default();
        let (component, can) = (name.name.clone(), can.map(ToOwned::to_owned));
        Ok(Event::CanPicked { sheet, component, can })
    }

    /// The cans from which so much of a component is poured, each with its part of it; nothing where
    /// no can of it is kept.
    pub(super) fn poured_from(
        &self,
        layer: u32,
        component: &str,
        amount: Told,
    ) -> Vec<(FromCan, Told)> {
        let state = self.session.state();
        let cans = taken(state, layer, component, &self.watch);
        let mut rest = amount;
        let mut parts = Vec::new();
        for (row, seen) in cans.iter().enumerate() {
            let level = level_of(state, seen);
            let from = from_can(seen, &level);
            let left = Told {
                g: level.left.g.filter(|_| rest.g.is_some()),
                ml: level.left.ml.filter(|_| rest.ml.is_some() && rest.g.is_none()),
            };
            let is_last = row + 1 == cans.len();
            if is_last || left == Told::default() || !lacks(left, rest) {
                parts.push((from, rest));
                break;
            }
            let less = |rest: Option<f64>, left: Option<f64>| rest.zip(left).map(|(a, b)| a - b);
            rest = Told { g: less(rest.g, left.g), ml: less(rest.ml, left.ml) };
            parts.push((from, left));
        }
        parts
    }

    /// The cans from which a layer's components are taken in one go for so many mL of mix.
    pub(super) fn cans_taken(&self, layer: u32, amount_ml: Option<f64>) -> Vec<FromCan> {
        let Some(sheet) = self.session.state().sheet(layer) else { return Vec::new() };
        let recipe = SheetRecipe::of(&sheet.mix).ok();
        let wanted = Told { ml: amount_ml, g: None };
        let plan = recipe.as_ref().and_then(|recipe| recipe.plan(wanted).ok());
        let mut cans = Vec::new();
        for (at, component) in sheet.mix.components.iter().enumerate() {
            let line = plan.as_ref().and_then(|plan| plan.lines().get(at));
            let mass = recipe.as_ref().zip(line.map(|line| line.mass));
            cans.extend(self.in_one_go(layer, (at, &component.name), mass));
        }
        cans
    }

    fn in_one_go(
        &self,
        layer: u32,
        (at, component): (usize, &str),
        wanted: Option<(&SheetRecipe, Mass)>,
    ) -> Vec<FromCan> {
        let state = self.session.state();
        let cans = taken(state, layer, component, &self.watch);
        let mut rest = wanted;
        let mut parts = Vec::new();
        for (row, seen) in cans.iter().enumerate() {
            let level = level_of(state, seen);
            let from = from_can(seen, &level);
            let taken = rest.filter(|_| row + 1 < cans.len()).and_then(|(recipe, mass)| {
                let thinner = from.thinner_pct / 100.0;
                let (take, _) = recipe.to_take(at, mass, thinner);
                let (there, _) = recipe.in_can(at, level.left, thinner)?;
                lacks(level.left, take)
                    .then_some((recipe, Mass::from_g((mass - there).g().max(0.0))))
            });
            let Some(left_over) = taken else {
                parts.push(from);
                break;
            };
            rest = Some(left_over);
            let Told { g, ml } = level.left;
            parts.push(FromCan { amount_ml: ml, amount_g: g.filter(|_| ml.is_none()), ..from });
        }
        parts
    }

    /// The can to which material of a pot goes back.
    pub(super) fn can_to_return(&self, pot: &str) -> Option<String> {
        let state = self.session.state();
        can_of_pot(state, state.mixing(pot)?, &self.watch)
    }

    /// The rule broken where more is poured from a can than is in it.
    pub(super) fn empties(&self, can: &str, poured: Told) -> Option<String> {
        let state = self.session.state();
        let level = level_of(state, state.stock.can(can)?);
        lacks(level.left, poured).then(|| format!("can-empty {can}"))
    }

    /// Cans past their date among these, as rules broken.
    pub(super) fn breaks_of_cans<'a>(&self, cans: impl Iterator<Item = &'a String>) -> Vec<String> {
        let stock = &self.session.state().stock;
        let past = |can: &&String| {
            let until = stock.can(can).and_then(|can| can.until_ms);
            until.is_some_and(|until| self.watch.reached(until))
        };
        cans.filter(past)
            .map(|can| format!("can-past {can}"))
            .filter(|rule| !self.session.state().went_past(rule))
            .collect()
    }
}

fn from_can(seen: &SeenCan, level: &Level) -> FromCan {
    FromCan {
        component: seen.component.clone(),
        can: seen.can.clone(),
        amount_ml: None,
        amount_g: None,
        thinner_pct: level.thinner.map_or(0.0, |share| share.fraction() * 100.0),
    }
}

/// Whether so much is less than what is wanted, in one unit.
fn lacks(left: Told, wanted: Told) -> bool {
    let both = left.ml.zip(wanted.ml).or_else(|| left.g.zip(wanted.g));
    both.is_some_and(|(left, wanted)| left + LEAST_PART < wanted)
}

/// Less than this is not told as poured from another can, mL or g: our own figure.
const LEAST_PART: f64 = 0.5;

/// The lots, each with a date that can be read.
pub(super) fn dated(lots: &[Lot]) -> Result<Vec<Lot>, Refusal> {
    let odd = |lot: &&Lot| lot.until.as_deref().is_some_and(|until| !is_month_or_day(until));
    match lots.iter().find(odd) {
        Some(lot) => Err(Refusal::Figure {
            field: "until",
            given: lot.until.clone().unwrap_or_default(),
            accepted: can::DATE,
        }),
        None => Ok(lots.to_vec()),
    }
}
