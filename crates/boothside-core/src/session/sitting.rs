//! Sittings: stays in the shop, told apart by the painter's keys.

use super::entry::{By, Entry};
use super::event::Event;
use super::hanging::OVERNIGHT;
use super::time::{Moment, Span};

/// Work over midnight goes on as one sitting; the day's first work is what comes after so long
/// without a key. Our own choice.
const LULL: Span = Span::from_hours(1);
/// A day of the wall, ms.
const DAY_MS: i64 = 86_400_000;

/// A stay in the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sitting {
    /// When its first key came.
    pub began: Moment,
    /// When it is over, unless another key comes: after 8 h, or at midnight by the wall if that is
    /// later than an hour.
    pub ends: Moment,
}

impl Sitting {
    /// The sitting after `entry`, where `before` was the sitting until then.
    pub(super) fn after(before: Option<Self>, entry: &Entry) -> Option<Self> {
        // what was taken back is as if it had never been, and so is the taking back
        let strikes = matches!(entry.events[..], [Event::Struck { .. }]);
        if entry.by != By::Key || strikes {
            return before;
        }
        let t = entry.t_ms;
        let goes_on = before.filter(|sitting| t < sitting.ends);
        let began = goes_on.map_or(t, |sitting| sitting.began);
        let ends = ends_after(t, &entry.at);
        // entries told late are not in the order of their keys
        Some(Self { began, ends: goes_on.map_or(ends, |sitting| sitting.ends.max(ends)) })
    }
}

fn ends_after(t: Moment, at: &str) -> Moment {
    let longest = t.plus(OVERNIGHT);
    let midnight = until_midnight(at).map(|span| t.plus(span).max(t.plus(LULL)));
    midnight.map_or(longest, |midnight| midnight.min(longest))
}

/// How long until midnight at the wall's time `at`, RFC 3339; nothing where it tells none.
fn until_midnight(at: &str) -> Option<Span> {
    let (hour, minute) =
        (at.get(11..13)?.parse::<i64>().ok()?, at.get(14..16)?.parse::<i64>().ok()?);
    let second = at.get(17..19)?.parse::<i64>().ok()?;
    let into_day_ms = ((hour * 60 + minute) * 60 + second) * 1000;
    (0..DAY_MS).contains(&into_day_ms).then(|| Span::from_ms(DAY_MS - into_day_ms))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sitting_ends_after_a_night_or_with_the_day() {
        let t = Moment::from_ms(1_000);
        let hours = |at: &str| (ends_after(t, at).since(t).ms() as f64) / 3_600_000.0;
        assert!((hours("2026-05-12T10:00:00.000-05:00") - 8.0).abs() < 1e-9);
        assert!((hours("2026-05-12T20:00:00.000-05:00") - 4.0).abs() < 1e-9);
        assert!((hours("2026-05-12T23:50:00.000-05:00") - 1.0).abs() < 1e-9, "work over midnight");
        assert!((hours("") - 8.0).abs() < 1e-9);
        assert!((hours("an evening of another kind") - 8.0).abs() < 1e-9);
    }
}
