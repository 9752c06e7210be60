//! Cans: which one a pour came from, what the machine sees on the shelf.

use super::Deciding;
use super::facts::not_there;
use crate::material::can;
use crate::material::date::is_month_or_day;
use crate::session::event::{Event, Lot};
use crate::session::refusal::Refusal;
use crate::session::stock::{FromCan, SeenCan, can_for, can_of_pot, cans_of, level_of};

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

    /// The can from which a component of a layer is poured, and the thinner in it.
    pub(super) fn from_can(&self, layer: u32, component: &str) -> Option<FromCan> {
        let state = self.session.state();
        let can = can_for(state, layer, component, &self.watch)?;
        let share = level_of(state, can).thinner.map_or(0.0, |share| share.fraction());
        let (component, can) = (component.to_owned(), can.can.clone());
        Some(FromCan { component, can, thinner_pct: share * 100.0 })
    }

    /// The cans from which a layer's components are taken in one go.
    pub(super) fn from_cans(&self, layer: u32) -> Vec<FromCan> {
        let sheet = self.session.state().sheet(layer);
        let components = sheet.map_or(&[][..], |sheet| &sheet.mix.components);
        components.iter().filter_map(|it| self.from_can(layer, &it.name)).collect()
    }

    /// The can to which material of a pot goes back.
    pub(super) fn can_to_return(&self, pot: &str) -> Option<String> {
        let state = self.session.state();
        can_of_pot(state, state.mixing(pot)?, &self.watch)
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
