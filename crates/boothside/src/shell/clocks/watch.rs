//! One look compared with the one before.

use chrono::{DateTime, FixedOffset, Utc};

use super::{Look, whole_ms};

/// A difference of the wall from the clock since boot that is told as a jump, in ms. Below it is
/// network time at its daily work.
const JUMP_MS: i64 = 2_000;
/// Network time may slew a clock by one part in this many and more is not expected: 500 ppm is the
/// kernel's own limit (Linux `adjtimex(2)`, `freq` ±32768000 scaled ppm).
const SLEW: i64 = 2_000;
/// A sleep that is told, in ms.
const SLEEP_MS: i64 = 5_000;

/// Milliseconds on the clock that counts sleep, from a given value on, never going back.
#[derive(Debug, Clone)]
pub(super) struct Onward {
    offset_ms: i64,
    pub(super) last_ms: i64,
}

impl Onward {
    pub(super) fn new(ms: i64, look: &Look) -> Self {
        Self { offset_ms: ms.saturating_sub(whole_ms(look.since_boot)), last_ms: ms }
    }

    /// A clock since boot that went back (a machine restored from a snapshot) goes on from here.
    pub(super) fn read(&mut self, look: &Look) -> i64 {
        let ms = whole_ms(look.since_boot).saturating_add(self.offset_ms);
        let back_ms = self.last_ms.saturating_sub(ms).max(0);
        self.offset_ms = self.offset_ms.saturating_add(back_ms);
        self.last_ms = self.last_ms.max(ms);
        self.last_ms
    }

    /// What the clock showed at a look that is older than the last reading.
    pub(super) fn at(&self, look: &Look) -> i64 {
        whole_ms(look.since_boot).saturating_add(self.offset_ms).min(self.last_ms)
    }

    /// Sets the clock forward, as of the last reading. Does nothing when `ms` is past.
    pub(super) fn forward_to(&mut self, ms: i64) {
        let by_ms = ms.saturating_sub(self.last_ms).max(0);
        self.offset_ms = self.offset_ms.saturating_add(by_ms);
        self.last_ms = self.last_ms.saturating_add(by_ms);
    }
}

/// Tells sleep from a wall that was set, by comparing each look with the one before.
#[derive(Debug, Clone)]
pub(super) struct Watch {
    awake_ms: i64,
    since_boot_ms: i64,
    wall: DateTime<Utc>,
}

/// What a look shows against the one before.
#[derive(Debug, Clone, Copy)]
pub(super) struct Noticed {
    pub(super) slept_ms: Option<i64>,
    pub(super) jumped_ms: Option<i64>,
}

impl Watch {
    pub(super) fn new(look: &Look) -> Self {
        Self {
            awake_ms: whole_ms(look.awake),
            since_boot_ms: whole_ms(look.since_boot),
            wall: look.wall.to_utc(),
        }
    }

    /// The wall's time of the last look.
    pub(super) const fn wall(&self) -> DateTime<Utc> {
        self.wall
    }

    pub(super) fn notice(&mut self, look: &Look) -> Noticed {
        let now = Self::new(look);
        let elapsed_ms = now.since_boot_ms.saturating_sub(self.since_boot_ms).max(0);
        let awake_ms = now.awake_ms.saturating_sub(self.awake_ms).max(0);
        let slept_ms = elapsed_ms.saturating_sub(awake_ms);
        let by_wall_ms = wall_since(self.wall.fixed_offset(), look);
        *self = now;
        Noticed {
            slept_ms: (slept_ms >= SLEEP_MS).then_some(slept_ms),
            jumped_ms: jump(by_wall_ms, elapsed_ms),
        }
    }
}

/// Milliseconds of the wall since `earlier`; negative where it stands before.
pub(super) fn wall_since(earlier: DateTime<FixedOffset>, look: &Look) -> i64 {
    look.wall.timestamp_millis().saturating_sub(earlier.timestamp_millis())
}

/// By how much the wall was set while `elapsed_ms` passed, unless slewing explains it.
pub(super) fn jump(by_wall_ms: i64, elapsed_ms: i64) -> Option<i64> {
    let by_ms = by_wall_ms.saturating_sub(elapsed_ms);
    let tolerated = JUMP_MS.saturating_add(elapsed_ms / SLEW);
    (by_ms.saturating_abs() > tolerated).then_some(by_ms)
}
