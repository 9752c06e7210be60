//! Which can is drawn from.

use super::SeenCan;
use super::level::{Moved, level_of};
use super::moves::moves_of;
use crate::material::sheet::Role;
use crate::session::mixing::Mixing;
use crate::session::state::State;
use crate::session::time::Moment;
use crate::session::watch::Watch;

/// The cans on the shelf of one component of a layer's sheet, by its name.
#[must_use]
pub fn cans_of<'a>(state: &'a State, layer: u32, component: &str) -> Vec<&'a SeenCan> {
    let Some(sheet) = state.layer(layer).map(|layer| &layer.sheet) else { return Vec::new() };
    let fits = |can: &&SeenCan| can.sheet == *sheet && can.component == component;
    state.stock.on_shelf().filter(fits).collect()
}

/// Whether its maker does not vouch for it any more.
#[must_use]
pub fn is_past(seen: &SeenCan, watch: &Watch) -> bool {
    seen.until_ms.is_some_and(|until| watch.reached(until))
}

/// The cans of a component from which a pour may come, first first: what the painter took, then
/// those in date with something left, oldest date first. Where there is none, one past its date.
#[must_use]
pub(super) fn usable<'a>(
    state: &'a State,
    layer: u32,
    component: &str,
    watch: &Watch,
) -> Vec<&'a SeenCan> {
    let mut cans = cans_of(state, layer, component);
    cans.retain(|can| !level_of(state, can).is_empty());
    // one without a date comes last; of one date the opened one first, then by name
    cans.sort_by_key(|can| {
        let undated = (can.until_ms.is_none(), can.until_ms);
        (is_past(can, watch), undated, can.opened.is_none(), can.can.clone())
    });
    let in_date = cans.iter().filter(|can| !is_past(can, watch)).count();
    let picked = picked(state, layer, component).and_then(|picked| picked.can.as_deref());
    let mut first: Vec<&SeenCan> =
        cans.iter().copied().filter(|can| Some(can.can.as_str()) == picked).collect();
    let kept = if in_date > 0 { in_date } else { usize::from(first.is_empty()) };
    cans.truncate(kept);
    cans.retain(|can| Some(can.can.as_str()) != picked);
    first.extend(cans);
    first
}

fn picked<'a>(state: &'a State, layer: u32, component: &str) -> Option<&'a super::Picked> {
    let sheet = state.layer(layer)?.sheet.clone();
    state.stock.picked.get(&(sheet, component.to_owned()))
}

/// Whether the painter took a can for a component that is not on the shelf.
pub(super) fn takes_another(state: &State, layer: u32, component: &str) -> bool {
    picked(state, layer, component).is_some_and(|picked| picked.can.is_none())
}

/// The cans from which a component of a layer's sheet is poured, first first: the next one once one is
/// empty. Where all are, the one that ran out: what is poured on is counted against it, for more was
/// in it than was told, or another can stands on the shelf than is known here. None where the painter
/// took one that is not on the shelf.
#[must_use]
pub fn taken<'a>(state: &'a State, layer: u32, component: &str, watch: &Watch) -> Vec<&'a SeenCan> {
    if takes_another(state, layer, component) {
        return Vec::new();
    }
    let usable = usable(state, layer, component, watch);
    if usable.is_empty() { ran_out(state, layer, component).into_iter().collect() } else { usable }
}

/// Of the cans of a component the one drawn from last.
#[must_use]
pub(super) fn ran_out<'a>(state: &'a State, layer: u32, component: &str) -> Option<&'a SeenCan> {
    let drawn = |can: &&SeenCan| {
        let moves = moves_of(state, &can.can).into_iter();
        moves.filter(|one| one.moved == Moved::Drawn).map(|one| one.at).max()
    };
    cans_of(state, layer, component).into_iter().max_by_key(drawn)
}

/// The cans of a layer's sheet from which more was poured than was in them: the count or a pour is
/// wrong.
#[must_use]
pub fn overdrawn(state: &State, layer: u32) -> Vec<String> {
    let components = state.sheet(layer).map_or(&[][..], |sheet| &sheet.mix.components);
    let cans = components.iter().flat_map(|component| cans_of(state, layer, &component.name));
    let over = cans.filter(|can| level_of(state, can).overdrawn);
    over.map(|can| can.can.clone()).collect()
}

/// The can from which a component of a layer's sheet is poured; nothing where there is none with
/// something left, or the painter took one that is not on the shelf.
#[must_use]
pub fn can_for<'a>(
    state: &'a State,
    layer: u32,
    component: &str,
    watch: &Watch,
) -> Option<&'a SeenCan> {
    taken(state, layer, component, watch).into_iter().next()
}

/// Thinner in the can of each component of a layer's sheet, a share by volume.
#[must_use]
pub fn thinner_for(state: &State, layer: u32, watch: &Watch) -> Vec<f64> {
    let components = state.sheet(layer).map_or(&[][..], |sheet| &sheet.mix.components);
    let share = |name: &str| {
        let can = can_for(state, layer, name, watch)?;
        level_of(state, can).thinner.map(|share| share.fraction())
    };
    components.iter().map(|component| share(&component.name).unwrap_or(0.0)).collect()
}

/// The can to which a pot's material goes back: the one that its base came from last, unless the
/// painter took another one since.
#[must_use]
pub fn can_of_pot(state: &State, mixing: &Mixing, watch: &Watch) -> Option<String> {
    let components = &state.sheet(mixing.layer)?.mix.components;
    let base = components.iter().find(|it| it.role == Role::Base)?;
    let poured = mixing.pours.iter().filter(|pour| pour.component == base.name);
    let poured = poured.filter_map(|pour| Some((pour.at, pour.can.clone()?)));
    let fresh = mixing.fresh.iter().flat_map(|fresh| {
        let of_base = fresh.cans.iter().filter(|from| from.component == base.name);
        of_base.map(|from| (fresh.at, from.can.clone()))
    });
    let drawn: Option<(Moment, String)> = poured.chain(fresh).max_by_key(|(at, _)| *at);
    let picked = picked(state, mixing.layer, &base.name);
    match (drawn, picked) {
        (Some((at, _)), Some(picked)) if picked.at > at => picked.can.clone(),
        (Some((_, can)), _) => Some(can),
        (None, _) => can_for(state, mixing.layer, &base.name, watch).map(|can| can.can.clone()),
    }
}

/// The cans past their date when a pot was drawn from them, each once.
#[must_use]
pub fn past_cans(state: &State, mixing: &Mixing) -> Vec<String> {
    let poured = mixing.pours.iter().filter_map(|pour| Some((pour.at, pour.can.as_ref()?)));
    let fresh = mixing.fresh.iter();
    let fresh = fresh.flat_map(|fresh| fresh.cans.iter().map(|from| (fresh.at, &from.can)));
    let mut past: Vec<String> = Vec::new();
    for (at, can) in poured.chain(fresh) {
        let until = state.stock.can(can).and_then(|can| can.until_ms);
        if until.is_some_and(|until| at >= until) && !past.contains(can) {
            past.push(can.clone());
        }
    }
    past
}
