//! A system: the ordered layers with their preparation and targets.

use serde::{Deserialize, Serialize};

use crate::fault::{Bound, Fault, Faults};
use crate::material::sheet::CureStage;
use crate::material::timing::Timing;
use crate::typed::{self, Typed};

/// What a step does to the surface, so that windows follow it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Does {
    /// Solvent wipe.
    Wipe,
    /// Scuff.
    Scuff,
    /// Sand.
    Sand,
    /// Plugs and masks go on, or after the last coat come off: they are counted.
    Mask,
}

/// Something to be done before spraying or after the last coat.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// Identifier within the system.
    pub id: String,
    /// What is done, as it can follow 'done: ', 'cleaned and rinsed'.
    pub name: String,
    /// The same as an order in 16 letters at most, 'clean all parts': what stands large.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub short: Option<String>,
    /// What must pass after it before work goes on: 'dry at least 12 h'.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<Timing>,
    /// The longest after it that the layer may begin, s: then it is done again.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub within_s: Option<f64>,
    /// What it does to the surface.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub does: Option<Does>,
    /// The stage of cure that every face must have reached first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after: Option<CureStage>,
}

/// How often a readiness check is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Each {
    /// Once before the layer.
    #[default]
    Layer,
    /// Once before each coat.
    Coat,
    /// Once for each pot of the layer, when it is in use.
    Pot,
    /// Once in each sitting: again after 8 h without a key, or with a new day's first work.
    Sitting,
}

/// Where a readiness check belongs, in the order of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Group {
    /// What is laid out before suiting up.
    LayOut,
    /// The surface.
    Surface,
    /// Air, part and paint temperatures.
    Air,
    /// The pot.
    Mix,
    /// The gun.
    Gun,
    /// Respirator, gloves, skin.
    Protection,
    /// Fan, filters, ignition sources, bonding.
    Booth,
    /// Plugs and masks.
    PlugsAndMasks,
}

/// A readiness check that the painter answers with a key.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Check {
    /// Identifier within the layer.
    pub id: String,
    /// What must be so, as it can follow 'yes: ', 'fan on, doors shut'.
    pub name: String,
    /// The same as a question in 16 letters at most, 'fan on?': what stands large.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub short: Option<String>,
    /// How often it is asked.
    #[serde(default)]
    pub each: Each,
    /// Where it belongs in the order of work.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<Group>,
}

impl Check {
    /// Where it belongs: where it says so, else with what is laid out before a layer, with the
    /// booth before a coat, with the mix of a pot, with protection in a sitting.
    #[must_use]
    pub fn belongs_to(&self) -> Group {
        self.group.unwrap_or(match self.each {
            Each::Layer => Group::LayOut,
            Each::Coat => Group::Booth,
            Each::Pot => Group::Mix,
            Each::Sitting => Group::Protection,
        })
    }

    /// How often it is asked, by its group too: what is checked of the mix was checked of one pot and
    /// says nothing of the next, so a check of the mix before a layer is asked for each pot.
    #[must_use]
    pub fn asked(&self) -> Each {
        match (self.each, self.group) {
            (Each::Layer, Some(Group::Mix)) => Each::Pot,
            (each, _) => each,
        }
    }

    /// Whether it is asked once paint is mixed: a test pattern, straining.
    #[must_use]
    pub fn needs_paint(&self) -> bool {
        matches!(self.belongs_to(), Group::Mix | Group::Gun) || self.each == Each::Pot
    }

    /// Whether it is asked of the fan: a check of the booth before each coat.
    #[must_use]
    pub fn is_of_the_fan(&self) -> bool {
        self.each == Each::Coat && self.belongs_to() == Group::Booth
    }

    /// The number of the coat under which its answer is kept: 0 where it is not asked before each.
    #[must_use]
    pub fn kept_under(&self, coat: u32) -> u32 {
        if self.each == Each::Coat { coat } else { 0 }
    }
}

/// One material in the system.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Layer {
    /// What the painter calls it: 'Primer'.
    pub name: String,
    /// Name of the sheet's file, without ending.
    pub sheet: String,
    /// Coats on every face, 1 to 12.
    pub coats: u32,
    /// Whether a coat is two passes at right angles.
    #[serde(default)]
    pub cross: bool,
    /// Dry film wanted a coat, µm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_um: Option<f64>,
    /// Least dry film of the layer, all coats, where one is specified, µm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_least_um: Option<f64>,
    /// Most dry film of the layer, all coats, where one is specified, µm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_most_um: Option<f64>,
    /// Steps before the layer.
    #[serde(default)]
    pub prep: Vec<Step>,
    /// Readiness checks before the layer and before its coats.
    #[serde(default)]
    pub ready: Vec<Check>,
}

