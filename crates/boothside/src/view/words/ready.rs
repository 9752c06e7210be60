//! Readiness before a coat: one line a check, in the order of work.

use boothside_core::board::{Item, Next, PotRow, Stage};
use boothside_core::session::standing::{Hold, PotNow, STALE};
use boothside_core::session::time::Moment;
use boothside_core::work::system::{Check, Each};

use super::Words;
use super::readiness::ready_state;
use super::stage::layer_of;
use super::state::Readiness;
use super::time::Time;

/// One check.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CheckWords {
    /// Where it stands.
    pub now: Readiness,
    /// That in a word, with the time where a person said or passed it.
    pub word: String,
    /// What must be so.
    pub what: String,
    /// Whether SPACE answers it next.
    pub is_next: bool,
}

impl CheckWords {
    /// Whether it speaks for going on.
    #[must_use]
    pub const fn is_clear(&self) -> bool {
        matches!(self.now, Readiness::Clear | Readiness::Said)
    }

    fn of(now: Readiness, what: String, is_next: bool) -> Self {
        Self { now, word: now.word().to_owned(), what, is_next }
    }
}

impl Words<'_> {
    /// The checks of the layer in work, in the order of work.
    #[must_use]
    pub fn readiness(&self) -> Vec<CheckWords> {
        let Some(layer) = layer_of(self.board.stage) else {
            return Vec::new();
        };
        let often = |check: &Check| check.each != Each::Coat;
        let mut checks = self.checks((layer, 0), |check| often(check) && !check.needs_paint());
        checks.push(self.reading_check());
        checks.push(self.pot_check(layer));
        checks.extend(self.checks((layer, 0), |check| often(check) && check.needs_paint()));
        let coat = self.coat_in_work(layer);
        checks.extend(self.checks((layer, coat), |check| !often(check)));
        checks
    }

    fn coat_in_work(&self, layer: u32) -> u32 {
        let hanging = self.board.faces.iter().filter(|row| !row.at.now.is_absent());
        let nexts = hanging.filter_map(|row| row.at.next);
        nexts.filter(|(of, _)| *of == layer).map(|(_, coat)| coat).min().unwrap_or(1)
    }

    fn checks(
        &self,
        (layer, coat): (u32, u32),
        wanted: impl Fn(&Check) -> bool,
    ) -> Vec<CheckWords> {
        let state = self.session.state();
        let planned = state.layer(layer).map_or(&[][..], |layer| &layer.ready);
        let words = planned.iter().filter(|check| wanted(check)).map(|check| {
            let key = Item::Check { layer, coat: check.kept_under(coat), check: check.id.clone() };
            let line = self.board.ready.iter().find(|line| line.item == key);
            let now = line.map_or(Readiness::NotKnown, |line| ready_state(line.now));
            let word = line.map_or_else(|| now.word().to_owned(), |line| self.ready_word(line));
            let is_next =
                matches!(&self.board.next, Next::Check { check: next, .. } if *next == check.id);
            CheckWords { now, word, what: self.check(layer, &check.id), is_next }
        });
        words.collect()
    }

    fn reading_check(&self) -> CheckWords {
        let air = &self.board.air;
        let fresh = air.taken.is_some_and(|taken| self.now() < taken.plus(STALE));
        let sets = self.sheet_sets_warmth();
        // what lies outside the sheet, and by how much, is told in the line of the air
        let now = match (air.out_of_limits.is_empty(), fresh) {
            (false, _) => Readiness::Hold,
            (true, true) if sets => Readiness::Clear,
            (true, _) => Readiness::NotKnown,
        };
        let what = if sets || now == Readiness::Hold {
            "air and surface read within the hour, within the sheet"
        } else {
            "air and surface: the sheet sets no limit"
        };
        let what = what.into();
        let is_next = matches!(self.board.next, Next::Reading { .. });
        let check = CheckWords::of(now, what, is_next);
        match self.air_passed().filter(|_| now == Readiness::Hold) {
            Some(at) => CheckWords { word: format!("passed {}", self.hour_of(at)), ..check },
            None => check,
        }
    }

    /// When the last hold of the air was passed, where every one of them was.
    fn air_passed(&self) -> Option<Moment> {
        let ready = &self.board.ready;
        let air = ready.iter().filter(|line| matches!(line.hold, Some(Hold::Air { .. })));
        let passed: Option<Vec<Moment>> =
            air.map(|line| line.overridden.as_ref().map(|passed| passed.at)).collect();
        passed?.into_iter().max()
    }

    /// Whether the sheet of the layer in work says in which warmth it may be sprayed.
    fn sheet_sets_warmth(&self) -> bool {
        let state = self.session.state();
        let layer = state.layer_in_work().unwrap_or_else(|| state.layer_count());
        let limits = state.sheet(layer).map(|sheet| sheet.limits).unwrap_or_default();
        limits.min_c.is_some() || limits.max_c.is_some()
    }

    fn stand(&self, row: &PotRow) -> String {
        let until = row.at.stands_until.map(|due| self.due(due.at, Time::Wait)).unwrap_or_default();
        format!("{} stands until {until}", self.pot(&row.at.id))
    }

    fn pot_check(&self, layer: u32) -> CheckWords {
        let in_use = self.session.state().pot_in_use(layer);
        let row = in_use.and_then(|pot| self.board.pots.iter().find(|row| row.at.id == pot.id));
        let (now, what) = match row {
            None => (Readiness::NotKnown, "pot · none mixed yet".to_owned()),
            Some(row) => {
                let pot = self.pot(&row.at.id);
                match row.at.now {
                    PotNow::Standing => (Readiness::Hold, self.stand(row)),
                    PotNow::Good => (Readiness::Clear, format!("{pot} is good")),
                    _ => (Readiness::Hold, format!("{pot} is past its last trigger")),
                }
            }
        };
        let is_next = matches!(self.board.stage, Stage::Mix { .. });
        CheckWords::of(now, what, is_next)
    }
}
