//! A job: parts × system, and the shop in which it is done.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::part::Part;
use super::system::System;
use crate::fault::{Fault, Faults};
use crate::material::sheet::Sheet;
use crate::typed::{self, Typed};

/// Parts × system. File format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Job {
    /// Format of the file: 1.
    pub format: u32,
    /// What the painter calls it.
    pub name: String,
    /// Name of the system's file, without ending.
    pub system: String,
    /// Names of the parts' files, without ending, in spraying order.
    pub parts: Vec<String>,
    /// Spraying order of the faces (`part-face`), where it is not the parts' own.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub order: Vec<String>,
    /// Whether it is kept only for what it was used in: it is not offered for anything new.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub retired: bool,
    /// What the painter typed for its figures.
    #[serde(default, skip_serializing_if = "Typed::is_empty")]
    pub typed: Typed,
    /// Those of `parts` that do not hang in the booth when the session opens.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub away: Vec<String>,
}

impl Job {
    /// Everything in it that does not fit, taken alone.
    #[must_use]
    pub fn check(&self) -> Vec<Fault> {
        let mut faults = Faults::default();
        if self.format != 1 {
            faults.add("format", self.format, "1");
        }
        faults.name("name", &self.name);
        faults.id("system", &self.system);
        if self.parts.is_empty() || self.parts.len() > 40 {
            faults.add("parts", format!("{} of them", self.parts.len()), "1 to 40");
        }
        for (row, part) in self.parts.iter().enumerate() {
            faults.id(&format!("parts[{row}]"), part);
            if self.parts[..row].contains(part) {
                faults.add(&format!("parts[{row}]"), part, "each part once");
            }
        }
        typed::check(&self.typed, &mut faults);
        for (row, part) in self.away.iter().enumerate() {
            if !self.parts.contains(part) || self.away[..row].contains(part) {
                faults.add(&format!("away[{row}]"), part, "one of the job's parts, once");
            }
        }
        faults.into_found()
    }
}

/// Units in which a shop reads and writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum ShopUnits {
    /// °C, mL, g, µm.
    #[default]
    Metric,
    /// °F, fl oz, oz, mil.
    Us,
}

/// The shop's own settings. File format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Shop {
    /// Format of the file: 1.
    pub format: u32,
    /// Units on the screens.
    #[serde(default)]
    pub units: ShopUnits,
    /// Share of what leaves the gun that lands on the part, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transfer_pct: Option<f64>,
    /// What stays in gun and strainer a pot, mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loss_ml: Option<f64>,
    /// Spare mixed on top, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spare_pct: Option<f64>,
    /// The scale's step, g.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale_step_g: Option<f64>,
    /// What the containers for mixing hold, mL.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub containers_ml: Vec<f64>,
    /// Volume of the booth or room, m³.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub booth_volume_m3: Option<f64>,
    /// Air that its fan moves, m³/h.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub booth_flow_m3_per_h: Option<f64>,
    /// How far the air is from mixing perfectly, 1 (perfect) to 10.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mixing_factor: Option<f64>,
    /// Height of the shop over the sea, m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<f64>,
    /// Least margin of a surface over the dew point where the sheet gives none: a difference, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dew_margin_c: Option<f64>,
    /// After so many hours of use the painter changes the respirator's cartridges: their own
    /// schedule, from the maker's word and the safety data sheet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cartridge_h: Option<f64>,
    /// Whether the bell rings.
    #[serde(default = "yes")]
    pub bell: bool,
    /// What the painter typed for its figures.
    #[serde(default, skip_serializing_if = "Typed::is_empty")]
    pub typed: Typed,
}

const fn yes() -> bool {
    true
}

impl Default for Shop {
    fn default() -> Self {
        Self {
            format: 1,
            units: ShopUnits::Metric,
            transfer_pct: None,
            loss_ml: None,
            spare_pct: None,
            scale_step_g: None,
            containers_ml: Vec::new(),
            booth_volume_m3: None,
            booth_flow_m3_per_h: None,
            mixing_factor: None,
            height_m: None,
            dew_margin_c: None,
            cartridge_h: None,
            bell: true,
            typed: Typed::new(),
        }
    }
}

