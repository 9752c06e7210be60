//! The clock of a rehearsal: session time runs faster than the hand's.

use std::str::FromStr;
use std::time::Duration;

use chrono::{DateTime, Utc};
use thiserror::Error;

use super::Look;
use super::session::{Happened, Tick, Timekeeper};
use super::wall::WallStamp;
use super::watch::{Onward, Watch};

/// How many times faster than the hand's time a rehearsal runs: more than 0, at most 100 000 (a
/// day in less than a second).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Pace(f64);

/// A pace that is not one.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("a pace is a number above 0 and at most 100000, such as 60; '{0}' is not")]
pub struct PaceError(String);

impl Pace {
    /// As fast as the hand.
    pub const EVEN: Self = Self(1.0);

    /// `times` as fast as the hand.
    ///
    /// # Errors
    /// `times` is not above 0 and at most 100 000.
    pub fn new(times: f64) -> Result<Self, PaceError> {
        if times > 0.0 && times <= 100_000.0 {
            Ok(Self(times))
        } else {
            Err(PaceError(times.to_string()))
        }
    }

    /// How many times faster than the hand.
    #[must_use]
    pub const fn times(self) -> f64 {
        self.0
    }
}

impl FromStr for Pace {
    type Err = PaceError;

    fn from_str(typed: &str) -> Result<Self, PaceError> {
        let refused = || PaceError(typed.to_owned());
        let times = typed.trim().parse().map_err(|_| refused())?;
        Self::new(times).map_err(|_| refused())
    }
}

/// Session time of a rehearsal.
///
/// The hand's time stays the machine's, so that taps, bell, fading and messages keep their speed. A
/// sleep of the machine counts, as everywhere; a wall that was set does not matter, for the wall of a
/// rehearsal is its own.
#[derive(Debug, Clone)]
pub struct PacedClock {
    hand: Onward,
    watch: Watch,
    pace: Pace,
    /// A moment of the hand and the session time that belongs to it, before or at the last tick.
    from_hand_ms: i64,
    from_t_ms: i64,
    t_ms: i64,
    start: DateTime<Utc>,
}

impl PacedClock {
    /// A rehearsal that opens now; `start` is the wall's time that it shows at its opening.
    #[must_use]
    pub fn open(start: DateTime<Utc>, pace: Pace, look: &Look) -> Self {
        Self {
            hand: Onward::new(0, look),
            watch: Watch::new(look),
            pace,
            from_hand_ms: 0,
            from_t_ms: 0,
            t_ms: 0,
            start,
        }
    }

    /// The pace.
    #[must_use]
    pub const fn pace(&self) -> Pace {
        self.pace
    }

    /// Goes on at another pace, from the last tick on.
    pub const fn set_pace(&mut self, pace: Pace) {
        self.begin_anew_at(self.t_ms);
        self.pace = pace;
    }

    /// Jumps forward to session time `t_ms`, as of the last tick; does nothing when that is past.
    pub const fn jump_to(&mut self, t_ms: i64) {
        if t_ms > self.t_ms {
            self.begin_anew_at(t_ms);
        }
    }

    const fn begin_anew_at(&mut self, t_ms: i64) {
        self.from_hand_ms = self.hand.last_ms;
        self.from_t_ms = t_ms;
        self.t_ms = t_ms;
    }

    fn paced(&self, hand_ms: i64) -> i64 {
        (hand_ms as f64 * self.pace.0) as i64
    }
}

impl Timekeeper for PacedClock {
    fn tick(&mut self, look: &Look) -> Tick {
        let hand_ms = self.hand.read(look);
        let since_ms = self.paced(hand_ms.saturating_sub(self.from_hand_ms));
        self.t_ms = self.t_ms.max(self.from_t_ms.saturating_add(since_ms));
        let slept = self.watch.notice(look).slept_ms.map(|ms| Happened::Slept {
            from_ms: self.t_ms.saturating_sub(self.paced(ms)),
            to_ms: self.t_ms,
        });
        Tick { t_ms: self.t_ms, hand_ms, happened: slept.into_iter().collect() }
    }

    /// Before the last jump or change of pace there is only that.
    fn at(&self, look: &Look) -> (i64, i64) {
        let hand_ms = self.hand.at(look);
        let since_ms = self.paced(hand_ms.saturating_sub(self.from_hand_ms).max(0));
        (self.from_t_ms.saturating_add(since_ms).min(self.t_ms), hand_ms)
    }

