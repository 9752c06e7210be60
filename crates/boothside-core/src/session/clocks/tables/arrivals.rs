//! The readings in the order in which they were entered.

use crate::session::state::Taken;
use crate::session::time::Moment;

/// A reading, and its place among those that were taken at the same moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Arrival {
    pub(super) taken: Taken,
    pub(super) tie: usize,
}

impl Arrival {
    /// Its place among all readings, in the order in which they were taken.
    pub(super) const fn place(&self) -> (Moment, usize) {
        (self.taken.at, self.tie)
    }
}

/// The readings by the moment from which they were known; those of one moment arrive together.
#[derive(Debug, Clone, Default)]
pub(super) struct Arrivals {
    in_order: Vec<Arrival>,
    /// Each moment at which something arrived, and where in `in_order` its readings end.
    groups: Vec<(Moment, usize)>,
}

impl Arrivals {
    fn of(readings: &[Taken]) -> Self {
        let mut in_order: Vec<Arrival> = Vec::with_capacity(readings.len());
        for taken in readings {
            let before = in_order.last().filter(|before| before.taken.at == taken.at);
            let tie = before.map_or(0, |before| before.tie + 1);
            in_order.push(Arrival { taken: *taken, tie });
        }
        in_order.sort_by_key(|arrival| arrival.taken.known);
        let mut groups: Vec<(Moment, usize)> = Vec::new();
        for (at, arrival) in in_order.iter().enumerate() {
            match groups.last_mut().filter(|(known, _)| *known == arrival.taken.known) {
                Some((_, end)) => *end = at + 1,
                None => groups.push((arrival.taken.known, at + 1)),
            }
        }
        Self { in_order, groups }
    }

    /// Takes the readings as they are now. Returns how many of the groups are as they were, from the
    /// first on.
    pub(super) fn refresh(&mut self, readings: &[Taken]) -> usize {
        let now = Self::of(readings);
        let same = self.in_order.iter().zip(&now.in_order).take_while(|(a, b)| a == b).count();
        let ends = self.groups.iter().zip(&now.groups);
        let kept = ends.take_while(|(a, b)| a == b && a.1 <= same).count();
        *self = now;
        kept
    }

    /// How many times something arrived.
    pub(super) fn len(&self) -> usize {
        self.groups.len()
    }

    /// When the group at `index` arrived.
    pub(super) fn known(&self, index: usize) -> Option<Moment> {
        self.groups.get(index).map(|(known, _)| *known)
    }

    /// How many groups arrived before the first that `late` holds for; it holds for all after that.
    pub(super) fn before(&self, late: impl Fn(Moment) -> bool) -> usize {
        self.groups.partition_point(|(known, _)| !late(*known))
    }

    /// The readings of the group at `index`.
    pub(super) fn group(&self, index: usize) -> &[Arrival] {
        let begins = index.checked_sub(1).and_then(|before| self.groups.get(before));
        let begins = begins.map_or(0, |(_, end)| *end);
        let ends = self.groups.get(index).map_or(begins, |(_, end)| *end);
        self.in_order.get(begins..ends).unwrap_or_default()
    }

    /// The readings of the first `groups`.
    pub(super) fn first(&self, groups: usize) -> &[Arrival] {
        let last = groups.checked_sub(1).and_then(|last| self.groups.get(last));
        let ends = last.map_or(0, |(_, end)| *end);
        self.in_order.get(..ends).unwrap_or_default()
    }
}
