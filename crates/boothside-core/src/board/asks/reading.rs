//! A reading before anything that commits material, and first of all in a sitting that finds a film.

use super::Asks;
use crate::board::next::{Next, ReadWhy};
use crate::session::clocks::{Kind, Start, due};
use crate::session::standing::{AirLimit, Hold, air_holds, air_now, gone_past};
use crate::session::time::{Moment, Span};

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

    /// The margin goes before a coat that is begun now has dulled.
    fn trend(&self, layer: u32) -> Option<ReadWhy> {
        let state = self.session.state();
        let (gone, _) = air_now(self.session, self.watch).margin_trend?.breaks?;
        let (face, _) = self.sprayable(layer).or_else(|| self.first_in(layer))?;
        let wet = self.wet_time(layer, face)?;
        let hold = Hold::Air { layer, limit: AirLimit::DewTrend, outside: None };
        let past = gone_past(state, &hold).is_some();
        // a film is wet until then: what goes sooner spoils it
        let soon = self.watch.reached(gone.minus(wet)) && !self.watch.reached(gone);
        (soon && !past).then_some(ReadWhy::Trend { gone, wet })
    }

    fn first_in(&self, layer: u32) -> Option<(usize, u32)> {
        self.in_layer(layer).map(|(number, coat, _)| (number, coat)).next()
    }

    /// From the beginning of a coat on a face until it has dulled, in the air as it is.
    pub(super) fn wet_time(&self, layer: u32, face: usize) -> Option<Span> {
        let state = self.session.state();
        let gap = &state.sheet(layer)?.between_coats;
        let timing = gap.dulls.as_ref().unwrap_or(&gap.earliest);
        // after the last reading the air is held as it was, so any start does
        let start = state.readings.last().map_or(Moment::OPENING, |taken| taken.at);
        let due = due(timing, Kind::Eye, Start::told(start, start), 1.0, &state.readings);
        let dulls = due.moment()?.since(start);
        Some(Span::from_ms(dulls.ms().saturating_add(self.usual(layer, face).ms())))
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
        (film && new && matches!(why, ReadWhy::Missing | ReadWhy::Old))
            .then_some(Next::Reading { why })
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
