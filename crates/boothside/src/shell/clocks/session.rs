//! Looks at the machine's clocks become session time.

use std::time::Duration;

use boothside_core::session::entry::{Anchor as BootMark, Entry};
use chrono::{DateTime, FixedOffset, ParseError};
use serde::{Deserialize, Serialize};

use super::wall::WallStamp;
use super::watch::{Onward, Watch, jump, wall_since};
use super::{Look, whole_ms};

/// What an entry keeps of the clocks, so that session time goes on after a restart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Anchor {
    /// Which start of the machine; empty where it cannot be told.
    #[serde(default)]
    pub boot_id: String,
    /// Milliseconds since that start, sleep counted.
    #[serde(default)]
    pub since_boot_ms: i64,
    /// Session time.
    pub t_ms: i64,
    /// The wall's time (RFC 3339 in writing).
    pub wall: DateTime<FixedOffset>,
}

impl Anchor {
    /// The anchor that an entry of a log carries.
    ///
    /// # Errors
    /// The entry's `at` is not an RFC 3339 time.
    pub fn of_entry(entry: &Entry) -> Result<Self, ParseError> {
        let boot = entry.anchor.as_ref();
        Ok(Self {
            boot_id: boot.map(|mark| mark.boot.clone()).unwrap_or_default(),
            since_boot_ms: boot.map_or(0, |mark| mark.since_boot_ms),
            t_ms: entry.t_ms.ms(),
            wall: DateTime::parse_from_rfc3339(&entry.at)?,
        })
    }
}

/// The part of `look` that an entry stores beside its own times.
#[must_use]
pub fn boot_mark(look: &Look) -> BootMark {
    BootMark { boot: look.boot_id.clone(), since_boot_ms: whole_ms(look.since_boot) }
}

/// How session time went on when a session was opened again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Resumption {
    /// The machine has not been started anew: the clock that counts sleep answers.
    SameBoot {
        /// By how much the wall was set meanwhile, forward positive; 0 when it was not.
        wall_jumped_ms: i64,
    },
    /// The machine was started anew: the wall is believed.
    AfterReboot {
        /// How long ago the last entry was, by the wall.
        elapsed_ms: i64,
    },
    /// The log does not say which start of the machine it was written in, or this machine does not
    /// say: the wall is believed.
    BootUnknown {
        /// How long ago the last entry was, by the wall.
        elapsed_ms: i64,
    },
    /// The wall stands before the last entry: session time goes on from that entry, and how long ago
    /// it was is not known. When the wall is set right, session time catches up.
    Held {
        /// How far the wall is behind.
        behind_ms: i64,
    },
}

/// What the clocks showed to have happened since the last tick.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Happened {
    /// The machine was asleep. Session time went on.
    Slept {
        /// Session time of falling asleep.
        from_ms: i64,
        /// Session time of waking.
        to_ms: i64,
    },
    /// The wall was set, forward positive. Session time is as it was.
    WallJumped {
        /// By how much.
        by_ms: i64,
    },
    /// After [`Resumption::Held`] the wall was set right, and session time took what it had missed.
    CaughtUp {
        /// Session time before.
        from_ms: i64,
        /// Session time now.
        to_ms: i64,
    },
}

/// One reading of session time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tick {
    /// Session time: milliseconds since the session opened. Never goes back.
    pub t_ms: i64,
    /// The hand's time: milliseconds since the program started, sleep counted. Never goes back.
    pub hand_ms: i64,
    /// What happened since the last tick, in this order: sleep, a wall that was set, catching up.
    pub happened: Vec<Happened>,
}

/// What tells session time: the machine, or a rehearsal.
pub trait Timekeeper {
    /// Reads session time.
    fn tick(&mut self, look: &Look) -> Tick;
    /// Session time and the hand's time, ms, at a look not newer than the last tick.
    fn at(&self, look: &Look) -> (i64, i64);
    /// How long the hand waits, from the last tick on, until session time `t_ms`; zero when that is
    /// past.
    fn hand_until(&self, t_ms: i64) -> Duration;
    /// Which wall's time belongs to which session time, as of the last tick.
    fn stamp(&self) -> WallStamp;
}

/// Session time from the machine's clocks.
#[derive(Debug, Clone)]
pub struct SessionClock {
    session: Onward,
    hand: Onward,
    watch: Watch,
    held: Option<Mark>,
}

impl SessionClock {
    /// The clock of a session that opens now, at 0.
    #[must_use]
    pub fn open(look: &Look) -> Self {
        Self::standing_at(0, look)
    }

