//! The bench: what is poured next, and into which pot.

use super::Asks;
use crate::board::mixing;
use crate::board::next::Next;
use crate::session::mixing::need;
use crate::session::standing::PotWhy;

impl Asks<'_> {
    /// A new pot: the first pour, where there is more than one and each can be told.
    pub(super) fn new_pot(&self, layer: u32, why: PotWhy) -> Next {
        let sheet = self.session.state().sheet(layer);
        let mixes = sheet.is_some_and(|sheet| sheet.mix.components.len() > 1);
        if mixes
            && let Some(Next::Pour { pot, layer, component, shows, .. }) =
                mixing::first_pour(self.session, layer, self.watch)
        {
            return Next::Pour { pot, layer, component, shows, why: Some(why) };
        }
        let amount_ml = need(self.session.state(), self.session.plan(), layer, self.watch).ml;
        Next::MixPot { layer, amount_ml, why }
    }

    pub(super) fn pour(&self, pot: &str, component: &str) -> Next {
        mixing::next_pour(self.session, pot, component, self.watch).unwrap_or(Next::Over)
    }
}
