//! The mixed pot on a sheet: its stand and its life.

use serde::{Deserialize, Serialize};

use crate::fault::{Bound, Faults};
use crate::material::timing::Timing;

/// The stand after mixing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Induction {
    /// How long the mix stands.
    pub stand: Timing,
    /// Whether the stand counts in the pot's life, as the sheet says.
    pub inside_pot_life: bool,
}

/// How long a mixed pot may be used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PotLife {
    /// Life from birth.
    pub life: Timing,
    /// The end of the life that is kept for cleaning the gun, s.
    pub cleaning_reserve_s: f64,
}

impl PotLife {
    pub(super) fn check(&self, faults: &mut Faults) {
        faults.within("life", |faults| self.life.check(faults));
        let (reserve, life_s) = (self.cleaning_reserve_s, self.life.duration_s);
        let bound = if reserve < life_s { Bound::AtLeast(0.0) } else { Bound::Below(life_s) };
        let accepted = "0 or more, and less than the life";
        faults.bounded("cleaning_reserve_s", reserve, bound, accepted);
    }
}
