//! The recipe on a sheet.

use serde::{Deserialize, Serialize};

use crate::fault::{Bound, Faults};
use crate::material::flow_cup::FlowCup;

/// The basis on which the parts of a mix are stated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Parts by volume.
    Volume,
    /// Parts by weight.
    Weight,
}

/// What a component of a mix is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// The pigmented or resin part.
    Base,
    /// The part that starts the reaction; its meeting with the base is the pot's birth.
    Activator,
    /// Thinner, or water in a waterborne material.
    Reducer,
}

/// One component of a mix.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Component {
    /// What the can says.
    pub name: String,
    /// What it is in the mix.
    pub role: Role,
    /// Its parts in the ratio; 0 for a reducer that may be left out ('thin 0 to 10 %').
    pub parts: f64,
    /// Its density, g/mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_g_per_ml: Option<f64>,
    /// Most parts that the sheet allows of it, for a reducer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_parts: Option<f64>,
}

/// The recipe on the sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MixRule {
    /// Parts by volume or by weight.
    pub by: Basis,
    /// The components in the order in which they are poured.
    pub components: Vec<Component>,
    /// How far the ratio may be off, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance_pct: Option<f64>,
    /// Volume solids of the mix before any reducer, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solids_pct: Option<f64>,
    /// Mesh to strain through, µm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strain_um: Option<f64>,
    /// The flow cup's seconds for the mix as sprayed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flow_cup: Option<FlowCup>,
}

impl MixRule {
    pub(super) fn check(&self, faults: &mut Faults) {
        if self.components.is_empty() || self.components.len() > 8 {
            faults.add("components", format!("{} of them", self.components.len()), "1 to 8");
        }
        for (row, component) in self.components.iter().enumerate() {
            faults.within(format!("components[{row}]"), |faults| {
                faults.name("name", &component.name);
                component.check(faults);
                if self.components[..row].iter().any(|earlier| earlier.name == component.name) {
                    faults.add("name", &component.name, "a name that no other component has");
                }
            });
        }
        if !self.components.is_empty() && self.components.iter().all(Component::is_optional) {
            faults.add("components", "reducers alone", "a component with parts above 0");
        }
        faults.within_range("solids_pct", self.solids_pct, 1.0, 100.0);
        faults.within_range("tolerance_pct", self.tolerance_pct, 0.1, 50.0);
        faults.positive("strain_um", self.strain_um);
        if let Some(flow_cup) = &self.flow_cup {
            faults.within("flow_cup", |faults| flow_cup.check(faults));
        }
    }
}

impl Component {
    /// Whether a pot goes without it: a reducer of 0 parts, of which the sheet allows some.
    #[must_use]
    pub fn is_optional(&self) -> bool {
        let allowed = self.role == Role::Reducer && self.max_parts.is_some_and(|most| most > 0.0);
        allowed && self.parts <= 0.0
    }

    fn check(&self, faults: &mut Faults) {
        if self.role == Role::Reducer && self.max_parts.is_some_and(|most| most > 0.0) {
            faults.bounded("parts", self.parts, Bound::AtLeast(0.0), "0 or more");
        } else {
            faults.positive("parts", self.parts);
        }
        faults.within_range("density_g_per_ml", self.density_g_per_ml, 0.5, 5.0);
        let Some(max_parts) = self.max_parts else { return };
        if self.role == Role::Reducer {
            faults.rising(("parts", self.parts), ("max_parts", max_parts));
        } else {
            faults.add("max_parts", max_parts, "nothing, but for a reducer");
        }
    }
}
