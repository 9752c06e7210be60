//! The cans on the shelf as a session sees them: which there are, which is drawn from, what is left.

mod ahead;
mod choice;
mod level;
mod moves;

pub use ahead::{CanAhead, CanNow, cans_ahead};
pub use choice::{can_for, can_of_pot, cans_of, is_past, overdrawn, past_cans, taken, thinner_for};
pub use level::{Densities, Level, Move, Moved, level, level_of};
pub use moves::{moves, moves_of};

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::time::Moment;
use crate::material::date;
use crate::material::recipe::Told;

/// A maker's lot of one component.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Lot {
    /// The component's name.
    pub component: String,
    /// The maker's number.
    pub lot: String,
    /// Until when the maker vouches for it: `2027-03` or `2027-03-15`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
}

impl Lot {
    /// Whether its date is past on the day `today` (`2026-05-12`, or a longer RFC 3339 text).
    #[must_use]
    pub fn is_past(&self, today: &str) -> bool {
        self.until.as_deref().is_some_and(|until| date::is_past(until, today))
    }
}

/// A can as the machine saw it at the opening or when the session went on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SeenCan {
    /// The can's file.
    pub can: String,
    /// What is written on it.
    pub name: String,
    /// The name of its material's sheet.
    pub sheet: String,
    /// The name of its component.
    pub component: String,
    /// The maker's number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lot: Option<String>,
    /// Until when the maker vouches for it: `2027-03` or `2027-03-15`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
    /// The end of that day or month, where the zone tells it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until_ms: Option<Moment>,
    /// When it was opened, in the form of `until`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opened: Option<String>,
    /// What was counted in it, less what other sessions drew since, mL. This session's own draws
    /// follow from its entries, so that taking one back gives it back.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left_ml: Option<f64>,
    /// The same, g.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left_g: Option<f64>,
    /// When it was counted: what this session drew before is in the count.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counted_ms: Option<Moment>,
    /// Thinner in it, % by volume, by the same reckoning.
    #[serde(default, skip_serializing_if = "is_none_of_it")]
    pub thinner_pct: f64,
}

#[allow(clippy::trivially_copy_pass_by_ref)] // the shape that serde asks for
fn is_none_of_it(share: &f64) -> bool {
    *share == 0.0
}

/// Moments told by two looks at the wall are the same within this: clocks drift.
const SAME_MS: i64 = 120_000;

impl SeenCan {
    /// What was left in it, without this session's own draws.
    #[must_use]
    pub const fn left(&self) -> Told {
        Told { g: self.left_g, ml: self.left_ml }
    }

    /// Its lot, where one is written on it.
    #[must_use]
    pub fn lot(&self) -> Option<Lot> {
        let (component, until) = (self.component.clone(), self.until.clone());
        self.lot.clone().map(|lot| Lot { component, lot, until })
    }

    /// Whether `other` says the same of it.
    fn is_same(&self, other: &Self) -> bool {
        let near = |one: Option<Moment>, other: Option<Moment>| match (one, other) {
            (Some(one), Some(other)) => one.since(other).ms().abs() <= SAME_MS,
            (one, other) => one == other,
        };
        let times = near(self.until_ms, other.until_ms) && near(self.counted_ms, other.counted_ms);
        let (until_ms, counted_ms) = (other.until_ms, other.counted_ms);
        times && Self { until_ms, counted_ms, ..self.clone() } == *other
    }
}

/// A can from which a component was taken in one go with the others. Of several cans of one component
/// all but the last tell how much: what was left in them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct FromCan {
    /// The component's name.
    pub component: String,
    /// The can's file.
    pub can: String,
    /// How much, mL; in neither unit for all that the recipe's parts ask, or the rest of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub amount_ml: Option<f64>,
    /// How much, g.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub amount_g: Option<f64>,
    /// Thinner in it then, % by volume.
    #[serde(default, skip_serializing_if = "is_none_of_it")]
    pub thinner_pct: f64,
}

impl FromCan {
    /// How much was taken, where that is told.
    #[must_use]
    pub const fn amount(&self) -> Option<Told> {
        match (self.amount_ml, self.amount_g) {
            (None, None) => None,
            (ml, g) => Some(Told { g, ml }),
        }
    }
}

/// Which can the painter took for a component.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picked {
    /// The can's file; nothing for one that is not on the shelf.
    pub can: Option<String>,
    /// When.
    pub at: Moment,
}

/// What is known of cans.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stock {
    /// Every can that was seen, as it was seen last, by its file.
    pub cans: BTreeMap<String, SeenCan>,
    /// The cans that were on the shelf when it was looked at last.
    pub shelf: Vec<String>,
    /// Which can the painter took, by sheet and component.
    pub picked: BTreeMap<(String, String), Picked>,
}

impl Stock {
    /// The can in this file.
    #[must_use]
    pub fn can(&self, can: &str) -> Option<&SeenCan> {
        self.cans.get(can)
    }

    /// The cans on the shelf.
    pub fn on_shelf(&self) -> impl Iterator<Item = &SeenCan> {
        self.shelf.iter().filter_map(|can| self.can(can))
    }

    /// Whether the shelf was seen as `cans` already.
    #[must_use]
    pub fn is_as(&self, cans: &[SeenCan]) -> bool {
        self.shelf.len() == cans.len()
            && cans.iter().zip(self.on_shelf()).all(|(now, seen)| now.is_same(seen))
    }

    pub(super) fn seen(&mut self, cans: &[SeenCan]) {
        self.shelf = cans.iter().map(|seen| seen.can.clone()).collect();
        self.cans.extend(cans.iter().map(|seen| (seen.can.clone(), seen.clone())));
    }
}
