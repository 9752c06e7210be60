//! Session time.

use serde::{Deserialize, Serialize};

/// A moment of a session: milliseconds since it opened, on a clock that counts sleep and never goes
/// back. Before the opening it is negative: what was done 'twelve hours ago' has its moment too.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct Moment(i64);

impl Moment {
    /// The moment at which the session opened.
    pub const OPENING: Self = Self(0);

    /// The moment `ms` milliseconds after the opening.
    #[must_use]
    pub const fn from_ms(ms: i64) -> Self {
        Self(ms)
    }

    /// Milliseconds since the opening.
    #[must_use]
    pub const fn ms(self) -> i64 {
        self.0
    }

    /// Seconds since the opening.
    #[must_use]
    pub fn seconds(self) -> f64 {
        self.0 as f64 / 1000.0
    }

    /// The first whole millisecond not before `seconds` after the opening. Saturates.
    #[must_use]
    pub fn from_seconds_up(seconds: f64) -> Self {
        Self((seconds * 1000.0 - 1e-6).ceil() as i64)
    }

    /// The last whole millisecond not after `seconds` after the opening. Saturates.
    #[must_use]
    pub fn from_seconds_down(seconds: f64) -> Self {
        Self((seconds * 1000.0 + 1e-6).floor() as i64)
    }

    /// This moment and `span` more. Saturates.
    #[must_use]
    pub const fn plus(self, span: Span) -> Self {
        Self(self.0.saturating_add(span.0))
    }

    /// This moment less `span`. Saturates.
    #[must_use]
    pub const fn minus(self, span: Span) -> Self {
        Self(self.0.saturating_sub(span.0))
    }

    /// How long after `earlier` this is; negative when it is before.
    #[must_use]
    pub const fn since(self, earlier: Self) -> Span {
        Span(self.0.saturating_sub(earlier.0))
    }
}

/// A length of session time in milliseconds.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct Span(i64);

impl Span {
    /// `ms` milliseconds.
    #[must_use]
    pub const fn from_ms(ms: i64) -> Self {
        Self(ms)
    }

    /// `seconds` seconds, to the nearest millisecond. Saturates.
    #[must_use]
    pub fn from_seconds(seconds: f64) -> Self {
        Self((seconds * 1000.0).round() as i64)
    }

    /// `minutes` minutes.
    #[must_use]
    pub const fn from_minutes(minutes: i64) -> Self {
        Self(minutes.saturating_mul(60_000))
    }

    /// `hours` hours.
    #[must_use]
    pub const fn from_hours(hours: i64) -> Self {
        Self(hours.saturating_mul(3_600_000))
    }

    /// Milliseconds.
    #[must_use]
    pub const fn ms(self) -> i64 {
        self.0
    }

    /// Seconds.
    #[must_use]
    pub fn seconds(self) -> f64 {
        self.0 as f64 / 1000.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_keeps_to_the_safe_side() {
        assert_eq!(Moment::from_seconds_up(1.0001).ms(), 1001);
        assert_eq!(Moment::from_seconds_down(1.0009).ms(), 1000);
        // 0.1 + 0.2 is a little over 0.3: that is no millisecond more
        assert_eq!(Moment::from_seconds_up(0.1 + 0.2).ms(), 300);
    }

    #[test]
    fn sums_saturate() {
        assert_eq!(Moment::from_ms(i64::MAX).plus(Span::from_hours(1)).ms(), i64::MAX);
        assert_eq!(Moment::from_seconds_up(f64::INFINITY).ms(), i64::MAX);
    }
}
