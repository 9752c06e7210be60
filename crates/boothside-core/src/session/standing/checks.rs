//! Whether a readiness check is answered, for the work ahead.

use crate::session::state::{Passed, State};
use crate::session::time::Moment;
use crate::work::system::{Check, Group};

/// Since when an answer counts: what was checked before a face came says nothing of that face. What is
/// laid out, the surface, and plugs and masks are the part's own; all else is asked again only where
/// every face that gets the layer next came late.
fn since(state: &State, check: &Check, layer: u32) -> Option<Moment> {
    let all = state.came_for(layer);
    match check.belongs_to() {
        Group::LayOut | Group::Surface | Group::PlugsAndMasks => {
            all.max(state.last_came_for(layer))
        }
        _ => all,
    }
}

/// The answer to a check of `layer`, and of `coat` where it is asked before each (else 0), that
/// counts for the work ahead.
#[must_use]
pub fn answered<'a>(
    state: &'a State,
    check: &Check,
    (layer, coat): (u32, u32),
) -> Option<&'a Passed> {
    let since = since(state, check, layer);
    let passed = state.checks.get(&(layer, coat, check.id.clone()))?;
    passed.iter().rev().find(|passed| since.is_none_or(|since| passed.at >= since))
}

/// Whether a check is answered, or the painter went past it.
#[must_use]
pub fn is_answered(state: &State, check: &Check, (layer, coat): (u32, u32)) -> bool {
    let past = || {
        let hold = format!("check {layer}.{coat} {}", check.id);
        state.went_past_since(&hold, since(state, check, layer))
    };
    answered(state, check, (layer, coat)).is_some() || past()
}
