//! Which of the coats to come a pot that is there still does: the next pot is for the rest.

use crate::session::demand::{left_ml, ml_per_m2_of_pot};
use crate::session::pace::usual_time;
use crate::session::plan::Plan;
use crate::session::standing::{PotNow, PotStanding};
use crate::session::state::State;
use crate::session::time::Span;
use crate::session::watch::Watch;

/// What an estimate of what is left is good to, mL: nobody pours tenths.
pub const NEAR_ML: f64 = 0.5;

/// The coats, (coat, face), that the pot in use for `layer` finishes: the first ones in spraying
/// order, by what is left in it and by its last trigger. Empty where no such pot is there, or where
/// it is not known what is left.
#[must_use]
pub fn done_by_pot_in_use(
    state: &State,
    plan: &Plan,
    layer: u32,
    watch: &Watch,
) -> Vec<(u32, usize)> {
    let does = || {
        let pot = state.pot_in_use(layer).filter(|pot| pot.stirred.is_some())?;
        let at = PotStanding::of(state, pot, watch);
        if !matches!(at.now, PotNow::Good | PotNow::Standing) {
            return None;
        }
        let left = left_ml(state, plan, pot)?;
        let per_m2 = ml_per_m2_of_pot(state, plan, pot).ok()?;
        let (mut used_ml, mut used) = (0.0, Span::default());
        let fits = |(_, face): &(u32, usize)| {
            used_ml += plan.area_m2(&state.work, *face) * per_m2;
            let usual = usual_time(state, plan, layer, *face).time;
            used = Span::from_ms(used.ms().saturating_add(usual.ms()));
            let in_time = at.last_trigger.is_none_or(|last| !watch.reached(last.minus(used)));
            used_ml <= left + NEAR_ML && in_time
        };
        Some(coats_to_come(state, layer).into_iter().take_while(fits).collect())
    };
    does().unwrap_or_default()
}

/// The coats of `layer` still to come on faces that hang, in the order of work.
fn coats_to_come(state: &State, layer: u32) -> Vec<(u32, usize)> {
    let wants = |face: usize| state.coats_wanted(face, layer);
    let most = (0..state.faces.len()).map(wants).max().unwrap_or(0);
    let lacks = |coat: u32, face: usize| {
        // one on the gun is drawn from the pot once it is on
        let on = state.faces[face].coats_on(layer);
        state.takes_part(face) && wants(face) >= coat && on < coat
    };
    let of_coat = |coat: u32| {
        let lacking = (0..state.faces.len()).filter(move |face| lacks(coat, *face));
        lacking.map(move |face| (coat, face)).collect::<Vec<_>>()
    };
    (1..=most).flat_map(of_coat).collect()
}
