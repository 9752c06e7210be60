//! Session time on this machine, put together: clocks, keeper, zone.

use boothside_core::session::entry::{Anchor as BootMark, Entry};
use boothside_core::session::time::{Moment, Span};
use chrono::{DateTime, FixedOffset, NaiveTime};

use super::clocks::paced::{Pace, PacedClock};
use super::clocks::session::{
    Anchor, Happened, Resumption, SessionClock, Tick, Timekeeper, boot_mark,
};
use super::clocks::wall::{LocalZone, WallStamp, Zone};
use super::clocks::{Clocks, Look};
use crate::update::desk::Times;
use crate::update::scene::Eye;

/// The clock that a session runs on.
pub enum Keeper {
    /// The machine's.
    Machine(Box<SessionClock>),
    /// A rehearsal's.
    Paced(Box<PacedClock>),
}

impl Keeper {
    fn as_dyn(&mut self) -> &mut dyn Timekeeper {
        match self {
            Self::Machine(clock) => clock.as_mut(),
            Self::Paced(clock) => clock.as_mut(),
        }
    }

    fn as_timekeeper(&self) -> &dyn Timekeeper {
        match self {
            Self::Machine(clock) => clock.as_ref(),
            Self::Paced(clock) => clock.as_ref(),
        }
    }

    fn stamp(&self) -> WallStamp {
        match self {
            Self::Machine(clock) => clock.stamp(),
            Self::Paced(clock) => clock.stamp(),
        }
    }

    /// The hand's time to wait until a moment of the session.
    fn hand_until(&self, moment: Moment) -> std::time::Duration {
        match self {
            Self::Machine(clock) => clock.hand_until(moment.ms()),
            Self::Paced(clock) => clock.hand_until(moment.ms()),
        }
    }
}

/// Session time on this machine.
pub struct Time {
    clocks: Box<dyn Clocks>,
    keeper: Keeper,
    zone: Box<dyn Zone>,
    /// The last tick.
    pub t: Moment,
    /// The hand's time of the last tick, ms.
    pub hand_ms: i64,
    /// The clock since boot at the last tick.
    seen: std::time::Duration,
}

impl Time {
    /// Time as `keeper` tells it by `clocks`, shown in this machine's zone.
    #[must_use]
    pub fn new(clocks: Box<dyn Clocks>, keeper: Keeper) -> Self {
        let (zone, seen) = (Box::new(LocalZone), std::time::Duration::ZERO);
        let mut time = Self { clocks, keeper, zone, t: Moment::OPENING, hand_ms: 0, seen };
        time.tick();
        time
    }

    /// The same time, shown in another zone.
    #[must_use]
    pub fn in_zone(mut self, zone: Box<dyn Zone>) -> Self {
        self.zone = zone;
        self
    }

    /// The time of a session that opens now.
    #[must_use]
    pub fn open(clocks: Box<dyn Clocks>) -> Self {
        let keeper = Keeper::Machine(Box::new(SessionClock::open(&clocks.read())));
        Self::new(clocks, keeper)
    }

    /// The time of a rehearsal that opens at `start` on its own wall.
    #[must_use]
    pub fn rehearse(clocks: Box<dyn Clocks>, start: DateTime<FixedOffset>, pace: Pace) -> Self {
        let clock = PacedClock::open(start.to_utc(), pace, &clocks.read());
        Self::new(clocks, Keeper::Paced(Box::new(clock)))
    }

    /// The time of a session with these entries; how it went on. `None` where no entry tells a
    /// time that can be read: session time then goes on from the last entry.
    #[must_use]
    pub fn resume(clocks: Box<dyn Clocks>, entries: &[Entry]) -> (Self, Option<Resumption>) {
        let look = clocks.read();
        let (clock, resumption) = match last_anchor(entries, &look) {
            Some(anchor) => {
                let (clock, resumption) = SessionClock::resume(&anchor, &look);
                (clock, Some(resumption))
            }
            None => (SessionClock::open(&look), None),
        };
        (Self::new(clocks, Keeper::Machine(Box::new(clock))), resumption)
    }

    /// Reads the clocks.
    pub fn tick(&mut self) -> Vec<Happened> {
        let look = self.look();
        self.tick_to(&look)
    }

    /// Looks at the clocks, and lets no time pass.
    #[must_use]
    pub fn look(&self) -> Look {
        self.clocks.read()
    }

