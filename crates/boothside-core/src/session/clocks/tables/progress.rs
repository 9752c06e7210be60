//! How far one clock has come at each reading, and when it is due.

use std::collections::BTreeMap;

use super::ROUNDED;
use super::arrivals::Arrivals;
use super::path::Node;
use super::peaks::Peaks;
use super::sum::Sum;
use super::trail::Trail;
use crate::physics::rate::{AirPoint, Due, HAIR, RateClock};
use crate::session::time::Span;

/// A clock at a point of its track.
#[derive(Debug, Clone, Copy)]
struct At {
    /// The progress from the first point of its path.
    sum: Sum,
    rate: f64,
}

/// One clock over all points of a trail.
#[derive(Debug, Clone)]
pub(super) struct Progress {
    pub(super) clock: RateClock,
    at: Vec<At>,
    /// How far the screen had it when the next readings arrived, and a lead further on, after each
    /// arrival but the last.
    shown: BTreeMap<Span, Peaks>,
}

/// Where a start lies on a track.
pub(super) struct Placed {
    /// The first point after it.
    pub(super) next: usize,
    /// Progress from it to that point.
    first: f64,
}

impl Progress {
    pub(super) fn new(clock: RateClock) -> Self {
        Self { clock, at: Vec::new(), shown: BTreeMap::new() }
    }

    /// Goes on to the last point.
    pub(super) fn extend(&mut self, trail: &Trail) {
        for node in trail.nodes.since(self.at.len()) {
            let before = trail.nodes.get(node.before).filter(|_| node.depth > 1);
            let sum = before.zip(self.at.get(node.before)).map(|(before, at)| {
                at.sum.plus(self.clock.segment_progress(&before.point, &node.point))
            });
            let rate = self.clock.rate_in(&node.point);
            self.at.push(At { sum: sum.unwrap_or_default(), rate });
        }
    }

    /// Keeps what is known of the points of `trail`, whose last arrival is not the last any more.
    pub(super) fn truncate(&mut self, trail: &Trail) {
        self.at.truncate(trail.nodes.len());
        for shown in self.shown.values_mut() {
            shown.truncate(trail.len().saturating_sub(1));
        }
    }

    /// How far the screen had it with an edge announced `lead` before it is due: one figure for each
    /// arrival that another one followed. None is less than what was shown.
    pub(super) fn shown(&mut self, lead: Span, trail: &Trail, arrivals: &Arrivals) -> &Peaks {
        let Self { clock, at, shown } = self;
        let shown = shown.entry(lead).or_default();
        for arrived in shown.len() + 1..trail.len() {
            let tip =
                trail.tip(arrived).and_then(|tip| Some((trail.nodes.get(tip)?, at.get(tip)?)));
            let next = arrivals.known(arrived);
            let far = tip.zip(next).map(|((node, at), next)| {
                let until_s = next.plus(lead).plus(ROUNDED).seconds();
                let flat_s = (until_s - node.point.at_s).max(0.0);
                at.sum.value() + flat_s * at.rate / clock.duration_s()
            });
            shown.push(far.unwrap_or(f64::NEG_INFINITY));
        }
        shown
    }

    /// The air at a point, and how fast the clock runs in it.
    pub(super) fn rate(&self, trail: &Trail, number: usize) -> Option<(AirPoint, f64)> {
        Some((trail.nodes.get(number)?.point, self.at.get(number)?.rate))
    }

    /// The start on the track that ends at `tip`; nothing where no point is after it.
    pub(super) fn place(&self, trail: &Trail, tip: usize, start_s: f64) -> Option<Placed> {
        let next = trail.nodes.first(tip, |_, node| node.point.at_s > start_s)?;
        let node = trail.nodes.get(next)?;
        Some(Placed { next, first: self.first(trail, (next, node), start_s) })
    }

    fn first(&self, trail: &Trail, (next, node): (usize, &Node), start_s: f64) -> f64 {
        let before = trail.nodes.get(node.before).filter(|_| node.depth > 1);
        if before.is_some_and(|before| before.point.at_s.total_cmp(&start_s).is_eq()) {
            return self.between(node.before, next);
        }
        let here = trail.nodes.air_before(node, start_s);
        self.clock.segment_progress(&here, &node.point)
    }

    /// Progress from one point to a later one.
    fn between(&self, from: usize, to: usize) -> f64 {
        let ends = self.at.get(to).zip(self.at.get(from));
        ends.map_or(0.0, |(to, from)| to.sum.minus(from.sum))
    }

    /// The figure of [`Self::shown`] from which on a clock started there may have been shown.
    pub(super) fn wanted(&self, placed: &Placed, factor: f64) -> f64 {
        let sum = self.at.get(placed.next).map_or(0.0, |at| at.sum.value());
        let wanted = sum - placed.first + factor;
        // less by far more than rounding: what that finds too soon is looked at
        wanted - 1e-9 - 1e-12 * wanted.abs()
    }

    /// When progress from `start_s` reaches `wanted` on the track that ends at `tip`: the integral
    /// alone.
    pub(super) fn due(&self, trail: &Trail, tip: Option<usize>, start_s: f64, wanted: f64) -> Due {
        let Some((tip, last)) = tip.and_then(|tip| Some((tip, trail.nodes.get(tip)?))) else {
            return self.clock.due_in_unknown_air(start_s, wanted);
        };
        let placed = self.place(trail, tip, start_s);
        let placed = placed.and_then(|placed| Some((trail.nodes.get(placed.next)?, placed)));
        let Some((next, Placed { next: number, first })) = placed else {
            return self.clock.due_in_flat_air(&last.point, start_s, start_s, wanted);
        };
        if first + HAIR >= wanted {
            let here = trail.nodes.air_before(next, start_s);
            let reached = self.clock.reach_in_segment(&here, &next.point, wanted);
            return Due::At(reached.unwrap_or(next.point.at_s));
        }
        let left = wanted - first;
        let reached = |at: usize, node: &Node| {
            node.depth > next.depth && self.between(number, at) + HAIR >= left
        };
        let end = trail.nodes.first(tip, reached).and_then(|end| trail.nodes.get(end));
        let Some((end, before)) = end.and_then(|end| Some((end, trail.nodes.get(end.before)?)))
        else {
            let left = left - self.between(number, tip);
            return self.clock.due_in_flat_air(&last.point, start_s, last.point.at_s, left);
        };
        let left = left - self.between(number, end.before);
        let at_s = self.clock.reach_in_segment(&before.point, &end.point, left);
        Due::At(at_s.unwrap_or(end.point.at_s))
    }
}