    fn hand_until(&self, t_ms: i64) -> Duration {
        let due_hand_ms = t_ms.saturating_sub(self.from_t_ms) as f64 / self.pace.0;
        let passed_ms = self.hand.last_ms.saturating_sub(self.from_hand_ms);
        if t_ms <= self.t_ms {
            return Duration::ZERO;
        }
        let wait_ms = (due_hand_ms.ceil() as i64).saturating_sub(passed_ms);
        // less than a millisecond may be left where the division rounds down
        Duration::from_millis(u64::try_from(wait_ms).unwrap_or(0).max(1))
    }

    fn stamp(&self) -> WallStamp {
        WallStamp::new(0, self.start)
    }
}

#[cfg(test)]
mod tests {
    use super::super::hand::HandClocks;
    use super::super::{Clocks, wall};
    use super::*;
    use proptest::prelude::*;

    fn at(rfc3339: &str) -> DateTime<chrono::FixedOffset> {
        DateTime::parse_from_rfc3339(rfc3339).unwrap()
    }

    fn rehearsal(times: f64) -> (HandClocks, PacedClock) {
        let clocks = HandClocks::at(at("2026-05-12T10:00:00-05:00"));
        let start = at("2026-01-05T08:00:00Z").to_utc();
        let clock = PacedClock::open(start, Pace::new(times).unwrap(), &clocks.read());
        (clocks, clock)
    }

    #[test]
    fn a_minute_of_the_hand_is_an_hour_at_pace_60() {
        let (clocks, mut clock) = rehearsal(60.0);
        clocks.advance(Duration::from_secs(60));
        let tick = clock.tick(&clocks.read());
        assert_eq!((tick.t_ms, tick.hand_ms), (3_600_000, 60_000));
        let shown = clock.stamp().at(tick.t_ms, &wall::UtcZone);
        assert_eq!(shown, "2026-01-05T09:00:00.000+00:00");
    }

    #[test]
    fn another_pace_holds_from_then_on() {
        let (clocks, mut clock) = rehearsal(60.0);
        clocks.advance(Duration::from_secs(10));
        clock.tick(&clocks.read());
        clock.set_pace(Pace::EVEN);
        clocks.advance(Duration::from_secs(10));
        assert_eq!(clock.tick(&clocks.read()).t_ms, 610_000);
    }

    #[test]
    fn jumps_go_forward_only() {
        let (clocks, mut clock) = rehearsal(10.0);
        clocks.advance(Duration::from_secs(1));
        clock.tick(&clocks.read());
        clock.jump_to(5_000);
        assert_eq!(clock.tick(&clocks.read()).t_ms, 10_000);
        clock.jump_to(60_000);
        assert_eq!(clock.tick(&clocks.read()).t_ms, 60_000);
        clocks.advance(Duration::from_secs(1));
        let tick = clock.tick(&clocks.read());
        assert_eq!((tick.t_ms, tick.hand_ms), (70_000, 2_000));
    }

    #[test]
    fn a_wall_that_was_set_does_not_matter_but_sleep_counts() {
        let (clocks, mut clock) = rehearsal(2.0);
        clocks.jump_wall(86_400_000);
        clocks.sleep(Duration::from_secs(60));
        let tick = clock.tick(&clocks.read());
        let slept = Happened::Slept { from_ms: 0, to_ms: 120_000 };
        assert_eq!(tick.happened, [slept]);
    }

    #[test]
    fn a_pace_that_is_not_one_is_refused() {
        for typed in ["0", "-1", "NaN", "inf", "100001", "fast"] {
            let told = Pace::from_str(typed).unwrap_err().to_string();
            assert!(told.contains(typed), "{told}");
        }
        assert_eq!(Pace::from_str(" 60 "), Pace::new(60.0));
    }

    proptest! {
        #[test]
        fn one_wait_reaches_the_moment_and_never_early_by_much(
            times in 0.01..2_000.0_f64,
            passed in 0..10_000_u64,
            ahead in 1..10_000_000_i64,
        ) {
            let (clocks, mut clock) = rehearsal(times);
            clocks.advance(Duration::from_millis(passed));
            let now = clock.tick(&clocks.read()).t_ms;
            let wait = clock.hand_until(now + ahead);
            clocks.advance(wait.saturating_sub(Duration::from_millis(2)));
            prop_assert!(clock.tick(&clocks.read()).t_ms < now + ahead || wait.as_millis() < 3);
            clocks.advance(wait.min(Duration::from_millis(2)) + Duration::from_millis(1));
            prop_assert!(clock.tick(&clocks.read()).t_ms >= now + ahead);
        }
    }
}