    /// Goes on to a look that was taken where something was read. One that is older than the last
    /// tick moves nothing.
    pub fn tick_at(&mut self, look: &Look) -> Vec<Happened> {
        if look.since_boot < self.seen {
            return Vec::new();
        }
        self.tick_to(look)
    }

    fn tick_to(&mut self, look: &Look) -> Vec<Happened> {
        let Tick { t_ms, hand_ms, happened } = self.keeper.as_dyn().tick(look);
        self.t = Moment::from_ms(t_ms);
        self.hand_ms = hand_ms;
        self.seen = look.since_boot;
        happened
    }

    /// Session time and the hand's time, ms, when `look` was taken; not after the last tick.
    #[must_use]
    pub fn moment_of(&self, look: &Look) -> (Moment, i64) {
        let (t_ms, hand_ms) = self.keeper.as_timekeeper().at(look);
        (Moment::from_ms(t_ms), hand_ms)
    }

    /// How long the hand waits until a moment of the session.
    #[must_use]
    pub fn hand_until(&self, moment: Moment) -> std::time::Duration {
        self.keeper.hand_until(moment)
    }

    /// Where the machine's clocks stand; nothing in a rehearsal.
    #[must_use]
    pub fn boot_mark(&self) -> Option<BootMark> {
        match self.keeper {
            Keeper::Machine(_) => Some(boot_mark(&self.clocks.read())),
            Keeper::Paced(_) => None,
        }
    }

    /// Rehearsal: goes on to a moment.
    pub fn jump_to(&mut self, moment: Moment) {
        if let Keeper::Paced(clock) = &mut self.keeper {
            clock.jump_to(moment.ms());
        }
    }

    /// Rehearsal: runs so many times faster than the hand's time.
    pub fn set_pace(&mut self, times: f64) {
        if let (Keeper::Paced(clock), Ok(pace)) = (&mut self.keeper, Pace::new(times)) {
            clock.set_pace(pace);
        }
    }

    /// Whether it is a rehearsal's.
    #[must_use]
    pub const fn is_paced(&self) -> bool {
        matches!(self.keeper, Keeper::Paced(_))
    }
}

impl Eye for Time {
    fn wall(&self, moment: Moment) -> DateTime<FixedOffset> {
        self.keeper.stamp().wall_of(moment.ms(), self.zone.as_ref())
    }
}

impl Times for Time {
    fn at(&self, moment: Moment) -> String {
        self.keeper.stamp().at(moment.ms(), self.zone.as_ref())
    }

    fn last_at(&self, time: NaiveTime, now: Moment) -> Option<Moment> {
        let last = self.keeper.stamp().last_at(time, now.ms(), self.zone.as_ref());
        last.map(Moment::from_ms)
    }
}

/// The anchor of the last entry. Only the first entry of each start of the program carries the
/// machine's mark; within one start of the machine, session time and the clock since boot go
/// alike, so the mark is carried forward to the last entry.
fn last_anchor(entries: &[Entry], look: &Look) -> Option<Anchor> {
    let last = entries.iter().rev().find_map(|entry| Anchor::of_entry(entry).ok())?;
    let marked = entries.iter().rev().find(|entry| entry.anchor.is_some());
    let mark = marked.and_then(|entry| Some((entry.t_ms, entry.anchor.as_ref()?)));
    let newest = entries.last().map_or(last.t_ms, |entry| entry.t_ms.ms());
    Some(match mark {
        Some((t_ms, mark)) if !mark.boot.is_empty() && mark.boot == look.boot_id => Anchor {
            boot_id: mark.boot.clone(),
            // saturating: a log from anywhere may say anything
            since_boot_ms: mark.since_boot_ms.saturating_add(newest.saturating_sub(t_ms.ms())),
            t_ms: newest,
            wall: last.wall,
        },
        Some((_, mark)) => Anchor { boot_id: mark.boot.clone(), t_ms: newest, ..last },
        None => Anchor { t_ms: newest, ..last },
    })
}

/// How long the program did not run, where the wall was believed.
#[must_use]
pub fn away(resumption: &Resumption) -> Option<Span> {
    match resumption {
        Resumption::SameBoot { .. } => None,
        Resumption::AfterReboot { elapsed_ms } | Resumption::BootUnknown { elapsed_ms } => {
            Some(Span::from_ms(*elapsed_ms))
        }
        Resumption::Held { .. } => Some(Span::from_ms(0)),
    }
}
