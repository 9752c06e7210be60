//! The one place where a moment is compared with 'now'.

use std::cell::Cell;

use super::time::Moment;

/// A look at the session at one moment. Every comparison of an edge with 'now' goes through it, so
/// that it knows the next moment at which anything that was decided here would come out otherwise.
#[derive(Debug)]
pub struct Watch {
    now: Moment,
    next: Cell<Option<Moment>>,
}

impl Watch {
    /// A look at `now`.
    #[must_use]
    pub const fn at(now: Moment) -> Self {
        Self { now, next: Cell::new(None) }
    }

    /// Whether `edge` is reached: not before it.
    pub fn reached(&self, edge: Moment) -> bool {
        if edge <= self.now {
            return true;
        }
        let sooner = self.next.get().is_none_or(|next| edge < next);
        if sooner {
            self.next.set(Some(edge));
        }
        false
    }

    /// The moment looked at.
    #[must_use]
    pub const fn now(&self) -> Moment {
        self.now
    }

    /// The first moment after this one at which an edge asked for is reached.
    #[must_use]
    pub const fn next_change(&self) -> Option<Moment> {
        self.next.get()
    }
}
