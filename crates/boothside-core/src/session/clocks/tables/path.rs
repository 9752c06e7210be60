//! Tracks of the air as they were known, one after each arrival of readings, kept together: each is
//! a path through points, and shares its beginning with the one before it.

use crate::physics::rate::{AirPoint, between};

/// A point of one or more paths.
#[derive(Debug, Clone, Copy)]
pub(super) struct Node {
    /// The air there.
    pub(super) point: AirPoint,
    /// How many points its path has up to it.
    pub(super) depth: usize,
    /// The point before it; the first of a path has itself.
    pub(super) before: usize,
    /// One further back, so that a path is gone up in few steps.
    far: usize,
}

/// All the points; a point is named by its number.
#[derive(Debug, Clone, Default)]
pub(super) struct Nodes(Vec<Node>);

impl Nodes {
    pub(super) fn len(&self) -> usize {
        self.0.len()
    }

    pub(super) fn get(&self, at: usize) -> Option<&Node> {
        self.0.get(at)
    }

    pub(super) fn truncate(&mut self, len: usize) {
        self.0.truncate(len);
    }

    /// The points from the one numbered `from` on, in the order in which they were made.
    pub(super) fn since(&self, from: usize) -> &[Node] {
        self.0.get(from..).unwrap_or_default()
    }

    /// A point after the one numbered `before`, or the first of a path. Returns its number.
    pub(super) fn push(&mut self, before: Option<usize>, point: AirPoint) -> usize {
        let number = self.0.len();
        let node = match before.and_then(|at| Some((at, self.0.get(at)?))) {
            Some((at, last)) => {
                Node { point, depth: last.depth + 1, before: at, far: self.far_after(at, last) }
            }
            None => Node { point, depth: 1, before: number, far: number },
        };
        self.0.push(node);
        number
    }

    /// Where two leaps of one length meet, the next point leaps over both.
    fn far_after(&self, at: usize, last: &Node) -> usize {
        let leap = self.get(last.far);
        let second = leap.and_then(|leap| self.get(leap.far));
        match (leap, second) {
            (Some(leap), Some(second))
                if last.depth - leap.depth == leap.depth - second.depth && leap.depth > 1 =>
            {
                leap.far
            }
            _ => at,
        }
    }

    /// The first point of the path that ends at `tip` for which `holds`; it holds for all after that.
    pub(super) fn first(&self, tip: usize, holds: impl Fn(usize, &Node) -> bool) -> Option<usize> {
        let so = |at: usize| self.get(at).is_some_and(|node| holds(at, node));
        if !so(tip) {
            return None;
        }
        let mut at = tip;
        while let Some(node) = self.get(at) {
            if node.far != at && so(node.far) {
                at = node.far;
            } else if node.before != at && so(node.before) {
                at = node.before;
            } else {
                break;
            }
        }
        Some(at)
    }

    /// The air at a time before the point numbered `after` and not before the one before it.
    pub(super) fn air_before(&self, after: &Node, at_s: f64) -> AirPoint {
        match self.get(after.before).filter(|_| after.depth > 1) {
            Some(before) => between(&before.point, &after.point, at_s),
            None => AirPoint { at_s, ..after.point },
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::units::Temperature;

    proptest! {
        /// On any path the leaps find the point that going up one by one finds.
        #[test]
        fn leaps_find_what_steps_find(
            grown in prop::collection::vec((any::<prop::sample::Index>(), 0..4u8), 1..200),
            asked in prop::collection::vec((any::<prop::sample::Index>(), 0..220usize), 8),
        ) {
            let mut nodes = Nodes::default();
            for (branch, step) in &grown {
                // most go on from the last point, some from an earlier one, a few begin anew
                let before = match (nodes.len(), step) {
                    (0, _) => None,
                    (len, 0) => Some(branch.index(len)),
                    (len, _) => Some(len - 1),
                };
                nodes.push(before, AirPoint::new(0.0, Temperature::from_celsius(20.0), None));
            }
            for (tip, depth) in asked {
                let tip = tip.index(nodes.len());
                let found = nodes.first(tip, |_, node| node.depth >= depth);
                let mut steps = Some(tip).filter(|at| nodes.0[*at].depth >= depth);
                while let Some(at) = steps {
                    let before = nodes.0[at].before;
                    if before == at || nodes.0[before].depth < depth {
                        break;
                    }
                    steps = Some(before);
                }
                prop_assert_eq!(found, steps);
            }
        }
    }
}
