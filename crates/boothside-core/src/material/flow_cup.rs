//! What the sheet says of the flow cup: which cup, how many seconds, at which temperature.

use serde::{Deserialize, Serialize};

use crate::fault::Faults;
use crate::physics::viscosity::{CUPS, Cup};

/// The sheet's flow-cup seconds for the mix as sprayed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct FlowCup {
    /// The cup's name, such as `iso-4`.
    pub cup: String,
    /// Fewest seconds.
    pub low_s: f64,
    /// Most seconds.
    pub high_s: f64,
    /// The temperature for which they are stated, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_c: Option<f64>,
    /// By how much the seconds fall for every further percent of reducer in the mix, %, where the
    /// sheet tells.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub falls_pct: Option<f64>,
}

impl FlowCup {
    /// The cup itself; nothing for a name that no cup has.
    #[must_use]
    pub fn cup(&self) -> Option<Cup> {
        Cup::named(&self.cup).ok()
    }

    /// Notes what does not fit.
    pub(super) fn check(&self, faults: &mut Faults) {
        if self.cup().is_none() {
            let names: Vec<&str> = CUPS.iter().map(Cup::name).collect();
            faults.add("cup", &self.cup, &format!("one of {}", names.join(", ")));
        }
        faults.within_range("low_s", self.low_s, 1.0, 600.0);
        faults.within_range("high_s", self.high_s, 1.0, 600.0);
        faults.rising(("low_s", self.low_s), ("high_s", self.high_s));
        faults.within_range("at_c", self.at_c, -10.0, 60.0);
        faults.within_range("falls_pct", self.falls_pct, 0.1, 50.0);
    }
}
