//! How long a can keeps.

use serde::{Deserialize, Serialize};

use crate::fault::Faults;

/// Longest that a can keeps, months: none is vouched for longer, common practice, no source.
const MOST_MONTHS: f64 = 240.0;

/// Shelf life of the material, unmixed.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Shelf {
    /// From its making, unopened, months of the calendar; a fraction is a share of a month.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sealed_months: Option<f64>,
    /// From its opening, months of the calendar; a fraction is a share of a month.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opened_months: Option<f64>,
}

impl Shelf {
    pub(super) fn check(&self, faults: &mut Faults) {
        for (field, months) in
            [("sealed_months", self.sealed_months), ("opened_months", self.opened_months)]
        {
            faults.within_range(field, months, 0.1, MOST_MONTHS);
        }
    }
}
