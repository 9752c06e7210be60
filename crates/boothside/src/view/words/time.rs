//! Moments and spans.

use boothside_core::session::clocks::DueAt;
use boothside_core::session::time::{Moment, Span};
use chrono::{DateTime, FixedOffset};

use super::Words;

const MINUTE: i64 = 60;
const HOUR: i64 = 3_600;
const DAY: i64 = 86_400;

/// What is left until a due time: '6:44', '1:43:40', '3 d 4 h'. Rounded up to a second, so that
/// '0:00' is not shown before it is due.
#[must_use]
pub fn left(span: Span) -> String {
    clocked(span.ms().max(0).saturating_add(999) / 1000)
}

/// What has passed, in whole seconds: '4:10'.
#[must_use]
pub fn passed(span: Span) -> String {
    clocked(span.ms().max(0) / 1000)
}

fn clocked(seconds: i64) -> String {
    let (minutes, second) = (seconds / MINUTE, seconds % MINUTE);
    if seconds < HOUR {
        format!("{minutes}:{second:02}")
    } else if seconds < DAY {
        format!("{}:{:02}:{second:02}", seconds / HOUR, minutes % 60)
    } else {
        days(seconds)
    }
}

fn days(seconds: i64) -> String {
    format!("{} d {} h", seconds / DAY, seconds % DAY / HOUR)
}

/// A span in words: '40 s', '12 min', '1 h 12 min', '3 d 4 h'. Without its sign.
#[must_use]
pub fn spoken(span: Span) -> String {
    let seconds = span.ms().saturating_abs() / 1000;
    if seconds < MINUTE {
        return format!("{seconds} s");
    }
    if seconds >= DAY {
        return days(seconds);
    }
    let (hours, minutes) = (seconds / HOUR, seconds % HOUR / MINUTE);
    match (hours, minutes) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// A wall time as seen at `now`: with the weekday when it is not today, with the date when it is a
/// week away or more.
#[must_use]
pub fn wall(at: DateTime<FixedOffset>, now: DateTime<FixedOffset>) -> String {
    let days = at.date_naive().signed_duration_since(now.date_naive()).num_days();
    let form = match days.abs() {
        0 => "%H:%M",
        1..=6 => "%a %H:%M",
        _ => "%a %-d %b %H:%M",
    };
    at.format(form).to_string()
}

impl Words<'_> {
    /// The wall's time at `moment`: '10:49', 'Wed 06:10'.
    #[must_use]
    pub fn clock(&self, moment: Moment) -> String {
        wall(self.eye.wall(moment), self.eye.wall(self.now()))
    }

    /// The same to the second, for what the last key did.
    #[must_use]
    pub fn clock_to_the_second(&self, moment: Moment) -> String {
        let at = self.eye.wall(moment);
        format!("{}{}", self.clock(moment), at.format(":%S"))
    }

    /// The day of `moment` where it is not today: 'Tue', '19 May' a week away or more.
    #[must_use]
    pub fn other_day(&self, moment: Moment) -> Option<String> {
        let (at, now) = (self.eye.wall(moment), self.eye.wall(self.now()));
        let days = at.date_naive().signed_duration_since(now.date_naive()).num_days();
        let form = match days.abs() {
            0 => return None,
            1..=6 => "%a",
            _ => "%-d %b",
        };
        Some(at.format(form).to_string())
    }

    /// The present time alone: '10:42'.
    #[must_use]
    pub fn time_of_day(&self) -> String {
        self.eye.wall(self.now()).format("%H:%M").to_string()
    }

    /// The present date and time: 'Tue 12 May 10:42'.
    #[must_use]
    pub fn date_and_time(&self) -> String {
        self.eye.wall(self.now()).format("%a %-d %b %H:%M").to_string()
    }

    /// What is left until `moment`.
    #[must_use]
    pub fn left_until(&self, moment: Moment) -> String {
        left(moment.since(self.now()))
    }

    /// A due time: a wall time, or why it never comes.
    #[must_use]
    pub fn due(&self, due: DueAt) -> String {
        match due {
            DueAt::At(moment) => self.clock(moment),
            DueAt::Never(because) => self.never(because),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_as_a_clock_counts_them() {
        let left = |seconds: f64| left(Span::from_seconds(seconds));
        assert_eq!(left(404.0), "6:44");
        assert_eq!(left(403.2), "6:44");
        assert_eq!(left(0.001), "0:01");
        assert_eq!(left(0.0), "0:00");
        assert_eq!(left(-5.0), "0:00");
        assert_eq!(left(6220.0), "1:43:40");
        assert_eq!(left(3.0 * 86400.0 + 4.5 * 3600.0), "3 d 4 h");
        assert_eq!(passed(Span::from_seconds(59.9)), "0:59");
    }

    #[test]
    fn spans_as_people_say_them() {
        let spoken = |minutes| spoken(Span::from_minutes(minutes));
        assert_eq!(spoken(0), "0 s");
        assert_eq!(spoken(47), "47 min");
        assert_eq!(spoken(-72), "1 h 12 min");
        assert_eq!(spoken(120), "2 h");
        assert_eq!(spoken(60 * 76), "3 d 4 h");
    }

    #[test]
    fn the_weekday_when_it_is_not_today() {
        let at = |text: &str| DateTime::parse_from_rfc3339(text).unwrap();
        let now = at("2026-05-12T22:42:20-05:00");
        assert_eq!(wall(at("2026-05-12T23:10:59-05:00"), now), "23:10");
        assert_eq!(wall(at("2026-05-13T00:10:00-05:00"), now), "Wed 00:10");
        assert_eq!(wall(at("2026-05-11T09:00:00-05:00"), now), "Mon 09:00");
        assert_eq!(wall(at("2026-05-19T09:00:00-05:00"), now), "Tue 19 May 09:00");
    }
}
