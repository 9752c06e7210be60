//! Whether a readiness check is answered, for the work ahead.

use crate::session::state::{Passed, State};
use crate::session::time::Moment;
use crate::session::watch::Watch;
use crate::work::system::{Check, Each, Group};

/// Which answers count.
enum Counts<'a> {
    /// None: the sitting is over.
    None,
    /// Those at or after a moment; without one, all.
    Since(Option<Moment>),
    /// Those for this pot.
    Of {
        /// Its letter.
        pot: &'a str,
        /// When it was mixed, or since when an answer counts else.
        since: Option<Moment>,
    },
}

/// What was checked before a face came says nothing of that face. What is laid out, the surface, and
/// plugs and masks are the part's own; all else is asked again only where every face that gets the
/// layer next came late.
fn since(state: &State, check: &Check, layer: u32) -> Option<Moment> {
    let all = state.came_for(layer);
    match check.belongs_to() {
        Group::LayOut | Group::Surface | Group::PlugsAndMasks => {
            all.max(state.last_came_for(layer))
        }
        _ => all,
    }
}

/// When the sitting began that is not over.
fn sitting(state: &State, watch: &Watch) -> Option<Moment> {
    state.sitting.filter(|sitting| !watch.reached(sitting.ends)).map(|sitting| sitting.began)
}

fn counts<'a>(state: &'a State, check: &Check, layer: u32, watch: &Watch) -> Counts<'a> {
    let since = since(state, check, layer);
    match check.asked() {
        Each::Coat if check.is_of_the_fan() => match sitting(state, watch) {
            Some(began) => Counts::Since(since.max(Some(began)).max(state.fan_went_off)),
            None => Counts::None,
        },
        Each::Layer | Each::Coat => Counts::Since(since),
        Each::Pot => match state.pot_in_use(layer) {
            Some(pot) => Counts::Of { pot: &pot.id, since: since.max(Some(pot.mixed)) },
            None => Counts::None,
        },
        Each::Sitting => match sitting(state, watch) {
            Some(began) => Counts::Since(since.max(Some(began))),
            None => Counts::None,
        },
    }
}

/// The answer to a check of `layer`, before `coat`, that counts for the work ahead.
#[must_use]
pub fn answered<'a>(
    state: &'a State,
    check: &Check,
    (layer, coat): (u32, u32),
    watch: &Watch,
) -> Option<&'a Passed> {
    let key = (layer, check.kept_under(coat), check.id.clone());
    let mut passed = state.checks.get(&key)?.iter().rev();
    match counts(state, check, layer, watch) {
        Counts::None => None,
        Counts::Since(since) => passed.find(|passed| since.is_none_or(|since| passed.at >= since)),
        Counts::Of { pot, .. } => passed.find(|passed| passed.pot.as_deref() == Some(pot)),
    }
}

/// Whether a check is answered, or the painter went past it.
#[must_use]
pub fn is_answered(state: &State, check: &Check, (layer, coat): (u32, u32), watch: &Watch) -> bool {
    let hold = format!("check {layer}.{} {}", check.kept_under(coat), check.id);
    let past = || match counts(state, check, layer, watch) {
        Counts::None => false,
        Counts::Since(since) | Counts::Of { since, .. } => state.went_past_since(&hold, since),
    };
    answered(state, check, (layer, coat), watch).is_some() || past()
}
