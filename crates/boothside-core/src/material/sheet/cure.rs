//! Stages of cure.

use serde::{Deserialize, Serialize};

use crate::material::timing::Timing;

/// A stage of cure, in rising order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum CureStage {
    /// Dust no longer sticks.
    DustFree,
    /// The part may be handled and turned.
    Handle,
    /// The film may be masked over.
    Mask,
    /// It may be sanded.
    Sand,
    /// Cured in full.
    Full,
}

/// A stage of cure with its time from the end of a face's last coat.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Cure {
    /// Which stage.
    pub stage: CureStage,
    /// How long after the face was finished.
    pub after: Timing,
}
