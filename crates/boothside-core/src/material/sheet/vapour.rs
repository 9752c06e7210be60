//! The vapour of a material's solvent.

use serde::{Deserialize, Serialize};

use crate::fault::Faults;

/// The vapour of a material's solvent, for an estimate of its share of the lower flammable limit.
/// Limits differ between sources by up to 30 %, so the figure's origin goes with it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Vapour {
    /// Lower flammable limit (LEL) of the solvent's vapour in air, % by volume.
    pub lel_pct: f64,
    /// Vapour that a litre of the solvent gives, m³.
    pub m3_per_l: f64,
    /// Solvent in the mix as sprayed, % by volume. Where it is not set, all that is not solids
    /// counts as solvent, which errs to the safe side.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solvent_pct: Option<f64>,
    /// Where the figures come from, as the painter noted it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

impl Vapour {
    pub(super) fn check(&self, faults: &mut Faults) {
        faults.within_range("lel_pct", self.lel_pct, 0.1, 50.0);
        faults.within_range("m3_per_l", self.m3_per_l, 0.01, 2.0);
        faults.within_range("solvent_pct", self.solvent_pct, 0.0, 100.0);
    }
}