    /// The clock of a session whose last saved entry carries `anchor`.
    #[must_use]
    pub fn resume(anchor: &Anchor, look: &Look) -> (Self, Resumption) {
        let resumption = resumption(anchor, look);
        let elapsed_ms = match resumption {
            Resumption::SameBoot { .. } => {
                whole_ms(look.since_boot).saturating_sub(anchor.since_boot_ms)
            }
            Resumption::AfterReboot { elapsed_ms } | Resumption::BootUnknown { elapsed_ms } => {
                elapsed_ms
            }
            Resumption::Held { .. } => 0,
        };
        let mut clock = Self::standing_at(anchor.t_ms.saturating_add(elapsed_ms), look);
        if matches!(resumption, Resumption::Held { .. }) {
            clock.held = Some(Mark { t_ms: anchor.t_ms, wall_ms: anchor.wall.timestamp_millis() });
        }
        (clock, resumption)
    }

    /// What an entry made at the last tick has to keep.
    #[must_use]
    pub fn anchor(&self, look: &Look) -> Anchor {
        Anchor {
            boot_id: look.boot_id.clone(),
            since_boot_ms: whole_ms(look.since_boot),
            t_ms: self.session.last_ms,
            wall: look.wall,
        }
    }

    fn standing_at(t_ms: i64, look: &Look) -> Self {
        Self {
            session: Onward::new(t_ms, look),
            hand: Onward::new(0, look),
            watch: Watch::new(look),
            held: None,
        }
    }

    /// Session time that the wall gives back after it had been held, if it does.
    fn catch_up(&mut self, wall_ms: i64) -> Option<Happened> {
        let held = self.held?;
        let to_ms = held.t_ms.saturating_add(wall_ms.saturating_sub(held.wall_ms));
        let from_ms = self.session.last_ms;
        if to_ms <= from_ms {
            return None;
        }
        self.held = None;
        self.session.forward_to(to_ms);
        Some(Happened::CaughtUp { from_ms, to_ms })
    }
}

impl Timekeeper for SessionClock {
    fn tick(&mut self, look: &Look) -> Tick {
        let t_ms = self.session.read(look);
        let noticed = self.watch.notice(look);
        let mut happened = Vec::new();
        if let Some(slept_ms) = noticed.slept_ms {
            happened.push(Happened::Slept { from_ms: t_ms.saturating_sub(slept_ms), to_ms: t_ms });
        }
        if let Some(by_ms) = noticed.jumped_ms {
            happened.push(Happened::WallJumped { by_ms });
            happened.extend(self.catch_up(look.wall.timestamp_millis()));
        }
        Tick { t_ms: self.session.last_ms, hand_ms: self.hand.read(look), happened }
    }

    fn at(&self, look: &Look) -> (i64, i64) {
        (self.session.at(look), self.hand.at(look))
    }

    fn hand_until(&self, t_ms: i64) -> Duration {
        let wait = t_ms.saturating_sub(self.session.last_ms);
        Duration::from_millis(u64::try_from(wait).unwrap_or(0))
    }

    fn stamp(&self) -> WallStamp {
        WallStamp::new(self.session.last_ms, self.watch.wall())
    }
}

fn resumption(anchor: &Anchor, look: &Look) -> Resumption {
    let since_boot_ms = whole_ms(look.since_boot);
    let by_wall_ms = wall_since(anchor.wall, look);
    let told = !anchor.boot_id.is_empty() && !look.boot_id.is_empty();
    let by_boot_ms = since_boot_ms.saturating_sub(anchor.since_boot_ms);
    // a clock since boot that stands before the anchor's is not of the same start, whatever its name
    if told && anchor.boot_id == look.boot_id && by_boot_ms >= 0 {
        let wall_jumped_ms = jump(by_wall_ms, by_boot_ms).unwrap_or(0);
        return Resumption::SameBoot { wall_jumped_ms };
    }
    match (by_wall_ms < 0, told) {
        (true, _) => Resumption::Held { behind_ms: by_wall_ms.saturating_neg() },
        (false, true) => Resumption::AfterReboot { elapsed_ms: by_wall_ms },
        (false, false) => Resumption::BootUnknown { elapsed_ms: by_wall_ms },
    }
}

/// A session time and the wall's time that belongs to it.
#[derive(Debug, Clone, Copy)]
struct Mark {
    t_ms: i64,
    wall_ms: i64,
}

#[cfg(test)]
mod tests;
