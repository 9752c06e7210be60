//! Tables of how far the clocks of a session have come at its readings.
//!
//! Each is built once and goes on with every reading; one told late rebuilds it from its own time on.
//! They hold nothing that does not follow from the readings.

mod arrivals;
mod path;
mod peaks;
mod progress;
mod sum;
mod trail;
mod walk;

use std::cell::RefCell;
use std::collections::BTreeMap;

use arrivals::Arrivals;
use progress::Progress;
use trail::{Of, Trail};

use super::due::Kind;
use super::latch::{Latched, Run, latched};
use super::rate_clock;
use super::tracks::Whose;
use crate::material::timing::{TablePoint, Timing};
use crate::physics::rate::{AirPoint, Due, RateClock, Rules};
use crate::session::state::Taken;
use crate::session::time::{Moment, Span};

/// A table that nobody asked for over so many changes of the readings is given up: its figure was
/// mended, or its pot is gone.
const IDLE_MOST: u32 = 16;

/// So many dues of a clock are kept between two changes of the readings: more than there are faces.
const FOUND_MOST: usize = 4096;
/// More than rounding to a millisecond moves an edge: what is shown a hair too late is looked at
/// before it is passed over.
pub(super) const ROUNDED: Span = Span::from_ms(2);

/// Which clock, and whose temperature it follows.
#[derive(Debug, Clone, Copy)]
pub(super) struct Asked<'a> {
    pub(super) timing: &'a Timing,
    pub(super) kind: Kind,
    pub(super) rules: Rules,
    /// For a pot, until when a pot's temperature was another pot's; nothing where none was read before.
    pub(super) not_its_own: Option<Moment>,
}

impl Asked<'_> {
    fn of(&self) -> Of {
        let whose = self.kind.whose(self.timing.law);
        // only a pot's temperature can be another pot's
        Of { whose, not_its_own: self.not_its_own.filter(|_| whose == Whose::Pot) }
    }
}

/// The tables of a session, built where they are asked for.
#[derive(Clone, Default)]
pub(in crate::session) struct Tables(RefCell<Kept>);

impl Tables {
    /// The readings are others.
    pub(in crate::session) fn outdate(&mut self) {
        self.0.get_mut().outdated = true;
    }

    /// When `run` is due by `readings`; nothing for a timing that makes no clock.
    pub(super) fn latched(
        &self,
        readings: &[Taken],
        asked: Asked<'_>,
        run: &Run,
    ) -> Option<Latched> {
        let mut kept = self.0.borrow_mut();
        kept.refresh(readings);
        kept.latched(asked, run)
    }

    /// Looks at the table of a clock; nothing for a timing that makes none.
    pub(super) fn look<T>(
        &self,
        readings: &[Taken],
        asked: Asked<'_>,
        look: impl FnOnce(&Table<'_>) -> T,
    ) -> Option<T> {
        let mut kept = self.0.borrow_mut();
        kept.refresh(readings);
        let at = kept.clocked(asked)?;
        kept.table(at).map(|table| look(&table))
    }

    /// The air that a clock has, as it is known by `readings`.
    pub(super) fn air<T>(
        &self,
        readings: &[Taken],
        asked: Asked<'_>,
        look: impl FnOnce(&Trail) -> T,
    ) -> Option<T> {
        let mut kept = self.0.borrow_mut();
        kept.refresh(readings);
        let at = kept.trail(asked.of());
        kept.trails.get(at).map(look)
    }
}

#[derive(Debug, Clone)]
struct Clocked {
    timing: Timing,
    kind: Kind,
    rules: Rules,
    of: Of,
    progress: Progress,
    /// What was found since the readings last changed.
    found: BTreeMap<Started, Latched>,
    idle: u32,
}

/// Where a clock started, and how it is asked for.
type Started = (Moment, Moment, u64, Span);

impl Clocked {
    fn is(&self, asked: &Asked<'_>) -> bool {
        self.kind == asked.kind
            && self.rules == asked.rules
            && self.of == asked.of()
            && is_same(&self.timing, asked.timing)
    }
}

#[derive(Debug, Clone, Default)]
struct Kept {
    outdated: bool,
    arrivals: Arrivals,
    trails: Vec<Trail>,
    clocks: Vec<Clocked>,
}

impl Kept {
    fn refresh(&mut self, readings: &[Taken]) {
        if !std::mem::take(&mut self.outdated) {
            return;
        }
        let kept = self.arrivals.refresh(readings);
        self.trails.retain_mut(|trail| is_in_use(&mut trail.idle));
        for trail in &mut self.trails {
            trail.truncate(kept, &self.arrivals);
        }
        let trails = &self.trails;
        self.clocks.retain_mut(|clocked| {
            clocked.found.clear();
            let trail = trails.iter().find(|trail| trail.of == clocked.of);
            if let Some(trail) = trail {
                clocked.progress.truncate(trail);
            }
            is_in_use(&mut clocked.idle) && trail.is_some()
        });
    }

    fn trail(&mut self, of: Of) -> usize {
        let at = self.trails.iter().position(|trail| trail.of == of).unwrap_or_else(|| {
            self.trails.push(Trail::new(of));
            self.trails.len() - 1
        });
        if let Some(trail) = self.trails.get_mut(at) {
            trail.idle = 0;
            trail.extend(&self.arrivals);
        }
        at
    }