/// The ordered layers with their preparation. File format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct System {
    /// Format of the file: 1.
    pub format: u32,
    /// What the painter calls it.
    pub name: String,
    /// The layers, first on the surface first.
    pub layers: Vec<Layer>,
    /// What is done after the last coat.
    #[serde(default)]
    pub close: Vec<Step>,
    /// Whether it is kept only for what it was used in: it is not offered for anything new.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub retired: bool,
    /// What the painter typed for its figures.
    #[serde(default, skip_serializing_if = "Typed::is_empty")]
    pub typed: Typed,
}

impl System {
    /// Everything in it that does not fit.
    #[must_use]
    pub fn check(&self) -> Vec<Fault> {
        let mut faults = Faults::default();
        if self.format != 1 {
            faults.add("format", self.format, "1");
        }
        faults.name("name", &self.name);
        if self.layers.is_empty() || self.layers.len() > 12 {
            faults.add("layers", format!("{} of them", self.layers.len()), "1 to 12");
        }
        let mut steps = Vec::new();
        for (row, layer) in self.layers.iter().enumerate() {
            faults.within(format!("layers[{row}]"), |faults| {
                layer.check(&mut steps, faults);
            });
        }
        check_steps("close", &self.close, &mut steps, &mut faults);
        typed::check(&self.typed, &mut faults);
        faults.into_found()
    }
}

impl Layer {
    /// The range of dry film that is specified for the layer, all coats, µm; nothing unless both ends
    /// are.
    #[must_use]
    pub fn dry_range_um(&self) -> Option<(f64, f64)> {
        self.dry_least_um.zip(self.dry_most_um)
    }

    fn check_range(&self, faults: &mut Faults) {
        let ends = [("dry_least_um", self.dry_least_um), ("dry_most_um", self.dry_most_um)];
        for (field, um) in ends {
            faults.positive(field, um);
        }
        faults.rising(ends[0], ends[1]);
    }

    fn check<'a>(&'a self, steps: &mut Vec<&'a str>, faults: &mut Faults) {
        faults.name("name", &self.name);
        faults.id("sheet", &self.sheet);
        faults.within_range("coats", f64::from(self.coats), 1.0, 12.0);
        faults.positive("dry_um", self.dry_um);
        self.check_range(faults);
        check_steps("prep", &self.prep, steps, faults);
        for (row, check) in self.ready.iter().enumerate() {
            faults.within(format!("ready[{row}]"), |faults| {
                faults.id("id", &check.id);
                faults.name("name", &check.name);
                check_short(check.short.as_deref(), faults);
                if self.ready[..row].iter().any(|earlier| earlier.id == check.id) {
                    faults.add("id", &check.id, "an id that no other check of the layer has");
                }
            });
        }
    }
}

/// Letters of what stands large, at most.
const SHORT_MOST: usize = 16;

fn check_short(short: Option<&str>, faults: &mut Faults) {
    let Some(short) = short else { return };
    let letters = short.chars().count();
    if short.trim().is_empty() || letters > SHORT_MOST {
        faults.add("short", format!("{letters} letters"), "1 to 16 letters");
    } else {
        faults.name("short", short);
    }
}

impl Step {
    /// Whether plugs and masks are counted with it.
    #[must_use]
    pub fn counts_masks(&self) -> bool {
        self.does == Some(Does::Mask)
    }

    fn check_within(&self, faults: &mut Faults) {
        let wait_s = self.wait.as_ref().map_or(0.0, Timing::upper_s);
        faults.bounded("within_s", self.within_s, Bound::Above(wait_s), "more than its wait");
    }
}

fn check_steps<'a>(field: &str, list: &'a [Step], known: &mut Vec<&'a str>, faults: &mut Faults) {
    for (row, step) in list.iter().enumerate() {
        faults.within(format!("{field}[{row}]"), |faults| {
            faults.id("id", &step.id);
            faults.name("name", &step.name);
            check_short(step.short.as_deref(), faults);
            if known.contains(&step.id.as_str()) {
                faults.add("id", &step.id, "an id that no other step of the system has");
            }
            if let Some(wait) = &step.wait {
                faults.within("wait", |faults| wait.check(faults));
            }
            step.check_within(faults);
        });
        known.push(&step.id);
    }
}
