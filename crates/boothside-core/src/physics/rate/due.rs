//! When a clock is due.

use super::{AirPoint, AirTrack, Law, RateClock};
use crate::units::Temperature;

/// A clock that would need longer than this is never due: a hundred years, s.
pub const HORIZON_S: f64 = 100.0 * 365.25 * 86_400.0;

/// What rounding leaves of a sum of progress: a clock that lacks no more has come. Else one that is
/// over at the very reading below its floor would stand until it is warm again.
pub(crate) const HAIR: f64 = 1e-12;

/// When a clock is due, on the time axis of its track.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Due {
    /// At this time, s.
    At(f64),
    /// Not in this air.
    Never(NeverBecause),
}

/// Why a clock never comes due if the air stays as it was read last.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NeverBecause {
    /// It does not run below the material's floor.
    BelowFloor {
        /// The temperature from which on it runs.
        floor: Temperature,
    },
    /// Nothing dries in saturated air.
    AirSaturated,
    /// The surface is no warmer than the dew point: nothing dries on it.
    SurfaceAtDewPoint,
    /// It would take longer than [`HORIZON_S`].
    TooSlow,
}

impl Due {
    /// The time, if it comes, s.
    #[must_use]
    pub const fn at_s(self) -> Option<f64> {
        match self {
            Self::At(at_s) => Some(at_s),
            Self::Never(_) => None,
        }
    }
}

impl RateClock {
    /// When the clock, started at `start_s`, has run its stated duration: where progress is 1.
    #[must_use]
    pub fn due(&self, track: &AirTrack, start_s: f64) -> Due {
        self.due_at_progress(track, start_s, 1.0)
    }

    /// When the clock's progress reaches `wanted` (1 is its stated duration).
    #[must_use]
    pub fn due_at_progress(&self, track: &AirTrack, start_s: f64, wanted: f64) -> Due {
        let Some(last) = track.points().last().filter(|_| !self.is_steady()) else {
            return self.due_in_unknown_air(start_s, wanted);
        };
        let flat_from_s = last.at_s.max(start_s);
        let mut left = wanted;
        for (a, b) in track.stretches(start_s, flat_from_s) {
            let piece = self.segment_progress(&a, &b);
            if piece + HAIR >= left {
                let at_s = self.reach_in_segment(&a, &b, left);
                return Due::At(at_s.unwrap_or(b.at_s));
            }
            left -= piece;
        }
        self.due_in_flat_air(last, start_s, flat_from_s, left)
    }

    /// The same without any reading: at rate 1.
    pub(crate) fn due_in_unknown_air(&self, start_s: f64, wanted: f64) -> Due {
        within_horizon(start_s, start_s + wanted * self.duration_s())
    }

    /// When a clock that started at `start_s` and has `left` to go at `from_s` is due in air that stays
    /// as it is.
    pub(crate) fn due_in_flat_air(
        &self,
        air: &AirPoint,
        start_s: f64,
        from_s: f64,
        left: f64,
    ) -> Due {
        let rate = self.rate_in(air);
        if rate > 0.0 {
            return within_horizon(start_s, from_s + left * self.duration_s() / rate);
        }
        Due::Never(self.never_because(air))
    }

    fn never_because(&self, air: &AirPoint) -> NeverBecause {
        if let Some(floor) = self.floor().filter(|_| self.stands_in(air)) {
            return NeverBecause::BelowFloor { floor };
        }
        match self.law() {
            Law::Water(law) if law.rate(air, None) > 0.0 => NeverBecause::SurfaceAtDewPoint,
            Law::Water(_) => NeverBecause::AirSaturated,
            Law::Steady | Law::Table(_) | Law::Warmth(_) => NeverBecause::TooSlow,
        }
    }
}

fn within_horizon(start_s: f64, at_s: f64) -> Due {
    if at_s - start_s <= HORIZON_S { Due::At(at_s) } else { Due::Never(NeverBecause::TooSlow) }
}
