//! When a clock of a session is due.

use super::latch::latched;
use super::tracks::{Speed, Whose, track};
use super::{By, rate_clock};
use crate::material::timing::{LawName, Timing};
use crate::physics::rate::{self, AirTrack, Edge, Law, NeverBecause, Outside, RateClock, Water};
use crate::session::time::{Moment, Span};

/// What a clock is for, which settles its edge, its end of a stated range and its temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Predicts when a film dulls: the bare integral times the shop factor.
    Eye,
    /// The earliest of something on a part: recoat, handle, sand.
    Minimum,
    /// The latest of something on a part: the end of a window.
    Maximum,
    /// The same by the law of its gap's minimum, used to shorten it only.
    Shortened,
    /// A stand of a mixed pot.
    Stand,
    /// A pot's life.
    PotLife,
}

impl Kind {
    pub(super) const fn edge(self) -> Edge {
        match self {
            Self::Eye => Edge::Bare,
            Self::Minimum | Self::Stand => Edge::Min,
            Self::Maximum | Self::Shortened | Self::PotLife => Edge::Max,
        }
    }

    /// A range gives its upper end to minima, its lower end to maxima.
    pub(super) const fn takes_upper(self) -> bool {
        !matches!(self, Self::Maximum | Self::Shortened | Self::PotLife)
    }

    /// Whose temperature such a clock of this law follows.
    pub(super) const fn whose(self, law: LawName) -> Whose {
        match (self, law) {
            (Self::Eye | Self::Minimum, LawName::Water) => Whose::Film,
            (_, LawName::Water) => Whose::Air,
            (Self::Eye | Self::Minimum, _) => Whose::Coldest,
            (Self::Maximum | Self::Shortened, _) => Whose::Warmest,
            (Self::Stand | Self::PotLife, _) => Whose::Pot,
        }
    }

    fn round(self, seconds: f64) -> Moment {
        if self.takes_upper() {
            Moment::from_seconds_up(seconds)
        } else {
            Moment::from_seconds_down(seconds)
        }
    }
}

/// A due time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DueAt {
    /// Then.
    At(Moment),
    /// Not in this air.
    Never(NeverBecause),
}

impl DueAt {
    /// The moment, if it comes.
    #[must_use]
    pub const fn moment(self) -> Option<Moment> {
        match self {
            Self::At(moment) => Some(moment),
            Self::Never(_) => None,
        }
    }
}

/// When a clock is due, and what later readings make of an edge that was announced.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Due {
    /// When. What was announced stays announced.
    pub at: DueAt,
    /// Where a reading entered after the announcement makes it otherwise.
    pub recomputed: Option<DueAt>,
}

impl Due {
    /// The moment, if it comes.
    #[must_use]
    pub const fn moment(&self) -> Option<Moment> {
        self.at.moment()
    }
}

/// Where a clock starts, and since when that was known: nothing was announced before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Start {
    /// Its true start.
    pub at: Moment,
    /// When it was told; not before `at`.
    pub known: Moment,
}

impl Start {
    /// A start at `at` that was told at `known`.
    #[must_use]
    pub fn told(at: Moment, known: Moment) -> Self {
        Self { at, known: known.max(at) }
    }
}

impl From<Moment> for Start {
    fn from(at: Moment) -> Self {
        Self { at, known: at }
    }
}

/// When the clock of `timing`, started at `start`, is due. `factor` is the shop factor of an eye
/// clock, 1 for all others.
#[must_use]
pub fn due(timing: &Timing, kind: Kind, start: impl Into<Start>, factor: f64, by: By<'_>) -> Due {
    due_announced(timing, kind, start, factor, Span::default(), by)
}

