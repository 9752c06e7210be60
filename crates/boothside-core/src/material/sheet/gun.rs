//! The gun that a sheet asks for.

use serde::{Deserialize, Serialize};

use crate::fault::Faults;

/// Nozzles from an airbrush's to a filler's, mm: common practice, no source.
pub const NOZZLE_MM: (f64, f64) = (0.1, 6.0);
/// From a low-pressure cap's to what shop air gives, kPa: common practice, no source.
pub const PRESSURE_KPA: (f64, f64) = (0.5, 1000.0);

/// Where the air's pressure is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum MeasuredAt {
    /// At the gun's inlet, the trigger pulled.
    Inlet,
    /// At the air cap.
    Cap,
}

/// Nozzle and air pressure that the sheet asks for.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct GunRule {
    /// Smallest nozzle, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nozzle_low_mm: Option<f64>,
    /// Largest nozzle, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nozzle_high_mm: Option<f64>,
    /// Least pressure, kPa over the room's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure_low_kpa: Option<f64>,
    /// Most pressure, kPa over the room's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure_high_kpa: Option<f64>,
    /// Where the pressure is measured; nothing where the sheet does not say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_at: Option<MeasuredAt>,
}

impl GunRule {
    pub(super) fn check(&self, faults: &mut Faults) {
        let low_nozzle = ("nozzle_low_mm", self.nozzle_low_mm);
        let low_pressure = ("pressure_low_kpa", self.pressure_low_kpa);
        let pairs = [
            (low_nozzle, ("nozzle_high_mm", self.nozzle_high_mm), NOZZLE_MM),
            (low_pressure, ("pressure_high_kpa", self.pressure_high_kpa), PRESSURE_KPA),
        ];
        for (low, high, (least, most)) in pairs {
            for (field, value) in [low, high] {
                faults.within_range(field, value, least, most);
            }
            faults.rising(low, high);
        }
    }
}
