//! The air and surface in which a material may be sprayed.

use serde::{Deserialize, Serialize};

use crate::fault::{Bound, Faults};

/// The air and surface in which the material may be sprayed.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Limits {
    /// Coldest air and surface, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub min_c: Option<f64>,
    /// Warmest air and surface, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_c: Option<f64>,
    /// Lowest humidity, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub min_pct: Option<f64>,
    /// Highest humidity, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_pct: Option<f64>,
    /// Least margin of the surface over the dew point: a difference, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dew_margin_c: Option<f64>,
    /// Coldest mixed paint, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paint_min_c: Option<f64>,
    /// Warmest mixed paint, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paint_max_c: Option<f64>,
}

impl Limits {
    pub(super) fn check(&self, faults: &mut Faults) {
        let surface = [("min_c", self.min_c), ("max_c", self.max_c)];
        let paint = [("paint_min_c", self.paint_min_c), ("paint_max_c", self.paint_max_c)];
        let humidity = [("min_pct", self.min_pct), ("max_pct", self.max_pct)];
        check_span(faults, surface, (-10.0, 60.0));
        check_span(faults, paint, (-10.0, 80.0));
        check_span(faults, humidity, (1.0, 100.0));
        faults.within_range("dew_margin_c", self.dew_margin_c, 0.0, 20.0);
    }
}

fn check_span(faults: &mut Faults, ends: [(&str, Option<f64>); 2], (low, high): (f64, f64)) {
    for (field, value) in ends {
        faults.within_range(field, value, low, high);
    }
    let [(min_field, min), (max_field, max)] = ends;
    if let Some(min) = min {
        let accepted = format!("more than {min_field}");
        faults.bounded(max_field, max, Bound::Above(min), &accepted);
    }
}
