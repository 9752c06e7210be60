//! The readings of a session, and what is kept of them so that clocks need not go through all.

use std::fmt;
use std::ops::Deref;

use super::clocks::{AirAfter, Tables};
use super::event::Reading;
use super::state::Taken;
use super::time::Moment;

/// The readings in the order in which they were taken; those of one moment in the order of telling.
///
/// Equal to others where the readings are, and shown as the list of them.
#[derive(Clone, Default)]
pub struct Readings {
    taken: Vec<Taken>,
    /// What is known of the air after each.
    after: Vec<AirAfter>,
    tables: Tables,
}

impl fmt::Debug for Readings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.taken.fmt(f)
    }
}

impl PartialEq for Readings {
    fn eq(&self, other: &Self) -> bool {
        self.taken == other.taken
    }
}

impl Deref for Readings {
    type Target = [Taken];

    fn deref(&self) -> &[Taken] {
        &self.taken
    }
}

impl IntoIterator for Readings {
    type Item = Taken;
    type IntoIter = std::vec::IntoIter<Taken>;

    fn into_iter(self) -> Self::IntoIter {
        self.taken.into_iter()
    }
}

impl<'a> IntoIterator for &'a Readings {
    type Item = &'a Taken;
    type IntoIter = std::slice::Iter<'a, Taken>;

    fn into_iter(self) -> Self::IntoIter {
        self.taken.iter()
    }
}

impl FromIterator<Taken> for Readings {
    fn from_iter<I: IntoIterator<Item = Taken>>(iter: I) -> Self {
        let mut readings = Self::default();
        iter.into_iter().for_each(|taken| readings.add(taken));
        readings
    }
}

impl Readings {
    /// One reading more, after those taken at the same moment.
    pub fn add(&mut self, taken: Taken) {
        let at = self.taken.partition_point(|earlier| earlier.at <= taken.at);
        self.taken.insert(at, taken);
        self.after.truncate(at);
        for taken in self.taken.iter().skip(at) {
            let after = AirAfter::and(self.after.last(), taken);
            self.after.push(after);
        }
        self.tables.outdate();
    }

    /// None yet; what was reckoned for `earlier` is kept for where they come to be the same again.
    pub(super) fn anew(earlier: &mut Self) -> Self {
        let mut tables = std::mem::take(&mut earlier.tables);
        tables.outdate();
        Self { tables, ..Self::default() }
    }

    /// The air as last read: temperature, humidity and coldest surface, °C and %, each where known.
    #[must_use]
    pub fn air(&self) -> Option<Reading> {
        self.air_after(self.taken.len())
    }

    /// The same when only the first `count` of them were taken.
    #[must_use]
    pub fn air_after(&self, count: usize) -> Option<Reading> {
        let last = count.checked_sub(1)?;
        Some(self.after.get(last)?.air(&self.taken.get(last)?.reading))
    }

    /// The latest moment at which one was entered.
    #[must_use]
    pub fn last_known(&self) -> Option<Moment> {
        self.after.last().map(AirAfter::known)
    }

    /// When a pot's temperature was last read, not after `until`.
    pub(super) fn pot_read_until(&self, until: Moment) -> Option<Moment> {
        let last = self.taken.partition_point(|taken| taken.at <= until).checked_sub(1)?;
        self.after.get(last)?.pot_read()
    }

    pub(super) const fn tables(&self) -> &Tables {
        &self.tables
    }
}
