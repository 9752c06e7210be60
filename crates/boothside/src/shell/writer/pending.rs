//! Which entries were sent and are not saved, as both sides of the channel see it.

use std::collections::BTreeSet;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Held for a moment only, never while the disk works.
#[derive(Debug, Default)]
pub(super) struct Pending(Mutex<BTreeSet<u64>>);

impl Pending {
    pub(super) fn add(&self, n: u64) {
        self.set().insert(n);
    }

    pub(super) fn done(&self, n: u64) {
        self.set().remove(&n);
    }

    pub(super) fn count(&self) -> usize {
        self.set().len()
    }

    pub(super) fn list(&self) -> Vec<u64> {
        self.set().iter().copied().collect()
    }

    fn set(&self) -> MutexGuard<'_, BTreeSet<u64>> {
        // a set of numbers is whole whatever happened to who held it
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
