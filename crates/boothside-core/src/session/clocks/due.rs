//! When a clock of a session is due.

use super::latch::Run;
use super::tracks::Whose;
use super::{By, rate_clock};
use crate::material::timing::{LawName, Timing};
use crate::physics::rate::{self, Edge, NeverBecause, Rules};
use crate::session::state::State;
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

    /// A due time as it is shown: on the safe millisecond.
    pub(super) fn due_at(self, due: rate::Due) -> DueAt {
        match due {
            rate::Due::At(seconds) => DueAt::At(self.round(seconds)),
            rate::Due::Never(because) => DueAt::Never(because),
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

/// What tells when clocks are due: a session by what was read, or whoever supposes other air.
pub trait Dues {
    /// When the clock of `timing`, started at `start`, is due, for an edge that is announced `lead`
    /// before it is due: as a pot's last trigger is, before the end of its life. `factor` is the shop
    /// factor of an eye clock, 1 for all others.
    fn due_announced(
        &self,
        timing: &Timing,
        kind: Kind,
        start: Start,
        factor: f64,
        lead: Span,
    ) -> Due;

    /// The same for an edge that is announced when it is due.
    fn due(&self, timing: &Timing, kind: Kind, start: Start, factor: f64) -> Due {
        self.due_announced(timing, kind, start, factor, Span::default())
    }
}

impl Dues for By<'_> {
    fn due_announced(
        &self,
        timing: &Timing,
        kind: Kind,
        start: Start,
        factor: f64,
        lead: Span,
    ) -> Due {
        let Start { at: start, known } = start;
        let factor = if factor.is_finite() && factor > 0.0 { factor } else { 1.0 };
        if let Some(duration_s) = steady_s(timing, kind, self.rules) {
            return announced(kind, start, duration_s * factor);
        }
        let run = Run { kind, start, known, factor, lead };
        let (tables, asked) = (self.readings.tables(), self.asked(timing, kind));
        let Some(latched) = tables.latched(self.readings, asked, &run) else {
            // a checked sheet makes its clocks; were it not so, the stated time is what is known
            return announced(kind, start, timing.upper_s() * factor);
        };
        let at = kind.due_at(latched.due);
        let recomputed = latched.recomputed.map(|all| kind.due_at(all));
        Due { at, recomputed: recomputed.filter(|all| *all != at) }
    }
}

impl Dues for State {
    fn due_announced(
        &self,
        timing: &Timing,
        kind: Kind,
        start: Start,
        factor: f64,
        lead: Span,
    ) -> Due {
        self.by().due_announced(timing, kind, start, factor, lead)
    }
}

/// The duration of a clock that runs at rate 1 in any air, s.
fn steady_s(timing: &Timing, kind: Kind, rules: Rules) -> Option<f64> {
    if !matches!(timing.law, LawName::Steady | LawName::AsEarliest) {
        return None;
    }
    let clock = rate_clock(timing, kind, rules).ok()?;
    clock.is_steady().then_some(clock.duration_s())
}

fn announced(kind: Kind, start: Moment, duration_s: f64) -> Due {
    let span = Span::from_ms(kind.round(duration_s).ms());
    Due { at: DueAt::At(start.plus(span)), recomputed: None }
}
