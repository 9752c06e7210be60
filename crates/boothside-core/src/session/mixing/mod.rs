//! Mixing a pot: what was told of it, and where that leaves it.

mod ahead;
mod contents;
mod flow;
mod now;

pub use ahead::{NEAR_ML, done_by_pot_in_use};
pub use contents::{PotStory, pot_story};
pub use flow::{Advice, FlowNow, FlowVerdict, NoAdvice, SMALL_PCT, flow_now};
pub use now::{
    Container, Limited, MixNow, NoPlan, PotAmounts, Ratio, Thinned, TooCoarse, largest_pot,
    mix_now, mix_on_bench, need, planned_ml, pot_amounts, ratio,
};

use serde::{Deserialize, Serialize};

use super::stock::{FromCan, Lot};
use super::time::Moment;
use crate::material::recipe::Told;

/// One pour, as it was told.
#[derive(Debug, Clone, PartialEq)]
pub struct Pour {
    /// The component's name.
    pub component: String,
    /// How much went in.
    pub amount: Told,
    /// When.
    pub at: Moment,
    /// The entry that tells it.
    pub n: u64,
    /// From which can.
    pub can: Option<String>,
    /// Thinner in what came out of that can, a share by volume.
    pub thinner: f64,
}

/// A short component, and how much was asked without it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct LimitedBy {
    /// The component's name.
    pub component: String,
    /// How much was asked, mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub asked_ml: Option<f64>,
    /// How much was asked, g.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub asked_g: Option<f64>,
}

/// Mixed by the sheet's recipe, each pour untold.
#[derive(Debug, Clone, PartialEq)]
pub struct Fresh {
    /// How much, mL, where told.
    pub ml: Option<f64>,
    /// When.
    pub at: Moment,
    /// From which cans.
    pub cans: Vec<FromCan>,
}

/// Seconds in the flow cup.
#[derive(Debug, Clone, PartialEq)]
pub struct FlowReading {
    /// Seconds.
    pub seconds: f64,
    /// The cup's name.
    pub cup: String,
    /// When.
    pub at: Moment,
    /// How many pours were in the pot.
    pub pours: usize,
}

/// What went back to the can.
#[derive(Debug, Clone, PartialEq)]
pub struct Returned {
    /// How much, mL.
    pub ml: f64,
    /// How much, g, where the density of the mix can be told.
    pub g: Option<f64>,
    /// Reducer in it, a share by volume, where that can be told.
    pub thinner: Option<f64>,
    /// To which can.
    pub can: Option<String>,
    /// What the can held before the pot was poured from it, mL, where told.
    pub can_ml: Option<f64>,
    /// By how much that is more than was left, mL, where so.
    pub more_ml: Option<f64>,
    /// When.
    pub at: Moment,
}

/// What was told of mixing one pot.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mixing {
    /// The pot's letter.
    pub pot: String,
    /// Its layer, counted from 1.
    pub layer: u32,
    /// How much was wanted.
    pub wanted: Told,
    /// How much was asked, before a short component kept it smaller.
    pub asked: Told,
    /// That component's name.
    pub limited_by: Option<String>,
    /// What its container holds, mL, where told.
    pub container_ml: Option<f64>,
    /// The pours, first first.
    pub pours: Vec<Pour>,
    /// Mixed by the sheet's recipe, each pour untold: the whole pot, or a topping up.
    pub fresh: Vec<Fresh>,
    /// Lots, where told.
    pub lots: Vec<Lot>,
    /// Components whose lot was past its date when it was told.
    pub expired: Vec<String>,
    /// Seconds in the flow cup.
    pub flows: Vec<FlowReading>,
    /// What went back to the can.
    pub returned: Vec<Returned>,
    /// When all of it was in and stirred.
    pub stirred: Option<Moment>,
    /// When it was poured away, or the pot emptied.
    pub emptied: Option<Moment>,
}

impl Mixing {
    /// Whether pours or a stir are still to come.
    #[must_use]
    pub const fn is_open(&self) -> bool {
        self.stirred.is_none() && self.emptied.is_none()
    }

    /// Takes lots; a component's later lot stands beside the earlier one, for both are in the pot.
    pub(super) fn take_lots(&mut self, lots: &[Lot], today: &str) {
        for lot in lots {
            if lot.is_past(today) && !self.expired.contains(&lot.component) {
                self.expired.push(lot.component.clone());
            }
            if !self.lots.contains(lot) {
                self.lots.push(lot.clone());
            }
        }
    }
}
