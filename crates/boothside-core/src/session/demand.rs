//! How much material the coats still to come need.

use super::mixing::pot_story;
use super::plan::Plan;
use super::state::{Pot, State};
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
    /// How much was in a pot when reducer went into it.
    InPot,
}

/// Volume solids of a sheet's mix with its reducer, as a share.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn solids_as_mixed(sheet: &Sheet) -> Result<f64, NotSet> {
    let solids_pct = sheet.solids_pct().ok_or(NotSet::Solids)?;
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
    solids_thinned(solids_pct, thinner)
}

/// Volume solids with so much reducer per volume of the rest, as a share.
pub(super) fn solids_thinned(solids_pct: f64, thinner: f64) -> Result<f64, NotSet> {
    let solids = Share::from_fraction(solids_pct / 100.0);
    let mixed = film::solids_as_mixed(solids, thinner).map_err(|_| NotSet::Solids)?;
    Ok(mixed.fraction())
}

/// Volume solids of what is in a pot, as a share: with every drop of reducer that went in. Of one
/// that is not yet stirred by the sheet's recipe.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn solids_in_pot(state: &State, plan: &Plan, pot: &Pot) -> Result<f64, NotSet> {
    let story = pot_story(state, plan, &pot.id).filter(|_| pot.stirred.is_some());
    match story {
        Some(story) => story.solids(None),
        None => by_sheet(state, pot.layer),
    }
}

/// Volume solids of a layer's mix by its sheet, as a share.
fn by_sheet(state: &State, layer: u32) -> Result<f64, NotSet> {
    solids_as_mixed(state.sheet(layer).ok_or(NotSet::Solids)?)
}

/// Volume solids of the pot in use for a layer, else of the sheet's recipe, as a share.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn solids_in_use(state: &State, plan: &Plan, layer: u32) -> Result<f64, NotSet> {
    match state.pot_in_use(layer) {
        Some(pot) => solids_in_pot(state, plan, pot),
        None => by_sheet(state, layer),
    }
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
fn asked(state: &State, layer: u32, area_m2: f64, as_mixed: f64) -> Result<Demand, NotSet> {
    let dry_um = state.layer(layer).and_then(|layer| layer.dry_um).ok_or(NotSet::DryFilm)?;
    let shop = &state.work.shop;
    let transfer = shop.transfer_pct.ok_or(NotSet::Transfer)? / 100.0;
    Ok(Demand {
        area: Area::from_m2(area_m2),
        dry_per_coat: Film::from_um(dry_um),
        coats: 1,
        as_mixed: Share::from_fraction(as_mixed),
        transfer: Share::from_fraction(transfer),
        loss: Volume::from_ml(shop.loss_ml.unwrap_or(0.0)),
        spare: shop.spare_pct.unwrap_or(0.0) / 100.0,
    })
}

/// Material of such solids (a share) that one coat of `layer` takes, mL/m²: 1 mL at 1 µm covers
/// 1 m².
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn ml_per_m2_at(state: &State, layer: u32, as_mixed: f64) -> Result<f64, NotSet> {
    let sprayed = asked(state, layer, 1.0, as_mixed)?.sprayed();
    // a job that fits has a film, solids and transfer above zero
    sprayed.map(Volume::ml).map_err(|_| NotSet::DryFilm)
}

/// What one coat takes of a pot as thin as it is, mL/m².
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn ml_per_m2_of_pot(state: &State, plan: &Plan, pot: &Pot) -> Result<f64, NotSet> {
    ml_per_m2_at(state, pot.layer, solids_in_pot(state, plan, pot)?)
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

/// What the coats still to come need of a pot, coat by coat, mL.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn needs_of_pot_ml(state: &State, plan: &Plan, pot: &Pot) -> Result<Vec<(u32, f64)>, NotSet> {
    let per_m2 = ml_per_m2_of_pot(state, plan, pot)?;
    let coats = areas_left_m2(state, plan, pot.layer).into_iter();
    Ok(coats.map(|(coat, area_m2)| (coat, area_m2 * per_m2)).collect())
}

/// The coats of `layer` still to come with the area that lacks each, m².
fn areas_left_m2(state: &State, plan: &Plan, layer: u32) -> Vec<(u32, f64)> {
    let most =
        (0..state.faces.len()).map(|face| state.coats_wanted(face, layer)).max().unwrap_or(0);
    let left = |coat| (coat, area_left_m2(state, plan, layer, coat));
    (1..=most).map(left).filter(|(_, area_m2)| *area_m2 > 0.0).collect()
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
    need_beyond(state, plan, layer, &[])
}

/// The same without the coats (coat, face) that another pot does, unless it does them all.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn need_beyond(
    state: &State,
    plan: &Plan,
    layer: u32,
    done: &[(u32, usize)],
) -> Result<Need, NotSet> {
    need_at(state, plan, layer, (by_sheet(state, layer)?, done))
}

/// The same of what is as thin as a pot that is mixed.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn need_of_pot(state: &State, plan: &Plan, pot: &Pot) -> Result<Need, NotSet> {
    need_at(state, plan, pot.layer, (solids_in_pot(state, plan, pot)?, &[]))
}

/// The areas that lack each coat of `layer` beyond the coats (coat, face) that another pot does.
fn areas_beyond_m2(
    state: &State,
    plan: &Plan,
    layer: u32,
    done: &[(u32, usize)],
) -> Vec<(u32, f64)> {
    let spared = |coat: u32| -> f64 {
        let of_coat = done.iter().filter(|(of, _)| *of == coat);
        of_coat.map(|(_, face)| plan.area_m2(&state.work, *face)).sum()
    };
    let all = areas_left_m2(state, plan, layer);
    let beyond = all.iter().map(|(coat, area_m2)| (*coat, area_m2 - spared(*coat)));
    let beyond: Vec<(u32, f64)> = beyond.filter(|(_, area_m2)| *area_m2 > 1e-9).collect();
    if beyond.is_empty() { all } else { beyond }
}

fn need_at(
    state: &State,
    plan: &Plan,
    layer: u32,
    (as_mixed, done): (f64, &[(u32, usize)]),
) -> Result<Need, NotSet> {
    let coats = areas_beyond_m2(state, plan, layer, done);
    let asked = asked(state, layer, coats.iter().map(|(_, area)| area).sum(), as_mixed)?;
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
/// since. A face on the gun counts once it is on. An estimate, mL; nothing where a figure is not
/// set.
#[must_use]
pub fn left_ml(state: &State, plan: &Plan, pot: &Pot) -> Option<f64> {
    let had = match pot.weighed {
        Some((_, left)) => left,
        None => {
            let returned = state.mixing(&pot.id).map_or(&[][..], |mixing| &mixing.returned);
            pot.amount_ml? - returned.iter().map(|returned| returned.ml).sum::<f64>()
        }
    };
    let sprayed = pot_story(state, plan, &pot.id)?.sprayed_ml(pot.weighed.map(|(at, _)| at));
    Some((had - sprayed.ok()?).max(0.0))
}
