//! The film and the coverage that a sheet states.

use serde::{Deserialize, Serialize};

use crate::fault::{Bound, Faults};

/// Combs, wheels and gauges of the trade end well below this, µm: common practice, no source.
const FILM_UM: (f64, f64) = (0.1, 5000.0);

/// Film that the sheet wants of one coat.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct FilmPerCoat {
    /// Least wet film, µm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wet_low_um: Option<f64>,
    /// Most wet film, µm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wet_high_um: Option<f64>,
    /// Least dry film, µm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_low_um: Option<f64>,
    /// Most dry film, µm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_high_um: Option<f64>,
}

/// Theoretical coverage: what a litre of the mix before any reducer covers, with nothing lost.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Coverage {
    /// Area a litre, m²/L.
    pub m2_per_l: f64,
    /// The dry film for which it is stated, µm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_um: Option<f64>,
}

impl FilmPerCoat {
    pub(super) fn check(&self, faults: &mut Faults) {
        let pairs = [
            (("wet_low_um", self.wet_low_um), ("wet_high_um", self.wet_high_um)),
            (("dry_low_um", self.dry_low_um), ("dry_high_um", self.dry_high_um)),
        ];
        for (low, high) in pairs {
            for (field, um) in [low, high] {
                faults.within_range(field, um, FILM_UM.0, FILM_UM.1);
            }
            faults.rising(low, high);
        }
    }
}

impl Coverage {
    /// Volume solids that cover so much, %; nothing where its film is not set. 1 L at 1 µm covers
    /// 1000 m², a litre being 10⁻³ m³, so `m2_per_l × at_um / 1000` of it is solids.
    #[must_use]
    pub fn solids_pct(&self) -> Option<f64> {
        Some(self.m2_per_l * self.at_um? / 10.0)
    }

    pub(super) fn check(&self, faults: &mut Faults) {
        faults.positive("m2_per_l", self.m2_per_l);
        faults.within_range("at_um", self.at_um, FILM_UM.0, FILM_UM.1);
        let Some(at_um) = self.at_um.filter(|um| *um > 0.0) else { return };
        let bound = Bound::Between { low: 10.0 / at_um, high: 1000.0 / at_um };
        let accepted = "what 1 to 100 % solids cover at at_um: 1 L at 1 µm covers 1000 m²";
        if self.m2_per_l > 0.0 {
            faults.bounded("m2_per_l", self.m2_per_l, bound, accepted);
        }
    }
}
