//! Line 0, of a log and of one that goes on after damage.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::physics::rate::Rules;
use crate::session::entry::Entry;
use crate::work::job::FullJob;

/// Format of the log that this program writes.
pub const LOG_FORMAT: u32 = 1;

/// Line 0: everything the session rests on, as it was.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Opening {
    /// Format of the log.
    pub format: u32,
    /// The rules by which its clocks ran; 1 where none are named.
    #[serde(default = "first_rules")]
    pub rules: u32,
    /// Whether the session runs on a simulated clock.
    #[serde(default)]
    pub rehearsal: bool,
    /// Job, system, parts, sheets and shop.
    pub work: FullJob,
    /// The shop factor of each sheet's eye clock, as learnt before this session: 1 is the sheet's
    /// own speed, 1.2 takes a fifth longer.
    #[serde(default)]
    pub factors: BTreeMap<String, f64>,
}

/// The rules of a line that names none.
pub(super) const fn first_rules() -> u32 {
    Rules::FIRST.number()
}

/// Line 0 of a file that goes on where another was damaged.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Continuation {
    /// Format of the log.
    pub format: u32,
    /// The damaged file's name.
    pub file: String,
    /// The first damaged line, counted from 1.
    pub line: u64,
    /// The first damaged byte, counted from 0.
    pub byte: u64,
    /// Every entry before the damage.
    pub entries: Vec<Entry>,
}
