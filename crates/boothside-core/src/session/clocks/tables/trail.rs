//! The tracks of one temperature as they were known, from the first arrival of readings to the last.

use super::arrivals::{Arrival, Arrivals};
use super::path::Nodes;
use super::peaks::Peaks;
use super::walk::Walk;
use crate::physics::rate::AirPoint;
use crate::session::clocks::tracks::Whose;
use crate::session::time::Moment;

/// Whose temperature it is; for a pot, until when a pot's temperature was another pot's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Of {
    pub(super) whose: Whose,
    pub(super) not_its_own: Option<Moment>,
}

/// What was known after an arrival.
#[derive(Debug, Clone, Copy)]
struct Version {
    /// The last point; nothing while there is none.
    tip: Option<usize>,
    /// How many points were made until then.
    made: usize,
}

/// The tracks.
#[derive(Debug, Clone)]
pub(in crate::session::clocks) struct Trail {
    pub(super) of: Of,
    pub(super) nodes: Nodes,
    versions: Vec<Version>,
    /// How many points each version has in common with the one before it, below 0: the highest is
    /// where the most was made anew.
    lost: Peaks,
    walk: Walk,
    /// The numbers of the last version's points.
    path: Vec<usize>,
    pub(super) idle: u32,
}

impl Trail {
    pub(super) fn new(of: Of) -> Self {
        Self {
            of,
            nodes: Nodes::default(),
            versions: Vec::new(),
            lost: Peaks::default(),
            walk: Walk::default(),
            path: Vec::new(),
            idle: 0,
        }
    }

    /// Takes what arrived since.
    pub(super) fn extend(&mut self, arrivals: &Arrivals) {
        for index in self.versions.len()..arrivals.len() {
            let group: Vec<Arrival> = self.own(arrivals.group(index)).collect();
            let from = self.walk.take(self.of.whose, &group);
            self.version(from);
        }
    }

    /// The track as it is now, its points otherwise from the one at `from` on.
    fn version(&mut self, from: usize) {
        let same = |(number, point): &(&usize, AirPoint)| {
            self.nodes.get(**number).is_some_and(|node| node.point == *point)
        };
        let old = self.path.iter().skip(from);
        let kept = from + old.zip(self.walk.filled(from)).take_while(same).count();
        self.path.truncate(kept);
        for point in self.walk.filled(kept) {
            let number = self.nodes.push(self.path.last().copied(), point);
            self.path.push(number);
        }
        self.lost.push(-(kept as f64));
        self.versions.push(Version { tip: self.path.last().copied(), made: self.nodes.len() });
    }

    /// Keeps what follows from the first `groups` arrivals.
    pub(super) fn truncate(&mut self, groups: usize, arrivals: &Arrivals) {
        if groups >= self.versions.len() {
            return;
        }
        self.versions.truncate(groups);
        self.lost.truncate(groups);
        let last = self.versions.last();
        self.nodes.truncate(last.map_or(0, |version| version.made));
        self.path.clear();
        let mut next = last.and_then(|version| version.tip);
        while let Some((at, node)) = next.and_then(|at| Some((at, self.nodes.get(at)?))) {
            self.path.push(at);
            next = Some(node.before).filter(|before| *before != at);
        }
        self.path.reverse();
        self.walk = Walk::default();
        let known: Vec<Arrival> = self.own(arrivals.first(groups)).collect();
        self.walk.take(self.of.whose, &known);
    }

    /// The readings as its owner knows them.
    fn own<'a>(&self, arrived: &'a [Arrival]) -> impl Iterator<Item = Arrival> + use<'a> {
        let not_its_own = self.of.not_its_own;
        arrived.iter().map(move |arrival| {
            let mut own = *arrival;
            if not_its_own.is_some_and(|until| own.taken.at <= until) {
                own.taken.reading.pot_c = None;
            }
            own
        })
    }

    /// How many arrivals it has taken.
    pub(super) fn len(&self) -> usize {
        self.versions.len()
    }

    /// The last point that was known after `arrived` arrivals.
    pub(super) fn tip(&self, arrived: usize) -> Option<usize> {
        self.versions.get(arrived.checked_sub(1)?)?.tip
    }

    /// After how many arrivals, more than `arrived`, the point of that depth is first another.
    pub(super) fn kept_until(&self, arrived: usize, depth: usize) -> Option<usize> {
        let lost = self.lost.first(arrived, 1.0 - depth as f64)?;
        Some(lost + 1)
    }

    /// The points as they are known now, by number.
    pub(super) fn path(&self) -> &[usize] {
        &self.path
    }

    /// The air as it is known now at two times and at the readings from the one to the other; nothing
    /// where none was taken.
    pub(in crate::session::clocks) fn air_over(&self, from_s: f64, to_s: f64) -> Vec<AirPoint> {
        let ends = [self.air_at(from_s), self.air_at(to_s)].into_iter().flatten();
        let begins = self.path.partition_point(|number| self.at_s(*number) < from_s);
        let inside = self.path.iter().skip(begins).map_while(|number| {
            self.nodes.get(*number).map(|node| node.point).filter(|point| point.at_s <= to_s)
        });
        ends.chain(inside).collect()
    }

    fn at_s(&self, number: usize) -> f64 {
        self.nodes.get(number).map_or(f64::INFINITY, |node| node.point.at_s)
    }

    fn air_at(&self, at_s: f64) -> Option<AirPoint> {
        let after = self.path.partition_point(|number| self.at_s(*number) <= at_s);
        match self.path.get(after).and_then(|number| self.nodes.get(*number)) {
            Some(next) => Some(self.nodes.air_before(next, at_s)),
            None => {
                let last = self.nodes.get(*self.path.last()?)?;
                Some(AirPoint { at_s, ..last.point })
            }
        }
    }
}
