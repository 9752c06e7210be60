//! Clocks that a test sets by hand.

use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use chrono::{DateTime, FixedOffset, TimeDelta};

use super::{Clocks, Look};

/// Clocks that stand still until a test moves them. Clones show the same time.
#[derive(Debug, Clone)]
pub struct HandClocks {
    look: Arc<Mutex<Look>>,
}

impl HandClocks {
    /// Clocks that stand at `wall`, an hour after the start named 'boot 1'.
    #[must_use]
    pub fn at(wall: DateTime<FixedOffset>) -> Self {
        let look = Look {
            awake: Duration::from_secs(3600),
            since_boot: Duration::from_secs(3600),
            wall,
            boot_id: "boot 1".to_owned(),
        };
        Self { look: Arc::new(Mutex::new(look)) }
    }

    /// Time passes, awake.
    pub fn advance(&self, span: Duration) {
        self.change(|look| {
            look.awake += span;
            look.since_boot += span;
            look.wall = moved(look.wall, to_delta(span));
        });
    }

    /// Time passes, asleep.
    pub fn sleep(&self, span: Duration) {
        self.change(|look| {
            look.since_boot += span;
            look.wall = moved(look.wall, to_delta(span));
        });
    }

    /// Someone, or network time, sets the wall by `ms` milliseconds.
    pub fn jump_wall(&self, ms: i64) {
        self.change(|look| look.wall = moved(look.wall, TimeDelta::milliseconds(ms)));
    }

    /// The machine is off for `span` and starts anew; the new start is named `boot_id`.
    pub fn reboot(&self, span: Duration, boot_id: &str) {
        self.change(|look| {
            look.awake = Duration::ZERO;
            look.since_boot = Duration::ZERO;
            look.wall = moved(look.wall, to_delta(span));
            boot_id.clone_into(&mut look.boot_id);
        });
    }

    fn change(&self, how: impl FnOnce(&mut Look)) {
        how(&mut self.look.lock().unwrap_or_else(PoisonError::into_inner));
    }
}

impl Clocks for HandClocks {
    fn read(&self) -> Look {
        self.look.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }
}

fn to_delta(span: Duration) -> TimeDelta {
    TimeDelta::from_std(span).unwrap_or(TimeDelta::MAX)
}

fn moved(wall: DateTime<FixedOffset>, by: TimeDelta) -> DateTime<FixedOffset> {
    wall.checked_add_signed(by).unwrap_or(wall)
}
