//! How much material the coats still to come need.

use super::plan::Plan;
use super::state::{Pot, State};
use super::time::Moment;
use crate::material::sheet::{Basis, Component, Role, Sheet};
use crate::physics::film::{self, Demand};
use crate::units::{Area, Film, Share, Volume};

/// Why a need cannot be told: the figure that is not set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotSet {
    /// The dry film wanted a coat.
    DryFilm,
    /// The volume solids.
    Solids,
    /// A component's density, where parts are by weight.
    Density,
    /// The share that lands on the part.
    Transfer,
}

/// Volume solids of a sheet's mix with its reducer, as a share.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn solids_as_mixed(sheet: &Sheet) -> Result<f64, NotSet> {
    let solids = Share::from_fraction(sheet.solids_pct().ok_or(NotSet::Solids)? / 100.0);
    let mix = &sheet.mix;
    let volumes: Vec<(Role, f64)> = mix
        .components
        .iter()
        .map(|component| Ok((component.role, volume_parts(mix.by, component)?)))
        .collect::<Result<_, NotSet>>()?;
    let sum = |wanted: fn(Role) -> bool| -> f64 {
        volumes.iter().filter(|(role, _)| wanted(*role)).map(|(_, parts)| parts).sum()
    };
    let thinner = sum(|role| role == Role::Reducer) / sum(|role| role != Role::Reducer);
    let mixed = film::solids_as_mixed(solids, thinner).map_err(|_| NotSet::Solids)?;
    Ok(mixed.fraction())
}

fn volume_parts(by: Basis, component: &Component) -> Result<f64, NotSet> {
    match by {
        Basis::Volume => Ok(component.parts),
        Basis::Weight => component
            .density_g_per_ml
            .map(|density| component.parts / density)
            .ok_or(NotSet::Density),
    }
}

/// What a layer asks of a mix for `area_m2` of one coat, loss and spare as the shop has them.
fn asked(state: &State, layer: u32, area_m2: f64) -> Result<Demand, NotSet> {
    let dry_um = state.layer(layer).and_then(|layer| layer.dry_um).ok_or(NotSet::DryFilm)?;
    let sheet = state.sheet(layer).ok_or(NotSet::Solids)?;
    let shop = &state.work.shop;
    let transfer = shop.transfer_pct.ok_or(NotSet::Transfer)? / 100.0;
    Ok(Demand {
        area: Area::from_m2(area_m2),
        dry_per_coat: Film::from_um(dry_um),
        coats: 1,
        as_mixed: Share::from_fraction(solids_as_mixed(sheet)?),
        transfer: Share::from_fraction(transfer),
        loss: Volume::from_ml(shop.loss_ml.unwrap_or(0.0)),
        spare: shop.spare_pct.unwrap_or(0.0) / 100.0,
    })
}

/// Mixed material that one coat of `layer` takes, mL/m²: 1 mL at 1 µm covers 1 m².
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn ml_per_m2(state: &State, layer: u32) -> Result<f64, NotSet> {
    let sprayed = asked(state, layer, 1.0)?.sprayed();
    // a job that fits has a film, solids and transfer above zero
    sprayed.map(Volume::ml).map_err(|_| NotSet::DryFilm)
}

/// Area that hangs and is still to get coat `coat` of `layer`, m².
#[must_use]
pub fn area_left_m2(state: &State, plan: &Plan, layer: u32, coat: u32) -> f64 {
    (0..state.faces.len())
        .filter(|face| {
            state.takes_part(*face)
                && state.coats_wanted(*face, layer) >= coat
                && state.faces[*face].coats_on(layer) < coat
        })
        .map(|face| plan.area_m2(&state.work, face))
        .sum()
}

/// Mixed material that the coats of `layer` still to come need, coat by coat, mL.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn needs_ml(state: &State, plan: &Plan, layer: u32) -> Result<Vec<(u32, f64)>, NotSet> {
    let per_m2 = ml_per_m2(state, layer)?;
    let most =
        (0..state.faces.len()).map(|face| state.coats_wanted(face, layer)).max().unwrap_or(0);
    let need = |coat| (coat, area_left_m2(state, plan, layer, coat) * per_m2);
    Ok((1..=most).map(need).filter(|(_, ml)| *ml > 0.0).collect())
}