    fn latched(&mut self, asked: Asked<'_>, run: &Run) -> Option<Latched> {
        let at = self.clocked(asked)?;
        let started = (run.start, run.known, run.factor.to_bits(), run.lead);
        if let Some(found) = self.clocks.get(at).and_then(|clocked| clocked.found.get(&started)) {
            return Some(*found);
        }
        let latched = latched(run, &mut self.table(at)?);
        let found = &mut self.clocks.get_mut(at)?.found;
        if found.len() >= FOUND_MOST {
            found.clear();
        }
        found.insert(started, latched);
        Some(latched)
    }

    fn clocked(&mut self, asked: Asked<'_>) -> Option<usize> {
        let at = match self.clocks.iter().position(|clocked| clocked.is(&asked)) {
            Some(at) => at,
            None => self.made(asked)?,
        };
        self.clocks.get_mut(at)?.idle = 0;
        Some(at)
    }

    fn table(&mut self, at: usize) -> Option<Table<'_>> {
        let of = self.clocks.get(at)?.of;
        let trail = self.trail(of);
        let clocked = self.clocks.get_mut(at)?;
        let trail = self.trails.get(trail)?;
        clocked.progress.extend(trail);
        Some(Table { arrivals: &self.arrivals, trail, progress: &mut clocked.progress })
    }

    fn made(&mut self, asked: Asked<'_>) -> Option<usize> {
        let Asked { timing, kind, rules, .. } = asked;
        let progress = Progress::new(rate_clock(timing, kind, rules).ok()?);
        let (timing, of) = (timing.clone(), asked.of());
        let found = BTreeMap::new();
        self.clocks.push(Clocked { timing, kind, rules, of, progress, found, idle: 0 });
        Some(self.clocks.len() - 1)
    }
}

/// Counts one change more, over which nothing was asked.
fn is_in_use(idle: &mut u32) -> bool {
    *idle += 1;
    *idle <= IDLE_MOST
}

/// One clock's table.
pub(super) struct Table<'a> {
    arrivals: &'a Arrivals,
    trail: &'a Trail,
    progress: &'a mut Progress,
}

impl Table<'_> {
    pub(super) const fn clock(&self) -> &RateClock {
        &self.progress.clock
    }

    /// The air at each point as it is known now, and how fast the clock runs in it.
    pub(super) fn points(&self) -> impl DoubleEndedIterator<Item = (AirPoint, f64)> + '_ {
        let numbers = self.trail.path().iter().copied();
        numbers.filter_map(|number| self.progress.rate(self.trail, number))
    }

    /// The last of them.
    pub(super) fn last(&self) -> Option<(AirPoint, f64)> {
        self.points().next_back()
    }

    /// How often readings arrived.
    pub(super) fn arrivals(&self) -> usize {
        self.arrivals.len()
    }

    /// How often they had arrived by `moment`.
    pub(super) fn arrived_by(&self, moment: Moment) -> usize {
        self.arrivals.before(|known| known > moment)
    }

    /// How often they had arrived before `moment`.
    pub(super) fn arrived_before(&self, moment: Moment) -> usize {
        self.arrivals.before(|known| known >= moment)
    }

    /// When the one arrived that followed the first `arrived`.
    pub(super) fn arrival_after(&self, arrived: usize) -> Option<Moment> {
        self.arrivals.known(arrived)
    }

    /// When the integral is due by what was known after `arrived` arrivals.
    pub(super) fn due(&self, arrived: usize, start_s: f64, wanted: f64) -> Due {
        self.progress.due(self.trail, self.trail.tip(arrived), start_s, wanted)
    }

    /// The least number of arrivals, `arrived` or more, after which the integral may have been shown as
    /// due before the next one.
    pub(super) fn may_be_shown(&mut self, run: &Run, mut arrived: usize) -> Option<usize> {
        let start_s = run.start.seconds();
        while arrived < self.arrivals.len() {
            let tip = self.trail.tip(arrived);
            let placed = tip.and_then(|tip| self.progress.place(self.trail, tip, start_s));
            let Some(placed) = placed else {
                // no point after the start: nothing to look up
                return Some(arrived);
            };
            let depth = self.trail.nodes.get(placed.next).map_or(0, |node| node.depth);
            // so long the track about the start is the same
            let until = self.trail.kept_until(arrived, depth).unwrap_or(self.arrivals.len());
            let wanted = self.progress.wanted(&placed, run.factor);
            let shown = self.progress.shown(run.lead, self.trail, self.arrivals);
            let found = arrived.checked_sub(1).and_then(|from| shown.first(from, wanted));
            if let Some(found) = found.map(|index| index + 1).filter(|found| *found < until) {
                return Some(found);
            }
            arrived = until;
        }
        None
    }
}

/// Whether two timings are the same to the last bit: a figure that is no number is itself.
fn is_same(one: &Timing, other: &Timing) -> bool {
    let Timing {
        duration_s,
        up_to_s,
        at_c,
        at_pct,
        law,
        energy_kj_per_mol,
        doubles_per_c,
        floor_c,
        table,
    } = one;
    let bits = |figure: Option<f64>| figure.map(f64::to_bits);
    let row = |row: &TablePoint| (row.at_c.to_bits(), row.duration_s.to_bits());
    duration_s.to_bits() == other.duration_s.to_bits()
        && *law == other.law
        && bits(*up_to_s) == bits(other.up_to_s)
        && bits(*at_c) == bits(other.at_c)
        && bits(*at_pct) == bits(other.at_pct)
        && bits(*energy_kj_per_mol) == bits(other.energy_kj_per_mol)
        && bits(*doubles_per_c) == bits(other.doubles_per_c)
        && bits(*floor_c) == bits(other.floor_c)
        && table.iter().map(row).eq(other.table.iter().map(row))
}
