//! A reading before anything that commits material, and first of all in a sitting that finds a film.

use super::Asks;
use crate::board::next::{Next, ReadWhy};
use crate::session::standing::{AirLimit, Hold, air_holds, gone_past, trend_breaks, wet_time};
use crate::session::time::Span;

impl Asks<'_> {
    /// Why a reading is wanted before material is committed: none there, too old, or unfit.
    pub(super) fn reading_for(&self, layer: u32) -> Option<ReadWhy> {
        self.unfit(layer).or_else(|| self.gate.reading_wanted().then(|| self.age()))
    }

    pub(super) fn age(&self) -> ReadWhy {
        if self.session.state().readings.is_empty() { ReadWhy::Missing } else { ReadWhy::Old }
    }

    /// The last reading is outside the sheet, or by its trend will be before a coat dulls.
    pub(super) fn unfit(&self, layer: u32) -> Option<ReadWhy> {
        let state = self.session.state();
        let holds = air_holds(state, layer, self.watch);
        let outside = holds.into_iter().filter(|hold| gone_past(state, hold).is_none());
        let first = outside.filter_map(|hold| match hold {
            Hold::Air { outside, .. } => outside,
            _ => None,
        });
        first.map(ReadWhy::Unfit).next().or_else(|| self.trend(layer))
    }

    /// The margin goes before a coat that is begun now has dulled: on the face that takes the longest
    /// of those that may be sprayed, else on the first.
    fn trend(&self, layer: u32) -> Option<ReadWhy> {
        let hold = Hold::Air { layer, limit: AirLimit::DewTrend, outside: None };
        if gone_past(self.session.state(), &hold).is_some() {
            return None;
        }
        let may = self.in_layer(layer).filter(|(_, _, face)| face.now.takes_a_coat());
        let mut faces: Vec<usize> = may.map(|(number, ..)| number).collect();
        if faces.is_empty() {
            faces.extend(self.in_layer(layer).map(|(number, ..)| number).next());
        }
        let breaks = |face: usize| trend_breaks(self.session, layer, face, self.watch);
        let longest = faces.into_iter().filter_map(breaks).max_by_key(|(_, wet)| *wet);
        longest.map(|(gone, wet)| ReadWhy::Trend { gone, wet })
    }

    pub(super) fn wet_time(&self, layer: u32, face: usize) -> Option<Span> {
        wet_time(self.session, layer, face)
    }

    /// In a new sitting that finds a film on a part, before all else; and where nothing else is to be
    /// done for ten minutes between two coats.
    pub(super) fn first_reading(&self, layer: u32) -> Option<Next> {
        let state = self.session.state();
        let film = state.faces.iter().any(|face| face.last_on().is_some());
        let why = self.reading_for(layer)?;
        let began = state.sitting.filter(|it| !self.watch.reached(it.ends)).map(|it| it.began);
        let last = state.readings.last().map(|taken| taken.at).max(state.reading_skipped);
        let new = began.is_none() || last < began;
        (film && new).then_some(Next::Reading { why })
    }

    /// The reading that is wanted before the first face of a coat, or, where the last one is unfit,
    /// before any.
    pub(super) fn reading_before(&self, layer: u32, coat: u32) -> Option<Next> {
        let why = match self.unfit(layer) {
            Some(why) => why,
            None if self.is_round_begun(layer, coat) => return None,
            None => self.reading_for(layer)?,
        };
        Some(Next::Reading { why })
    }
}
