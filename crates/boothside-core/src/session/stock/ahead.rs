//! The cans from which the pot on the bench is still to be poured.

use super::choice::{is_past, ran_out, takes_another, usable};
use super::level::{Level, level_of};
use crate::material::recipe::{PotPlan, Told};
use crate::session::state::State;
use crate::session::watch::Watch;

/// How a can stands against what the pot wants of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CanNow {
    /// There is enough, in it and the next ones.
    Enough,
    /// There is not.
    Short,
    /// Its maker does not vouch for it any more.
    Past,
    /// What is left in it, or what is wanted, is not known.
    NotKnown,
}

/// The can from which a component is poured next.
#[derive(Debug, Clone, PartialEq)]
pub struct CanAhead {
    /// The component (from 0).
    pub component: usize,
    /// The can's file.
    pub can: String,
    /// What is in it.
    pub level: Level,
    /// What the pot still wants out of it; nothing where that cannot be told.
    pub need: Option<Told>,
    /// What is left in it and in the ones that come after it, in the units in which all of it can
    /// be told.
    pub all_left: Told,
    /// How many come after it.
    pub others: usize,
    /// How it stands.
    pub now: CanNow,
    /// Whether there is not enough in it and the next ones: also of one past its date.
    pub short: bool,
}

/// The can of each component that `pot` still wants, or of each where no pot can be planned; nothing
/// for a component of which no can is kept.
#[must_use]
pub fn cans_ahead(
    state: &State,
    layer: u32,
    pot: Option<&PotPlan>,
    watch: &Watch,
) -> Vec<CanAhead> {
    let components = state.sheet(layer).map_or(&[][..], |sheet| &sheet.mix.components);
    let ahead = |(at, component): (usize, &crate::material::sheet::Component)| {
        let need = match pot {
            Some(pot) => Some(pot.lines.get(at)?.add?),
            None => None,
        };
        can_ahead(state, (layer, at, &component.name), need, watch)
    };
    components.iter().enumerate().filter_map(ahead).collect()
}

fn can_ahead(
    state: &State,
    (layer, component, name): (u32, usize, &str),
    need: Option<Told>,
    watch: &Watch,
) -> Option<CanAhead> {
    if takes_another(state, layer, name) {
        return None;
    }
    let usable = usable(state, layer, name, watch);
    // all of them empty: the one that ran out says so
    let last = || ran_out(state, layer, name);
    let can = usable.first().copied().or_else(last)?;
    let levels: Vec<Level> = usable.iter().map(|can| level_of(state, can)).collect();
    let sum = |unit: fn(Told) -> Option<f64>| levels.iter().map(|level| unit(level.left)).sum();
    let all_left = Told { g: sum(|told| told.g), ml: sum(|told| told.ml) };
    let enough = enough(all_left, need.unwrap_or_default());
    let now = if is_past(can, watch) { CanNow::Past } else { enough };
    Some(CanAhead {
        component,
        can: can.can.clone(),
        level: level_of(state, can),
        need,
        all_left,
        others: usable.len().saturating_sub(1),
        now,
        short: enough == CanNow::Short,
    })
}

/// What is compared is compared in one unit; a hair less is no lack.
fn enough(left: Told, need: Told) -> CanNow {
    let both = left.ml.zip(need.ml).or_else(|| left.g.zip(need.g));
    match both {
        None => CanNow::NotKnown,
        Some((left, need)) if left + 0.05 < need => CanNow::Short,
        Some(_) => CanNow::Enough,
    }
}
