//! What events tell: readings, reasons, figures.

use serde::{Deserialize, Serialize};

/// A reading of the air and the part.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Air temperature, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_c: Option<f64>,
    /// Relative humidity, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity_pct: Option<f64>,
    /// Coldest place of the surface, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub surface_c: Option<f64>,
    /// Warmest place of the surface where it was read apart, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub surface_warmest_c: Option<f64>,
    /// The mixed pot, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pot_c: Option<f64>,
}

/// Which way plugs and masks are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// On the parts, before spraying.
    In,
    /// Off them again.
    Out,
}

/// Why the painter goes on past a hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Reason {
    /// 1: the sheet allows it.
    SheetAllows,
    /// 2: tried on a test panel.
    Tried,
    /// 3: the figure or clock here is wrong.
    FigureWrong,
    /// 4: a repair or touch-up.
    Repair,
    /// 5: the painter's own decision.
    OwnDecision,
}

/// A figure that stays as it is in a session, though the Book has it otherwise.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct KeptFigure {
    /// The figure, as `figures` of the core names it.
    pub field: String,
    /// What the Book has, in the figure's own unit.
    pub book: f64,
}
