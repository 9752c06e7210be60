//! The number of the rules by which clocks bend.

use super::{Edge, Law};

/// The rules of a clock where its sheet's own word ends: a floor, the ends of a table, a surface
/// colder than the film. They change when the program learns better, and a session keeps the number
/// under which it was written, so that a clock which differs can be told.
///
/// 1: a floor stopped the law `warmth` alone, for maxima too; a table held its nearer end; a
/// surface did not count for the law `water`. 2: as [`super::RateClock`] says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rules(u32);

impl Rules {
    /// The rules of a log that names none.
    pub const FIRST: Self = Self(1);
    /// The rules of this program.
    pub const NOW: Self = Self(2);

    /// The rules with this number. One that this program does not know counts as its own.
    #[must_use]
    pub const fn numbered(number: u32) -> Self {
        if number <= Self::FIRST.0 { Self::FIRST } else { Self::NOW }
    }

    /// Their number.
    #[must_use]
    pub const fn number(self) -> u32 {
        self.0
    }

    /// Whether a floor stops such a clock.
    pub(super) fn floor_stops(self, law: &Law, edge: Edge) -> bool {
        match self {
            Self::FIRST => matches!(law, Law::Warmth(_)),
            _ => edge != Edge::Max,
        }
    }

    /// At which end of a table such a clock is carried on; the other is held.
    pub(super) fn carries_on(self, edge: Edge) -> Option<End> {
        match (self, edge) {
            (Self::FIRST, _) => None,
            (_, Edge::Bare | Edge::Min) => Some(End::Cold),
            (_, Edge::Max) => Some(End::Hot),
        }
    }

    /// Whether a surface colder than the film counts for such a clock.
    pub(super) fn heeds_surface(self, edge: Edge) -> bool {
        self != Self::FIRST && edge != Edge::Max
    }
}

/// An end of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    /// Its coldest row.
    Cold,
    /// Its hottest row.
    Hot,
}
