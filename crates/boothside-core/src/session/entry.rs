//! An entry: what one key did, as one line of the log.

use serde::{Deserialize, Serialize};

use super::event::Event;
use super::time::Moment;

/// Who made an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum By {
    /// The painter, by a key.
    Key,
    /// The program: sleep, a clock that jumped, a continuation.
    Machine,
}

/// A due time that the screen showed when the key came.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SeenDue {
    /// What it was the clock of: a face, a pot, a step.
    pub of: String,
    /// Which edge.
    pub edge: String,
    /// When it was due.
    pub due_ms: Moment,
}

/// What the screen showed when the key came, so that the record cannot contradict it.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Seen {
    /// The due times.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub due: Vec<SeenDue>,
    /// The holds.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub holds: Vec<String>,
}

impl Seen {
    /// Whether nothing was shown.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.due.is_empty() && self.holds.is_empty()
    }
}

/// One command, one entry, one line: the unit of taking back, of saving, of tearing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// Number of the entry, without gaps from 0.
    pub n: u64,
    /// When it was made.
    pub t_ms: Moment,
    /// The wall's time with its offset (RFC 3339), for the eye.
    pub at: String,
    /// Who made it.
    pub by: By,
    /// The true time of what it tells, where that is not `t_ms`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub when_ms: Option<Moment>,
    /// What it says happened.
    pub events: Vec<Event>,
    /// The rules that it breaks: a fact is taken all the same.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub breaks: Vec<String>,
    /// What the screen showed.
    #[serde(default, skip_serializing_if = "Seen::is_empty")]
    pub seen: Seen,
    /// Where the machine's clocks stood, so that session time goes on after a restart. Opaque to
    /// the core.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub anchor: Option<Anchor>,
}

/// Where the machine's clocks stood when an entry was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Anchor {
    /// Which start of the machine; empty where it cannot be told.
    pub boot: String,
    /// Milliseconds since that start, sleep counted.
    pub since_boot_ms: i64,
}

impl Entry {
    /// The true time of what it tells, before any re-timing.
    #[must_use]
    pub fn told_ms(&self) -> Moment {
        self.when_ms.unwrap_or(self.t_ms)
    }
}
