//! How much material the coats still to come need. physics.md, 'Film'.

use super::plan::Plan;
use super::state::State;
use crate::material::sheet::{Basis, Component, MixRule, Role};

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

/// Volume solids of the mix with its reducer, as a share.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn solids_as_mixed(mix: &MixRule) -> Result<f64, NotSet> {
    let solids = mix.solids_pct.ok_or(NotSet::Solids)? / 100.0;
    let volumes: Vec<(Role, f64)> = mix
        .components
        .iter()
        .map(|component| Ok((component.role, volume_parts(mix.by, component)?)))
        .collect::<Result<_, NotSet>>()?;
    let sum = |wanted: fn(Role) -> bool| -> f64 {
        volumes.iter().filter(|(role, _)| wanted(*role)).map(|(_, parts)| parts).sum()
    };
    Ok(solids * sum(|role| role != Role::Reducer) / sum(|_| true))
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

/// Mixed material that one coat of `layer` takes, mL/m²: 1 mL at 1 µm covers 1 m².
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn ml_per_m2(state: &State, layer: u32) -> Result<f64, NotSet> {
    let dry_um = state.layer(layer).and_then(|layer| layer.dry_um).ok_or(NotSet::DryFilm)?;
    let sheet = state.sheet(layer).ok_or(NotSet::Solids)?;
    let transfer = state.work.shop.transfer_pct.ok_or(NotSet::Transfer)? / 100.0;
    Ok(dry_um / (solids_as_mixed(&sheet.mix)? * transfer))
}

/// Area that is still to get coat `coat` of `layer`, m².
#[must_use]
pub fn area_left_m2(state: &State, plan: &Plan, layer: u32, coat: u32) -> f64 {
    (0..state.faces.len())
        .filter(|face| {
            state.coats_wanted(*face, layer) >= coat && state.faces[*face].coats_on(layer) < coat
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
    let needs: f64 = needs_ml(state, plan, layer)?.iter().map(|(_, ml)| ml).sum();
    let loss_ml = state.work.shop.loss_ml.unwrap_or(0.0);
    let spare = state.work.shop.spare_pct.unwrap_or(0.0) / 100.0;
    Ok((needs + loss_ml) * (1.0 + spare))
}

/// What was sprayed from a pot, by the coats that came from it: an estimate, mL.
///
/// # Errors
/// [`NotSet`] names the missing figure.
pub fn sprayed_from_ml(state: &State, plan: &Plan, pot: &str, layer: u32) -> Result<f64, NotSet> {
    let per_m2 = ml_per_m2(state, layer)?;
    let from_pot = |face: usize| {
        let history = &state.faces[face];
        let coats = history.coats.iter().chain(&history.wiped_off);
        let of_pot = coats.filter(|coat| coat.pot.as_deref() == Some(pot) && !coat.skipped);
        of_pot.count() as f64 * plan.area_m2(&state.work, face)
    };
    Ok((0..state.faces.len()).map(from_pot).sum::<f64>() * per_m2)
}
