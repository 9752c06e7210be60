//! A can on the shelf: what is written on it, and what was in it when it was last counted.

use serde::{Deserialize, Serialize};

use super::date::is_month_or_day;
use super::recipe::Told;
use crate::fault::{Bound, Fault, Faults};
use crate::typed::{self, Typed};

/// Most that a can holds, mL or g: a drum of 200 L is the largest that a small shop keeps (our own
/// bound, against mistyped figures).
const LARGEST: f64 = 250_000.0;

/// A can as bought. File format 1. How much is in it now is never kept: it is what was counted, less
/// what the logs of sessions drew from it since, plus what they returned.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Can {
    /// Format of the file: 1.
    pub format: u32,
    /// What is written on it: 'Grey primer base, big tin'.
    pub name: String,
    /// The name of its material's sheet.
    pub sheet: String,
    /// The name of its component, as that sheet has it.
    pub component: String,
    /// The maker's number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lot: Option<String>,
    /// Until when the maker vouches for it: `2027-03`, to the month's end, or `2027-03-15`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
    /// When it was opened, in the same form.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opened: Option<String>,
    /// What it holds when full, mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub holds_ml: Option<f64>,
    /// What it holds when full, g.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub holds_g: Option<f64>,
    /// What was in it when it was last counted, mL. One of the two, or neither where nobody counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left_ml: Option<f64>,
    /// What was in it when it was last counted, g.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left_g: Option<f64>,
    /// When that was: RFC 3339.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counted: Option<String>,
    /// Thinner in it then that was returned with material, % by volume.
    #[serde(default, skip_serializing_if = "is_none_of_it")]
    pub thinner_pct: f64,
    /// What the painter typed for a figure, by the field's path. The number counts, the text is how
    /// it was written.
    #[serde(default, skip_serializing_if = "Typed::is_empty")]
    pub typed: Typed,
    /// Whether it is off the shelf: kept for the sessions that used it, and not offered any more.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub retired: bool,
}

#[allow(clippy::trivially_copy_pass_by_ref)] // the shape that serde asks for
fn is_none_of_it(share: &f64) -> bool {
    *share == 0.0
}

impl Can {
    /// What was in it when it was last counted.
    #[must_use]
    pub const fn left(&self) -> Told {
        Told { g: self.left_g, ml: self.left_ml }
    }

    /// The same can counted again: at `at` (RFC 3339) `left` was in it, `thinner_pct` % of that by
    /// volume thinner. Both are told together, for whatever the logs say of before no longer counts.
    /// Where `left` tells both, the volume is kept.
    #[must_use]
    pub fn counted(&self, left: Told, thinner_pct: f64, at: &str) -> Self {
        let mut typed = self.typed.clone();
        typed.retain(|field, _| !matches!(field.as_str(), "left_ml" | "left_g" | "thinner_pct"));
        Self {
            left_ml: left.ml,
            left_g: left.g.filter(|_| left.ml.is_none()),
            counted: Some(at.to_owned()),
            thinner_pct,
            typed,
            ..self.clone()
        }
    }

    /// Everything in it that does not fit.
    #[must_use]
    pub fn check(&self) -> Vec<Fault> {
        let mut faults = Faults::default();
        if self.format != 1 {
            faults.add("format", self.format, "1");
        }
        faults.name("name", &self.name);
        faults.id("sheet", &self.sheet);
        faults.name("component", &self.component);
        if let Some(lot) = &self.lot {
            faults.name("lot", lot);
        }
        for (field, date) in [("until", &self.until), ("opened", &self.opened)] {
            if let Some(date) = date.as_ref().filter(|date| !is_month_or_day(date)) {
                faults.add(field, format!("{date:?}"), DATE);
            }
        }
        self.check_amounts(&mut faults);
        typed::check(&self.typed, &mut faults);
        faults.into_found()
    }

    fn check_amounts(&self, faults: &mut Faults) {
        let most = Bound::AtMost(LARGEST);
        let at_most = format!("at most {LARGEST}");
        for (field, full) in [("holds_ml", self.holds_ml), ("holds_g", self.holds_g)] {
            faults.positive(field, full);
            faults.bounded(field, full.filter(|full| *full > 0.0), most, &at_most);
        }
        for (field, left) in [("left_ml", self.left_ml), ("left_g", self.left_g)] {
            faults.within_range(field, left, 0.0, LARGEST);
        }
        if self.left_ml.is_some() && self.left_g.is_some() {
            faults.add("left_g", "it and left_ml", "one of the two");
        }
        let is_counted = self.left_ml.is_some() || self.left_g.is_some();
        match &self.counted {
            Some(at) if !is_instant(at) => faults.add("counted", format!("{at:?}"), INSTANT),
            Some(at) if !is_counted => {
                faults.add("counted", format!("{at:?}"), "nothing, where what is left is not told");
            }
            None if is_counted => faults.add("counted", "nothing", INSTANT),
            _ => {}
        }
        let (accepted, share) = ("0 to under 100", self.thinner_pct);
        faults.bounded("thinner_pct", share, Bound::AtLeast(0.0), accepted);
        let not_below = Some(share).filter(|share| *share >= 0.0);
        faults.bounded("thinner_pct", not_below, Bound::Below(100.0), accepted);
    }
}

