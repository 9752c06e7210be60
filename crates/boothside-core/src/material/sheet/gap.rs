//! What lies between two coats or two layers, and the wipe that opens it again.

use serde::{Deserialize, Serialize};

use crate::fault::{Bound, Faults};
use crate::material::timing::{LawName, Timing};

/// Who opens a gap: the painter's eye, the sheet's stated minimum, or both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum OpenedBy {
    /// 'It has dulled.'
    Eye,
    /// The stated minimum.
    Clock,
    /// Both of them.
    Both,
}

/// What lies between two coats or two layers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Gap {
    /// The earliest next coat, counted from the end of a face.
    pub earliest: Timing,
    /// When to look for dulling, where the sheet states it apart from `earliest`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dulls: Option<Timing>,
    /// Who opens the gap.
    pub by: OpenedBy,
    /// Until when the next coat may go on directly, counted from the beginning of a face.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub open_until: Option<Timing>,
    /// Until when it may go on after a wipe or scuff, counted from the beginning of a face.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wipe_until: Option<Timing>,
}

/// A solvent wipe that opens a window again.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct WipeRule {
    /// The wipe's own flash, s.
    pub flash_s: f64,
    /// How long after a wipe the next coat may go on, s.
    pub limit_s: f64,
}

impl Gap {
    /// An end of the window as the law of `earliest` bends it, where it goes by that: only to be
    /// shortened by it.
    #[must_use]
    pub fn shortened(&self, end: &Timing) -> Option<Timing> {
        (end.law == LawName::AsEarliest).then(|| end.as_earliest(&self.earliest))?
    }

    pub(super) fn check(&self, faults: &mut Faults) {
        faults.within("earliest", |faults| self.earliest.check(faults));
        if let Some(dulls) = &self.dulls {
            faults.within("dulls", |faults| dulls.check(faults));
        }
        let mut before_s = self.earliest.upper_s();
        let edges = [("open_until", &self.open_until), ("wipe_until", &self.wipe_until)];
        for (field, edge) in edges {
            let Some(timing) = edge else { continue };
            faults.within(field, |faults| {
                timing.check_end(&self.earliest, faults);
                let accepted = format!("more than {before_s}, where the window begins");
                let after = Bound::Above(before_s);
                faults.bounded("duration_s", timing.duration_s, after, &accepted);
            });
            before_s = timing.duration_s;
        }
        if self.wipe_until.is_some() && self.open_until.is_none() {
            faults.add("open_until", "nothing", "a time, where wipe_until is given");
        }
    }
}

impl WipeRule {
    pub(super) fn check(&self, faults: &mut Faults) {
        faults.within_range("flash_s", self.flash_s, 0.0, 86_400.0);
        faults.bounded("limit_s", self.limit_s, Bound::Above(self.flash_s), "more than flash_s");
    }
}
