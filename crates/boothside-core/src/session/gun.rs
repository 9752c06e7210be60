//! Gun settings as a card: what was set, and whether it sprayed well.

use serde::{Deserialize, Serialize};

use super::bounds::{Bounds, INLET, TURNS, Unit};
use super::refusal::Refusal;
use super::time::Moment;
use crate::material::sheet::NOZZLE_MM;

/// How a setting sprayed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum GunResult {
    /// The pattern was good.
    Good,
    /// It was not.
    Bad,
}

/// How the gun is set. What is not known is left out.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct GunSetting {
    /// Nozzle, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nozzle_mm: Option<f64>,
    /// Pressure at the gun's inlet with the trigger pulled, kPa over the room's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub inlet_kpa: Option<f64>,
    /// Fan control, turns open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fan_turns: Option<f64>,
    /// Fluid control, turns open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fluid_turns: Option<f64>,
    /// Air cap, as the gun's maker marks it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cap: Option<String>,
    /// How it sprayed, where that was seen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub result: Option<GunResult>,
    /// What else there is to say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// A setting as it was told.
#[derive(Debug, Clone, PartialEq)]
pub struct GunCard {
    /// Since when it is set so.
    pub at: Moment,
    /// The entry that told it.
    pub n: u64,
    /// Layer in work then, counted from 1; nothing once every coat was on.
    pub layer: Option<u32>,
    /// The setting.
    pub setting: GunSetting,
}

const NOZZLE: Bounds =
    Bounds { low: NOZZLE_MM.0, high: NOZZLE_MM.1, above_low: false, unit: Unit::Millimetre };
/// Longest name of a cap, in characters.
const LONGEST_CAP: usize = 40;

impl GunSetting {
    /// This setting with what it leaves out taken from `last`: what is set stays as it was until
    /// told otherwise. Result and note belong to one card and are not carried.
    #[must_use]
    pub fn over(self, last: &Self) -> Self {
        Self {
            nozzle_mm: self.nozzle_mm.or(last.nozzle_mm),
            inlet_kpa: self.inlet_kpa.or(last.inlet_kpa),
            fan_turns: self.fan_turns.or(last.fan_turns),
            fluid_turns: self.fluid_turns.or(last.fluid_turns),
            cap: self.cap.or_else(|| last.cap.clone()),
            result: self.result,
            note: self.note,
        }
    }

    /// What no gauge or gun shows was mistyped.
    ///
    /// # Errors
    /// [`Refusal::Figure`] names the figure and its range; likewise where nothing is told.
    pub fn check(&self) -> Result<(), Refusal> {
        let figures = [
            ("nozzle", self.nozzle_mm, NOZZLE),
            ("inlet pressure", self.inlet_kpa, INLET),
            ("fan turns", self.fan_turns, TURNS),
            ("fluid turns", self.fluid_turns, TURNS),
        ];
        for (field, value, bounds) in figures {
            value.map(|value| bounds.check(field, value)).transpose()?;
        }
        let cap = self.cap.as_deref().unwrap_or_default();
        if cap.chars().count() > LONGEST_CAP {
            let (given, accepted) = (format!("{} characters", cap.chars().count()), "up to 40");
            return Err(Refusal::Figure { field: "cap", given, accepted });
        }
        if *self == Self::default() {
            let given = "nothing".to_owned();
            return Err(Refusal::Figure { field: "nozzle", given, accepted: "one field or more" });
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn card() -> GunSetting {
        GunSetting {
            nozzle_mm: Some(1.3),
            inlet_kpa: Some(150.0),
            result: Some(GunResult::Bad),
            note: Some("spits".into()),
            ..GunSetting::default()
        }
    }

    #[test]
    fn what_is_not_told_anew_stays_set_but_the_result_does_not() {
        let new = GunSetting { inlet_kpa: Some(180.0), ..GunSetting::default() }.over(&card());
        assert_eq!((new.nozzle_mm, new.inlet_kpa), (Some(1.3), Some(180.0)));
        assert_eq!((new.result, new.note), (None, None));
    }

    #[test]
    fn what_no_gauge_shows_is_refused() {
        assert_eq!(card().check(), Ok(()));
        let wrong = [
            GunSetting { nozzle_mm: Some(13.0), ..card() },
            GunSetting { inlet_kpa: Some(f64::NAN), ..card() },
            GunSetting { fan_turns: Some(-1.0), ..card() },
            GunSetting { cap: Some("x".repeat(41)), ..card() },
            GunSetting::default(),
        ];
        for setting in wrong {
            let checked = setting.check();
            let refused = matches!(checked, Err(Refusal::Figure { .. } | Refusal::Outside { .. }));
            assert!(refused, "{setting:?}");
        }
    }
}
