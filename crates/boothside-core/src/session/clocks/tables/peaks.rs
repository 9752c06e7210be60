//! A list of numbers in which the first that is high enough is found without going through all.

/// Eight numbers make a block, eight blocks one of the next level.
const BITS: usize = 3;

/// Numbers, and the highest of every block of them.
#[derive(Debug, Clone, Default)]
pub(super) struct Peaks {
    /// The numbers first, then the highest of each block, until one block holds all.
    levels: Vec<Vec<f64>>,
}

impl Peaks {
    /// How many numbers there are.
    pub(super) fn len(&self) -> usize {
        self.levels.first().map_or(0, Vec::len)
    }

    /// One number more.
    pub(super) fn push(&mut self, value: f64) {
        let mut at = self.len();
        for level in &mut self.levels {
            match level.get_mut(at) {
                Some(high) => *high = high.max(value),
                None => level.push(value),
            }
            at >>= BITS;
        }
        if self.levels.is_empty() {
            self.levels.push(vec![value]);
        }
        self.close();
    }

    /// Keeps the first `len` numbers.
    pub(super) fn truncate(&mut self, len: usize) {
        if len >= self.len() {
            return;
        }
        if let Some(numbers) = self.levels.first_mut() {
            numbers.truncate(len);
        }
        let mut blocks = len;
        for upper in 1..self.levels.len() {
            blocks = blocks.div_ceil(1 << BITS);
            let (lower, rest) = self.levels.split_at_mut(upper);
            let (Some(lower), Some(level)) = (lower.last(), rest.first_mut()) else { return };
            level.truncate(blocks);
            let begins = blocks.saturating_sub(1) << BITS;
            if let Some(last) = level.last_mut() {
                *last = highest(lower.get(begins..).unwrap_or_default());
            }
        }
        while self.levels.len() > 1
            && self.levels.iter().rev().nth(1).is_some_and(|it| it.len() < 2)
        {
            self.levels.pop();
        }
    }

    /// The place, at `from` or after, of the first number that is `wanted` or more.
    pub(super) fn first(&self, from: usize, wanted: f64) -> Option<usize> {
        let (mut at, mut level) = (from, 0);
        while at < self.len() {
            let highest =
                self.levels.get(level).and_then(|blocks| blocks.get(at >> (BITS * level)));
            if highest.is_some_and(|highest| *highest >= wanted) {
                if level == 0 {
                    return Some(at);
                }
                level -= 1;
                continue;
            }
            at = ((at >> (BITS * level)) + 1) << (BITS * level);
            while level + 1 < self.levels.len() && at.is_multiple_of(1 << (BITS * (level + 1))) {
                level += 1;
            }
        }
        None
    }

    /// A level more where the last one has more than one block.
    fn close(&mut self) {
        if let Some(top) = self.levels.last().filter(|top| top.len() > 1) {
            let whole = highest(top);
            self.levels.push(vec![whole]);
        }
    }
}

fn highest(values: &[f64]) -> f64 {
    values.iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        /// Grown, cut back and grown again it finds what going through finds.
        #[test]
        fn the_first_is_the_one_that_going_through_finds(
            first in prop::collection::vec(0..50i32, 0..700),
            keep in 0..700usize,
            then in prop::collection::vec(0..50i32, 0..90),
            asked in prop::collection::vec((0..800usize, 0..60i32), 8),
        ) {
            let (mut peaks, mut plain) = (Peaks::default(), Vec::new());
            for value in &first {
                peaks.push(f64::from(*value));
                plain.push(*value);
            }
            peaks.truncate(keep);
            plain.truncate(keep);
            for value in &then {
                peaks.push(f64::from(*value));
                plain.push(*value);
            }
            prop_assert_eq!(peaks.len(), plain.len());
            for (from, wanted) in asked {
                let found = plain.iter().skip(from).position(|value| *value >= wanted);
                let found = found.map(|after| after + from);
                prop_assert_eq!(peaks.first(from, f64::from(wanted)), found);
            }
        }
    }
}