impl Shop {
    /// Everything in it that does not fit.
    #[must_use]
    pub fn check(&self) -> Vec<Fault> {
        let mut faults = Faults::default();
        if self.format != 1 {
            faults.add("format", self.format, "1");
        }
        faults.within_range("transfer_pct", self.transfer_pct, 1.0, 100.0);
        faults.within_range("loss_ml", self.loss_ml, 0.0, 5000.0);
        faults.within_range("spare_pct", self.spare_pct, 0.0, 100.0);
        faults.within_range("scale_step_g", self.scale_step_g, 0.001, 100.0);
        if self.containers_ml.len() > 20 {
            faults.add("containers_ml", format!("{} of them", self.containers_ml.len()), "0 to 20");
        }
        for (row, holds_ml) in self.containers_ml.iter().enumerate() {
            faults.within_range(&format!("containers_ml[{row}]"), *holds_ml, 1.0, 100_000.0);
        }
        self.check_booth(&mut faults);
        typed::check(&self.typed, &mut faults);
        faults.into_found()
    }

    fn check_booth(&self, faults: &mut Faults) {
        let ranges = [
            ("booth_volume_m3", self.booth_volume_m3, 0.1, 100_000.0),
            ("booth_flow_m3_per_h", self.booth_flow_m3_per_h, 1.0, 1_000_000.0),
            ("mixing_factor", self.mixing_factor, 1.0, 10.0),
            ("height_m", self.height_m, -500.0, 5_000.0),
            ("dew_margin_c", self.dew_margin_c, 0.0, 20.0),
            ("cartridge_h", self.cartridge_h, 0.5, 1_000.0),
        ];
        for (field, value, low, high) in ranges {
            faults.within_range(field, value, low, high);
        }
    }
}

/// A job with everything that it names, as it was when the session opened.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct FullJob {
    /// The job.
    pub job: Job,
    /// Its system.
    pub system: System,
    /// Its parts by the name of their file.
    pub parts: BTreeMap<String, Part>,
    /// Its sheets by the name of their file.
    pub sheets: BTreeMap<String, Sheet>,
    /// The shop.
    pub shop: Shop,
}

impl FullJob {
    /// What does not fit together, and what does not fit in any of its files.
    #[must_use]
    pub fn check(&self) -> Vec<Fault> {
        let mut found = self.job.check();
        let prefixed = |what: String, faults: Vec<Fault>| {
            faults
                .into_iter()
                .map(move |fault| Fault { field: format!("{what}.{}", fault.field), ..fault })
        };
        found.extend(prefixed("system".into(), self.system.check()));
        found.extend(prefixed("shop".into(), self.shop.check()));
        for (name, part) in &self.parts {
            found.extend(prefixed(format!("parts.{name}"), part.check()));
        }
        for (name, sheet) in &self.sheets {
            found.extend(prefixed(format!("sheets.{name}"), sheet.check()));
        }
        found.extend(self.check_names());
        found
    }

    fn check_names(&self) -> Vec<Fault> {
        let mut faults = Faults::default();
        for (row, name) in self.job.parts.iter().enumerate() {
            if !self.parts.contains_key(name) {
                faults.add(&format!("parts[{row}]"), name, "the name of a part that exists");
            }
        }
        for (row, layer) in self.system.layers.iter().enumerate() {
            if !self.sheets.contains_key(&layer.sheet) {
                let field = format!("system.layers[{row}].sheet");
                faults.add(&field, &layer.sheet, "the name of a sheet that exists");
            }
        }
        let mut faces = self.face_ids();
        let twice = |(at, face): &(usize, &String)| faces[..*at].contains(face);
        if let Some((_, face)) = faces.iter().enumerate().find(twice) {
            // 'fin' with 'left-upper' and 'fin-left' with 'upper' would be one face in the log
            faults.add("parts", face, "parts whose faces are told apart by part-face");
        }
        for (row, face) in self.job.order.iter().enumerate() {
            if !faces.contains(face) {
                faults.add(&format!("order[{row}]"), face, "a face of the job, once: part-face");
            }
            faces.retain(|known| known != face);
        }
        if !self.job.order.is_empty() && !faces.is_empty() {
            faults.add("order", "too few", &format!("every face; missing: {}", faces.join(", ")));
        }
        faults.into_found()
    }

    /// The faces as `part-face`, in the parts' own order.
    #[must_use]
    pub fn face_ids(&self) -> Vec<String> {
        let parts = self.job.parts.iter().filter_map(|name| Some((name, self.parts.get(name)?)));
        parts
            .flat_map(|(name, part)| part.faces.iter().map(move |face| face_id(name, &face.id)))
            .collect()
    }
}

/// The identifier of a face in a session.
#[must_use]
pub fn face_id(part: &str, face: &str) -> String {
    format!("{part}-{face}")
}
