//! Film and weight a coat by what the scale said of the pots.

use super::NoFilm;
use super::stories::Stories;
use crate::session::demand::{NotSet, solids_as_mixed};
use crate::session::film::{Accounted, mix_density};
use crate::session::mixing::pot_amounts;
use crate::session::{CoatOn, Plan, State};
use crate::units::{Area, Density, Share};

/// A pot that was accounted for.
#[derive(Debug, Clone, PartialEq)]
pub struct PotFilm {
    /// Its letter.
    pub pot: String,
    /// The coat weighed, counted from 1; nothing for all that came from it.
    pub coat: Option<u32>,
    /// What was sprayed, g.
    pub used_g: f64,
    /// The faces on which it went, each counted once a coat, m².
    pub area_m2: f64,
    /// Weight sprayed over that area, g/m² a coat.
    pub g_per_m2: Result<f64, NoFilm>,
    /// Mean dry film a coat, µm: an estimate.
    pub dry_um: Result<f64, NoFilm>,
}

/// Weight sprayed a coat: the last coat weighed against the one before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoatWeights {
    /// The coat, counted from 1.
    pub coat: u32,
    /// Sprayed, g/m².
    pub g_per_m2: f64,
    /// The coat before it with its weight, g/m², where that was weighed.
    pub before: Option<(u32, f64)>,
    /// By how much it differs from that, %: below 0 it is lighter.
    pub change_pct: Option<f64>,
}

pub(super) fn pots(state: &State, plan: &Plan, stories: &Stories<'_>, layer: u32) -> Vec<PotFilm> {
    let of_layer = of_layer(state, layer);
    of_layer.map(|accounted| pot_film((state, plan, stories), layer, accounted)).collect()
}

fn of_layer(state: &State, layer: u32) -> impl Iterator<Item = &Accounted> {
    let fits = move |accounted: &&Accounted| {
        state.pot(&accounted.pot).is_some_and(|pot| pot.layer == layer)
    };
    state.accounted.iter().filter(fits)
}

fn pot_film(
    (state, plan, stories): (&State, &Plan, &Stories<'_>),
    layer: u32,
    accounted: &Accounted,
) -> PotFilm {
    let area_m2 = area_m2(state, plan, layer, accounted);
    let used_g = accounted.weighing.weighed().used().g();
    let some_area = Some(area_m2).filter(|area| *area > 0.0).ok_or(NoFilm::NothingSprayed);
    PotFilm {
        pot: accounted.pot.clone(),
        coat: accounted.coat,
        used_g,
        area_m2,
        g_per_m2: some_area.map(|area| used_g / area),
        dry_um: some_area.and_then(|area| dry_um((state, stories), layer, accounted, area)),
    }
}

fn dry_um(
    (state, stories): (&State, &Stories<'_>),
    layer: u32,
    of: &Accounted,
    area_m2: f64,
) -> Result<f64, NoFilm> {
    let sheet = state.sheet(layer).ok_or(NotSet::Solids)?;
    let transfer = state.work.shop.transfer_pct.ok_or(NotSet::Transfer)? / 100.0;
    let coats = (0..state.faces.len()).flat_map(|face| weighed_on(state, face, layer, of));
    let last = coats.max_by_key(|coat| coat.begun);
    let solids = last.map_or_else(|| solids_as_mixed(sheet), |coat| stories.solids(coat))?;
    let in_pot = state.mixing(&of.pot).and_then(|mixing| pot_amounts(state, mixing)?.density);
    let density = match in_pot {
        Some(density) => Density::from_g_per_ml(density),
        None => mix_density(&sheet.mix)?,
    };
    let (solids, transfer) = (Share::from_fraction(solids), Share::from_fraction(transfer));
    let film = of.weighing.weighed().dry_film(density, transfer, solids, Area::from_m2(area_m2));
    // a job that fits has these figures above zero, and so has a weighing that was taken
    film.map(|film| film.um()).map_err(|_| NotSet::Density.into())
}

/// The faces on which it went by the time it was weighed, each counted once a coat.
fn area_m2(state: &State, plan: &Plan, layer: u32, accounted: &Accounted) -> f64 {
    let of_face = |face: usize| {
        let count = weighed_on(state, face, layer, accounted).count();
        count as f64 * plan.area_m2(&state.work, face)
    };
    (0..state.faces.len()).map(of_face).sum()
}

/// The coats on a face that a weighing is of.
fn weighed_on<'a>(
    state: &'a State,
    face: usize,
    layer: u32,
    of: &'a Accounted,
) -> impl Iterator<Item = &'a CoatOn> {
    let coats = numbered(state, face, layer).filter(move |(coat, on)| {
        on.pot.as_ref() == Some(&of.pot)
            && on.begun <= of.at
            && of.coat.is_none_or(|weighed| weighed == *coat)
    });
    coats.map(|(_, on)| on)
}

/// The coats of a layer sprayed on a face with their numbers; one wiped off has the number that it
/// had. It was sprayed, so it weighs.
fn numbered(state: &State, face: usize, layer: u32) -> impl Iterator<Item = (u32, &CoatOn)> {
    let history = &state.faces[face];
    let on = history.coats.iter().filter(move |coat| coat.is_nth_of(layer));
    let off = history.wiped_off.iter().filter(move |coat| coat.layer == layer);
    let off = off.map(move |wiped| {
        let before = history.coats.iter().filter(|coat| coat.is_nth_of(layer));
        let before = before.filter(|coat| coat.begun < wiped.begun).count();
        (u32::try_from(before + 1).unwrap_or(u32::MAX), wiped)
    });
    (1..).zip(on).filter(|(_, coat)| !coat.skipped).chain(off)
}

/// Sprayed a coat, the coat weighed last against the one before it in number.
pub(super) fn weights(state: &State, plan: &Plan, layer: u32) -> Option<CoatWeights> {
    let last = of_layer(state, layer).filter(|accounted| accounted.coat.is_some()).last()?;
    let coat = last.coat?;
    let g_per_m2 = coat_g_per_m2(state, plan, layer, coat)?;
    let earlier = of_layer(state, layer).filter_map(|accounted| accounted.coat);
    let earlier = earlier.filter(|before| *before < coat).max();
    let before = earlier.and_then(|it| Some((it, coat_g_per_m2(state, plan, layer, it)?)));
    let change_pct = before.map(|(_, before)| (g_per_m2 / before - 1.0) * 100.0);
    Some(CoatWeights { coat, g_per_m2, before, change_pct })
}

/// All that was weighed of one coat, over all pots.
fn coat_g_per_m2(state: &State, plan: &Plan, layer: u32, coat: u32) -> Option<f64> {
    let of_coat = || of_layer(state, layer).filter(move |it| it.coat == Some(coat));
    let used: f64 = of_coat().map(|it| it.weighing.weighed().used().g()).sum();
    let area: f64 = of_coat().map(|it| area_m2(state, plan, layer, it)).sum();
    (area > 0.0 && used > 0.0).then(|| used / area)
}
