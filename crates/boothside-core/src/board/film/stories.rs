//! How thin each pot was when a coat came from it.

use std::collections::BTreeMap;

use crate::session::demand::{NotSet, solids_as_mixed};
use crate::session::mixing::{PotStory, pot_story};
use crate::session::{CoatOn, Plan, State};

/// The story of every pot.
pub(super) struct Stories<'a> {
    state: &'a State,
    of_pots: BTreeMap<&'a str, PotStory>,
}

impl<'a> Stories<'a> {
    pub(super) fn of(state: &'a State, plan: &Plan) -> Self {
        let of_pot = |pot: &'a str| Some((pot, pot_story(state, plan, pot)?));
        let of_pots = state.pots.iter().filter_map(|pot| of_pot(&pot.id)).collect();
        Self { state, of_pots }
    }

    /// Volume solids of a coat as it was sprayed, as a share; by the sheet's recipe where its pot was
    /// not told.
    pub(super) fn solids(&self, coat: &CoatOn) -> Result<f64, NotSet> {
        match coat.pot.as_deref().and_then(|pot| self.of_pots.get(pot)) {
            Some(story) => story.solids(Some(coat.begun)),
            None => solids_as_mixed(self.state.sheet(coat.layer).ok_or(NotSet::Solids)?),
        }
    }
}