/// How a date is written.
pub const DATE: &str = "a month or a day: 2027-03, or 2027-03-15";
const INSTANT: &str = "a time with its offset, such as 2026-05-12T10:42:07-05:00";

/// A number of just so many digits.
fn number(text: &str, digits: usize) -> Option<u32> {
    let fits = text.len() == digits && text.bytes().all(|byte| byte.is_ascii_digit());
    fits.then(|| text.parse().ok())?
}

/// Whether a text is a moment as RFC 3339 writes it, with its offset.
fn is_instant(text: &str) -> bool {
    let told = || {
        let (day, time) = text.split_once('T')?;
        let zone = time.find(['Z', '+', '-'])?;
        let (clock, offset) = time.split_at_checked(zone)?;
        let (clock, parts) = clock.split_once('.').unwrap_or((clock, "0"));
        let digits = !parts.is_empty() && parts.bytes().all(|byte| byte.is_ascii_digit());
        let offset = offset.strip_prefix(['+', '-']).or((offset == "Z").then_some("00:00"))?;
        Some(
            day.len() == 10
                && is_month_or_day(day)
                && digits
                && is_clock(clock, 3)
                && is_clock(offset, 2),
        )
    };
    told().unwrap_or(false)
}

/// `10:42:07` in so many parts.
fn is_clock(text: &str, parts: usize) -> bool {
    let numbers: Vec<&str> = text.split(':').collect();
    let fits = |(part, text): (usize, &&str)| {
        number(text, 2).is_some_and(|value| value < if part == 0 { 24 } else { 60 })
    };
    numbers.len() == parts && numbers.iter().enumerate().all(fits)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn can() -> Can {
        Can {
            format: 1,
            name: "Grey primer base, big tin".into(),
            sheet: "grey-primer".into(),
            component: "Base".into(),
            left_ml: Some(820.0),
            counted: Some("2026-05-12T10:42:07.120-05:00".into()),
            ..Can::default()
        }
    }

    fn faulty(change: impl Fn(&mut Can)) -> Vec<String> {
        let mut can = can();
        change(&mut can);
        can.check().into_iter().map(|fault| fault.field).collect()
    }

    #[test]
    fn a_can_is_checked_field_by_field() {
        assert_eq!(faulty(|_| {}), [""; 0]);
        assert_eq!(faulty(|can| can.until = Some("2027-3".into())), ["until"]);
        assert_eq!(faulty(|can| can.opened = Some("2026-02-30".into())), ["opened"]);
        assert_eq!(faulty(|can| can.left_g = Some(1.0)), ["left_g"]);
        assert_eq!(faulty(|can| can.left_ml = Some(-1.0)), ["left_ml"]);
        assert_eq!(faulty(|can| can.left_ml = Some(f64::NAN)), ["left_ml"]);
        assert_eq!(faulty(|can| can.left_ml = None), ["counted"]);
        assert_eq!(faulty(|can| can.counted = None), ["counted"]);
        assert_eq!(faulty(|can| can.counted = Some("2026-05-12".into())), ["counted"]);
        assert_eq!(faulty(|can| can.thinner_pct = 100.0), ["thinner_pct"]);
        assert_eq!(faulty(|can| can.holds_ml = Some(0.0)), ["holds_ml"]);
        assert_eq!(faulty(|can| can.sheet = "Grey Primer".into()), ["sheet"]);
        assert_eq!(
            faulty(|can| drop(can.typed.insert("left_ml".into(), "\n".into()))),
            ["typed.left_ml"]
        );
    }

    #[test]
    fn a_moment_carries_its_offset() {
        for at in ["2026-05-12T10:42:07-05:00", "2026-05-12T10:42:07.120Z"] {
            assert!(is_instant(at), "{at}");
        }
        for at in ["2026-05-12T10:42:07", "2026-05-12 10:42:07Z", "2026-05-12T25:00:00Z", "T", "Z"]
        {
            assert!(!is_instant(at), "{at}");
        }
    }

    #[test]
    fn a_new_count_takes_the_place_of_the_old_one_with_its_share() {
        let mut before = can();
        before.typed.insert("left_ml".into(), "0.82 L".into());
        before.typed.insert("holds_ml".into(), "1 L".into());
        let left = Told { g: Some(500.0), ml: None };
        let after = before.counted(left, 4.0, "2026-06-01T08:00:00Z");
        assert_eq!((after.left_ml, after.left_g, after.thinner_pct), (None, Some(500.0), 4.0));
        assert_eq!(after.typed.keys().collect::<Vec<_>>(), ["holds_ml"]);
        assert_eq!(after.check(), Vec::new());
        let both = Told { g: Some(500.0), ml: Some(400.0) };
        assert_eq!(
            after.counted(both, 0.0, "2026-06-02T08:00:00Z").left(),
            Told { g: None, ml: Some(400.0) }
        );
    }

    #[test]
    fn what_is_not_told_is_not_written() {
        let text = serde_json::to_string(&can()).expect("text");
        assert!(!text.contains("thinner") && !text.contains("retired") && !text.contains("lot"));
        let back: Can = serde_json::from_str(&text).expect("a can");
        assert_eq!(back, can());
    }
}