/// The same for an edge that is announced `lead` before it is due: as a pot's last trigger is, before
/// the end of its life.
#[must_use]
pub fn due_announced(
    timing: &Timing,
    kind: Kind,
    start: impl Into<Start>,
    factor: f64,
    lead: Span,
    by: By<'_>,
) -> Due {
    let Start { at: start, known } = start.into();
    let Ok(clock) = rate_clock(timing, kind, by.rules) else {
        // a checked sheet makes its clocks; were it not so, the stated time is what is known
        return announced(kind, start, timing.upper_s() * factor);
    };
    if clock.is_steady() {
        return announced(kind, start, clock.duration_s() * factor);
    }
    let whose = kind.whose(timing.law);
    let run = Run { clock, kind, whose, start, known, factor, lead };
    let (seconds, was_latched) = latched(&run, by.readings);
    let at = run.due_at(seconds);
    let all = was_latched.then(|| run.due_at(run.edge_due(&track(by.readings.iter(), whose))));
    Due { at, recomputed: all.filter(|all| *all != at) }
}

fn announced(kind: Kind, start: Moment, duration_s: f64) -> Due {
    let span = Span::from_ms(kind.round(duration_s).ms());
    Due { at: DueAt::At(start.plus(span)), recomputed: None }
}

/// One running clock.
#[derive(Debug)]
pub(super) struct Run {
    pub(super) clock: RateClock,
    pub(super) kind: Kind,
    pub(super) whose: Whose,
    pub(super) start: Moment,
    /// When the start was told: nothing was announced before.
    pub(super) known: Moment,
    pub(super) factor: f64,
    /// How long before it is due it is announced.
    pub(super) lead: Span,
}

impl Run {
    pub(super) fn edge_due(&self, track: &AirTrack) -> rate::Due {
        rate::edge_due(&self.clock, track, self.start.seconds(), self.factor)
    }

    /// The edge that follows from an integral reached at `integral_s`.
    pub(super) fn edge_s(&self, integral_s: f64) -> f64 {
        let stated_s = self.start.seconds() + self.clock.duration_s();
        match self.kind.edge() {
            _ if self.clock.is_by_own_table() => integral_s,
            Edge::Bare => integral_s,
            Edge::Min => integral_s.max(stated_s),
            Edge::Max => integral_s.min(stated_s),
        }
    }

    /// Whether the screen showed the edge by `moment`: to its own millisecond, as the screen has it.
    pub(super) fn shown_by(&self, due: rate::Due, moment: Moment) -> bool {
        self.due_at(due).moment().is_some_and(|at| at.minus(self.lead) <= moment)
    }

    fn due_at(&self, due: rate::Due) -> DueAt {
        match due {
            rate::Due::At(seconds) => DueAt::At(self.kind.round(seconds)),
            rate::Due::Never(because) => DueAt::Never(because),
        }
    }
}

/// How the clock of `timing` runs by the last reading.
#[must_use]
pub fn speed(timing: &Timing, kind: Kind, by: By<'_>) -> Speed {
    let track = track(by.readings.iter(), kind.whose(timing.law));
    let last = track.points().last().copied();
    let Ok(clock) = rate_clock(timing, kind, by.rules) else {
        return Speed::Fixed;
    };
    if let Some(floor) = clock.floor().filter(|_| last.is_some_and(|air| clock.stands_in(&air))) {
        return Speed::BelowFloor { floor_c: floor.celsius() };
    }
    let now_c = last.map(|point| point.temperature.celsius());
    match (clock.law(), last) {
        (Law::Steady, _) => {
            timing.at_c.map_or(Speed::Fixed, |stated_c| Speed::StatedAt { stated_c, now_c })
        }
        (_, None) => Speed::AirNotKnown,
        (Law::Water(_), Some(air)) => match air.humidity {
            None => Speed::AirNotKnown,
            Some(humidity) if !Water::is_fitted_for(air.temperature, humidity) => {
                Speed::OutsideFit(clock.rate_in(&air))
            }
            Some(_) => Speed::Rate(clock.rate_in(&air)),
        },
        (_, Some(air)) => match clock.outside_table(air.temperature) {
            Some(Outside::CarriedOn) => Speed::CarriedOn(clock.rate_in(&air)),
            Some(Outside::Held) => Speed::HeldAtEnd(clock.rate_in(&air)),
            None => Speed::Rate(clock.rate_in(&air)),
        },
    }
}