/// A pot that covers every coat of `layer` still to come, with the shop's loss and spare, mL.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn pot_to_mix_ml(state: &State, plan: &Plan, layer: u32) -> Result<f64, NotSet> {
    need(state, plan, layer)?.to_mix_ml.ok_or(NotSet::DryFilm)
}

/// What a pot for every coat of a layer still to come rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Need {
    /// Coats still to come with the area that lacks each, m².
    pub coats: Vec<(u32, f64)>,
    /// Dry film of a coat, µm.
    pub dry_um: f64,
    /// Volume solids as mixed, %.
    pub solids_pct: f64,
    /// Share that lands, %.
    pub transfer_pct: f64,
    /// What stays in gun and strainer, mL; nothing where the shop does not say.
    pub loss_ml: Option<f64>,
    /// Spare on the whole, %; nothing where the shop does not say.
    pub spare_pct: Option<f64>,
    /// What is sprayed, mL.
    pub sprayed_ml: f64,
    /// What to mix, mL; nothing where no coat is to come.
    pub to_mix_ml: Option<f64>,
}

/// What a pot for every coat of `layer` still to come rests on, each figure open to change.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn need(state: &State, plan: &Plan, layer: u32) -> Result<Need, NotSet> {
    let most =
        (0..state.faces.len()).map(|face| state.coats_wanted(face, layer)).max().unwrap_or(0);
    let left = |coat| (coat, area_left_m2(state, plan, layer, coat));
    let coats: Vec<(u32, f64)> = (1..=most).map(left).filter(|(_, area)| *area > 0.0).collect();
    let asked = asked(state, layer, coats.iter().map(|(_, area)| area).sum())?;
    let shop = &state.work.shop;
    Ok(Need {
        dry_um: asked.dry_per_coat.um(),
        solids_pct: asked.as_mixed.fraction() * 100.0,
        transfer_pct: asked.transfer.fraction() * 100.0,
        loss_ml: shop.loss_ml,
        spare_pct: shop.spare_pct,
        sprayed_ml: asked.sprayed().map_or(0.0, Volume::ml),
        to_mix_ml: asked.to_mix().ok().map(Volume::ml).filter(|_| !coats.is_empty()),
        coats,
    })
}

/// What should be left in a pot: as weighed, else what went in, less what was sprayed and returned
/// since. An estimate, mL; nothing where a figure is not set.
#[must_use]
pub fn left_ml(state: &State, plan: &Plan, pot: &Pot) -> Option<f64> {
    let from = pot.weighed.map(|(at, _)| at);
    let sprayed = sprayed_from_ml(state, plan, &pot.id, pot.layer, from);
    let had = match pot.weighed {
        Some((_, left)) => left,
        None => {
            let returned = state.mixing(&pot.id).map_or(&[][..], |mixing| &mixing.returned);
            pot.amount_ml? - returned.iter().map(|returned| returned.ml).sum::<f64>()
        }
    };
    // nothing sprayed since the weighing: the scale's word stands without any other figure
    let sprayed = match sprayed {
        Err(_) if from.is_some() && !sprays_since(state, &pot.id, from) => 0.0,
        sprayed => sprayed.ok()?,
    };
    Some((had - sprayed).max(0.0))
}

/// What was sprayed from a pot after `since`, by the coats that came from it: an estimate, mL.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn sprayed_from_ml(
    state: &State,
    plan: &Plan,
    pot: &str,
    layer: u32,
    since: Option<Moment>,
) -> Result<f64, NotSet> {
    let per_m2 = ml_per_m2(state, layer)?;
    let from_pot = |face: usize| {
        let count = coats_from(state, face, pot, since) as f64;
        count * plan.area_m2(&state.work, face)
    };
    Ok((0..state.faces.len()).map(from_pot).sum::<f64>() * per_m2)
}

fn sprays_since(state: &State, pot: &str, since: Option<Moment>) -> bool {
    (0..state.faces.len()).any(|face| coats_from(state, face, pot, since) > 0)
}

fn coats_from(state: &State, face: usize, pot: &str, since: Option<Moment>) -> usize {
    let history = &state.faces[face];
    let coats = history.coats.iter().chain(&history.wiped_off);
    let of_pot = coats.filter(|coat| coat.pot.as_deref() == Some(pot) && !coat.skipped);
    let after = |at: Option<Moment>| since.is_none_or(|since| at.is_none_or(|at| at > since));
    of_pot.filter(|coat| after(coat.finished)).count()
}
