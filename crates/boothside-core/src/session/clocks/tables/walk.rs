//! The readings that are known, walked through for one temperature.

use super::arrivals::Arrival;
use crate::physics::rate::{AirPoint, humidity_between};
use crate::session::clocks::tracks::{Carried, Whose};
use crate::session::event::Reading;
use crate::session::time::Moment;

/// The readings known so far in the order in which they were taken, and what follows from each.
#[derive(Debug, Clone, Default)]
pub(super) struct Walk {
    readings: Vec<(Moment, usize, Reading)>,
    /// What is carried after each.
    carried: Vec<Carried>,
    /// How many points come before each.
    before: Vec<usize>,
    /// The points, humidity as it was read.
    points: Vec<AirPoint>,
    /// Those of them that have a humidity.
    humid: Vec<usize>,
    /// The first difference of the surface that counts.
    first: Option<f64>,
}

impl Walk {
    /// Takes the readings that arrived together. Returns the first point that may be otherwise.
    pub(super) fn take(&mut self, whose: Whose, arrived: &[Arrival]) -> usize {
        let mut from = self.readings.len();
        for arrival in arrived {
            let place = arrival.place();
            let at = self.readings.partition_point(|(at, tie, _)| (*at, *tie) < place);
            self.readings.insert(at, (place.0, place.1, arrival.taken.reading));
            from = from.min(at);
        }
        self.carry(from);
        let first = Carried::first(&self.carried).difference(whose);
        if first != self.first {
            // it holds for all readings before it as well
            self.first = first;
            from = 0;
        }
        self.points_from(whose, from)
    }

    fn carry(&mut self, from: usize) {
        self.carried.truncate(from);
        let mut carried = self.carried.last().copied().unwrap_or_default();
        for (_, _, reading) in self.readings.iter().skip(from) {
            carried.take(reading);
            self.carried.push(carried);
        }
    }

    /// Makes the points of the readings from `from` on anew.
    fn points_from(&mut self, whose: Whose, from: usize) -> usize {
        let kept = self.before.get(from).copied().unwrap_or(self.points.len());
        let was = self.next_humid(kept);
        self.before.truncate(from);
        self.points.truncate(kept);
        self.humid.truncate(self.humid.partition_point(|at| *at < kept));
        let first = Carried::first(&self.carried);
        for ((at, _, reading), carried) in self.readings.iter().zip(&self.carried).skip(from) {
            self.before.push(self.points.len());
            let Some(point) = carried.or(&first).point(whose, *at, reading) else { continue };
            if point.humidity.is_some() {
                self.humid.push(self.points.len());
            }
            self.points.push(point);
        }
        if was == self.next_humid(kept) {
            return kept;
        }
        // points without humidity take it from the next that has one
        let last = self.humid.partition_point(|at| *at < kept).checked_sub(1);
        last.and_then(|last| self.humid.get(last)).map_or(0, |last| last + 1)
    }

    /// The first point with a humidity that is not before the one at `from`.
    fn next_humid(&self, from: usize) -> Option<AirPoint> {
        let next = self.humid.partition_point(|at| *at < from);
        self.humid.get(next).and_then(|at| self.points.get(*at)).copied()
    }

    /// The points from the one at `from` on, each with its humidity or its neighbours'.
    pub(super) fn filled(&self, from: usize) -> impl Iterator<Item = AirPoint> + '_ {
        self.points.iter().enumerate().skip(from).map(|(index, point)| {
            if point.humidity.is_some() {
                return *point;
            }
            let next = self.humid.partition_point(|at| *at < index);
            let point_of = |at: Option<&usize>| at.and_then(|at| self.points.get(*at));
            let before = next.checked_sub(1).and_then(|before| self.humid.get(before));
            let (before, after) = (point_of(before), point_of(self.humid.get(next)));
            AirPoint { humidity: humidity_between(before, after, point.at_s), ..*point }
        })
    }
}
