//! What a session drew from cans and returned to them: it follows from what was told of its pots.

use super::level::{Move, Moved};
use crate::material::recipe::{SheetRecipe, Told};
use crate::material::sheet::MixRule;
use crate::session::mixing::{Fresh, Mixing, Pour, Returned};
use crate::session::state::State;
use crate::session::stock::FromCan;
use crate::units::{Mass, Share};

/// Everything that went out of cans and back into them, in the order in which it happened.
#[must_use]
pub fn moves(state: &State) -> Vec<Move> {
    let mut moves: Vec<Move> =
        state.mixings.iter().flat_map(|mixing| of_mixing(state, mixing)).collect();
    // what happened in the same moment stays in the order of telling
    moves.sort_by_key(|one| one.at);
    moves
}

/// The same of one can.
#[must_use]
pub fn moves_of(state: &State, can: &str) -> Vec<Move> {
    let mut moves = moves(state);
    moves.retain(|one| one.can == can);
    moves
}

fn of_mixing(state: &State, mixing: &Mixing) -> Vec<Move> {
    let mix = state.sheet(mixing.layer).map(|sheet| &sheet.mix);
    let Some(mix) = mix else { return Vec::new() };
    let Ok(recipe) = SheetRecipe::of(mix) else { return Vec::new() };
    let mut moves: Vec<Move> =
        mixing.pours.iter().filter_map(|pour| of_pour(&recipe, mix, pour)).collect();
    moves.extend(mixing.fresh.iter().flat_map(|fresh| of_fresh(&recipe, mix, fresh)));
    moves.extend(mixing.returned.iter().filter_map(of_return));
    moves
}

fn of_pour(recipe: &SheetRecipe, mix: &MixRule, pour: &Pour) -> Option<Move> {
    let can = pour.can.clone()?;
    let at = mix.components.iter().position(|it| it.name == pour.component);
    let amount = at.map_or(pour.amount, |at| recipe.both(at, pour.amount, pour.thinner));
    Some(Move { can, at: pour.at, moved: Moved::Drawn, amount })
}

/// By the recipe, as it would have been poured: thinner that comes with a component is reducer that
/// was not taken.
fn of_fresh(recipe: &SheetRecipe, mix: &MixRule, fresh: &Fresh) -> Vec<Move> {
    let plan = fresh.ml.and_then(|ml| recipe.plan(Told { ml: Some(ml), g: None }).ok());
    let Some(plan) = plan else { return of_unknown(fresh) };
    let mut spared = Mass::from_g(0.0);
    let mut moves = Vec::new();
    // the reducer last: how much of it was taken rests on what came with the others
    let reducer = recipe.reducer();
    let rest = (0..recipe.len()).filter(|at| Some(*at) != reducer);
    for at in rest.chain(reducer) {
        let mut wanted = plan.lines()[at].mass;
        if Some(at) == reducer {
            wanted = Mass::from_g((wanted - spared).g().max(0.0));
        }
        let name = &mix.components[at].name;
        for from in fresh.cans.iter().filter(|from| from.component == *name) {
            let thinner = from.thinner_pct / 100.0;
            let (amount, comes) = match from.amount() {
                Some(told) => {
                    let (mass, comes) =
                        recipe.in_can(at, told, thinner).unwrap_or((wanted, Mass::from_g(0.0)));
                    wanted = Mass::from_g((wanted - mass).g().max(0.0));
                    (recipe.both(at, told, thinner), comes)
                }
                None => recipe.to_take(at, wanted, thinner),
            };
            spared = spared + comes;
            moves.push(drawn(from, fresh, amount));
        }
    }
    moves
}

/// Nobody told how much: only what one can gave all it had is known.
fn of_unknown(fresh: &Fresh) -> Vec<Move> {
    let all = fresh.cans.iter();
    all.map(|from| drawn(from, fresh, from.amount().unwrap_or_default())).collect()
}

fn drawn(from: &FromCan, fresh: &Fresh, amount: Told) -> Move {
    Move { can: from.can.clone(), at: fresh.at, moved: Moved::Drawn, amount }
}

fn of_return(returned: &Returned) -> Option<Move> {
    let can = returned.can.clone()?;
    let amount = Told { g: returned.g, ml: Some(returned.ml) };
    let thinner = returned.thinner.map(Share::from_fraction);
    Some(Move { can, at: returned.at, moved: Moved::Returned { thinner }, amount })
}
