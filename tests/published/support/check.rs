//! A figure against its source: numbers, situations, worst error, tolerance.

use std::collections::BTreeSet;

/// How the source's value is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Status {
    /// Seen in the source or a faithful copy.
    Read,
    /// Run as a library elsewhere; the table holds its answers.
    Library,
    /// Our arithmetic on a formula that was read, or by another route.
    Computed,
    /// From memory: shows only that we compute what is remembered.
    Memory,
    /// An invented case of the trade, worked by hand.
    Invented,
    /// Common practice of the trade, without a source.
    Practice,
}

impl Status {
    /// Whether somebody else's figure stands on the other side.
    pub(crate) const fn is_outside(self) -> bool {
        matches!(self, Self::Read | Self::Library)
    }

    /// The word for the table of checks.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::Library => "library, run",
            Self::Computed => "computed",
            Self::Memory => "memory",
            Self::Invented => "invented case, worked by hand",
            Self::Practice => "common practice, no source",
        }
    }
}

/// How far off a case may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Tolerance {
    /// Relative to the wanted value.
    Relative(f64),
    /// Absolute, in the unit named.
    Absolute(f64, &'static str),
}

/// One figure checked against one source.
#[derive(Debug, Clone)]
pub(crate) struct Check {
    /// What is checked.
    pub(crate) figure: &'static str,
    /// Against what.
    pub(crate) source: &'static str,
    /// How that is known.
    pub(crate) status: Status,
    /// How far off it may be.
    pub(crate) tolerance: Tolerance,
    /// How many numbers were compared.
    pub(crate) numbers: usize,
    /// What was asked: two numbers of one question, or one in two units, are of one situation.
    pub(crate) situations: BTreeSet<String>,
    /// The worst error, in the sense of the tolerance.
    pub(crate) worst: f64,
    worst_case: String,
    least: usize,
}

impl Check {
    /// A check without cases yet.
    pub(crate) const fn new(
        figure: &'static str,
        source: &'static str,
        status: Status,
        tolerance: Tolerance,
    ) -> Self {
        Self {
            figure,
            source,
            status,
            tolerance,
            numbers: 0,
            situations: BTreeSet::new(),
            worst: 0.0,
            worst_case: String::new(),
            least: 1,
        }
    }

    /// Compares a number; `label` says of which situation it is. An invented case of the trade is one
    /// situation, however many of its numbers are worked out.
    pub(crate) fn case(&mut self, label: impl std::fmt::Display, got: f64, want: f64) {
        let invented = matches!(self.status, Status::Invented);
        let situation = if invented { self.source.to_owned() } else { label.to_string() };
        self.case_of(situation, label, got, want);
    }

    /// Compares a number of a situation that others share.
    pub(crate) fn case_of(
        &mut self,
        situation: impl Into<String>,
        label: impl std::fmt::Display,
        got: f64,
        want: f64,
    ) {
        let error = match self.tolerance {
            Tolerance::Relative(_) if want != 0.0 => ((got - want) / want).abs(),
            Tolerance::Relative(_) | Tolerance::Absolute(..) => (got - want).abs(),
        };
        assert!(error.is_finite(), "{}: {label}: got {got}, want {want}", self.figure);
        self.numbers += 1;
        self.situations.insert(situation.into());
        if error >= self.worst {
            self.worst = error;
            self.worst_case = format!("{label}: got {got}, want {want}");
        }
    }

    /// How many numbers there must be at least.
    #[must_use]
    pub(crate) const fn expecting(mut self, least: usize) -> Self {
        self.least = least;
        self
    }

    /// Fails unless there are as many numbers as expected and all are within the tolerance.
    pub(crate) fn assert_holds(&self) {
        let (limit, unit) = match self.tolerance {
            Tolerance::Relative(limit) => (limit, "relative"),
            Tolerance::Absolute(limit, unit) => (limit, unit),
        };
        assert!(self.numbers >= self.least, "{}: only {} numbers", self.figure, self.numbers);
        assert!(
            self.worst <= limit,
            "{} against {}: off by {:e} {unit} (allowed {limit:e}) at {}",
            self.figure,
            self.source,
            self.worst,
            self.worst_case
        );
    }
}
