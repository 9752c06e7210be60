//! Moments and spans.

use boothside_core::session::clocks::DueAt;
use boothside_core::session::time::{Moment, Span};
use chrono::{DateTime, FixedOffset, TimeDelta};

use super::Words;

const MINUTE: i64 = 60;
const HOUR: i64 = 3_600;
const DAY: i64 = 86_400;

/// What a time is for, and so which way it is rounded: never to the unsafe side. Whoever writes a time
/// says which it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Time {
    /// From when something may be done: a minimum, a wait, a purge. Rounded up.
    Wait,
    /// Until when something must be done: a maximum, a last trigger. Rounded down.
    Limit,
    /// What has gone by. Rounded down.
    Past,
}

impl Time {
    /// So many whole units of `unit` milliseconds.
    const fn whole(self, ms: i64, unit: i64) -> i64 {
        match self {
            Self::Wait => ms.saturating_add(unit - 1) / unit,
            Self::Limit | Self::Past => ms / unit,
        }
    }
}

const SECOND_MS: i64 = 1_000;
const MINUTE_MS: i64 = MINUTE * SECOND_MS;
const HOUR_MS: i64 = HOUR * SECOND_MS;

/// A running clock, to the second: '6:44', '1:43:40', '3 d 4 h'. What lies behind it is 0:00.
#[must_use]
pub fn clocked(span: Span, time: Time) -> String {
    let ms = span.ms().max(0);
    let seconds = time.whole(ms, SECOND_MS);
    let (minutes, second) = (seconds / MINUTE, seconds % MINUTE);
    if seconds < HOUR {
        format!("{minutes}:{second:02}")
    } else if seconds < DAY {
        format!("{}:{:02}:{second:02}", seconds / HOUR, minutes % 60)
    } else {
        days(ms, time)
    }
}

fn days(ms: i64, time: Time) -> String {
    let hours = time.whole(ms, HOUR_MS);
    format!("{} d {} h", hours / 24, hours % 24)
}

/// A running clock as it stands large: '9:40' under 10 min, '13 min' from there on, '2 h 27' from an hour
/// on. Its parts are tied by no-break spaces.
#[must_use]
pub fn large(span: Span, time: Time) -> String {
    let ms = span.ms().max(0);
    let (seconds, minutes) = (time.whole(ms, SECOND_MS), time.whole(ms, MINUTE_MS));
    let text = match () {
        () if seconds < 10 * MINUTE => format!("{}:{:02}", seconds / MINUTE, seconds % MINUTE),
        () if minutes < 60 => format!("{minutes} min"),
        () if minutes < DAY / MINUTE => format!("{} h {:02}", minutes / 60, minutes % 60),
        () => days(ms, time),
    };
    text.replace(' ', "\u{a0}")
}

/// A span in words: '40 s', '12 min', '1 h 12 min', '3 d 4 h'. Without its sign.
#[must_use]
pub fn spoken(span: Span, time: Time) -> String {
    let ms = span.ms().saturating_abs();
    let (seconds, minutes) = (time.whole(ms, SECOND_MS), time.whole(ms, MINUTE_MS));
    if seconds < MINUTE {
        return format!("{seconds} s");
    }
    match (minutes / 60, minutes % 60) {
        (24.., _) => days(ms, time),
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// A moment of the wall rounded to the minute.
#[must_use]
pub fn to_the_minute(at: DateTime<FixedOffset>, time: Time) -> DateTime<FixedOffset> {
    let whole_ms = at.timestamp_millis().rem_euclid(MINUTE_MS);
    let up = time == Time::Wait && whole_ms > 0;
    let shift = if up { MINUTE_MS - whole_ms } else { 0 };
    at.checked_add_signed(TimeDelta::milliseconds(shift)).unwrap_or(at)
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
    /// The wall's time at `moment`, rounded as what it is for: '10:49', 'Wed 06:10'.
    #[must_use]
    pub fn clock(&self, moment: Moment, time: Time) -> String {
        wall(to_the_minute(self.eye.wall(moment), time), self.eye.wall(self.now()))
    }

    /// The time of day alone at which something was done.
    #[must_use]
    pub fn hour_of(&self, moment: Moment) -> String {
        self.eye.wall(moment).format("%H:%M").to_string()
    }

    /// When something was done, to the second.
    #[must_use]
    pub fn clock_to_the_second(&self, moment: Moment) -> String {
        let at = self.eye.wall(moment);
        format!("{}{}", self.clock(moment, Time::Past), at.format(":%S"))
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

    /// What is left until `moment`, to the second.
    #[must_use]
    pub fn left_until(&self, moment: Moment, time: Time) -> String {
        clocked(moment.since(self.now()), time)
    }

    /// What is left until `moment`, as it stands large.
    #[must_use]
    pub fn large_until(&self, moment: Moment, time: Time) -> String {
        large(moment.since(self.now()), time)
    }

    /// What has gone by since `moment`, as it stands large.
    #[must_use]
    pub fn large_since(&self, moment: Moment) -> String {
        large(self.now().since(moment), Time::Past)
    }

    /// A due time: a wall time, or why it never comes.
    #[must_use]
    pub fn due(&self, due: DueAt, time: Time) -> String {
        match due {
            DueAt::At(moment) => self.clock(moment, time),
            DueAt::Never(because) => self.never(because),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const DAY_S: f64 = 86_400.0;

    #[test]
    fn spans_as_a_clock_counts_them() {
        let clocked = |seconds: f64, time| clocked(Span::from_seconds(seconds), time);
        assert_eq!(clocked(404.0, Time::Wait), "6:44");
        assert_eq!(clocked(403.2, Time::Wait), "6:44", "a wait is not over early");
        assert_eq!(clocked(403.8, Time::Limit), "6:43", "a limit is not passed late");
        assert_eq!(clocked(0.001, Time::Wait), "0:01");
        assert_eq!(clocked(0.999, Time::Limit), "0:00");
        assert_eq!(clocked(-5.0, Time::Wait), "0:00");
        assert_eq!(clocked(6220.0, Time::Limit), "1:43:40");
        assert_eq!(clocked(3.0 * DAY_S + 4.5 * 3600.0, Time::Limit), "3 d 4 h");
        assert_eq!(clocked(3.0 * DAY_S + 4.5 * 3600.0, Time::Wait), "3 d 5 h");
        assert_eq!(clocked(59.9, Time::Past), "0:59");
    }

    #[test]
    fn spans_as_people_say_them() {
        let said = |minutes: f64, time| spoken(Span::from_seconds(minutes * 60.0), time);
        assert_eq!(said(0.0, Time::Past), "0 s");
        assert_eq!(said(47.0, Time::Past), "47 min");
        assert_eq!(said(-72.0, Time::Wait), "1 h 12 min");
        assert_eq!(said(120.0, Time::Limit), "2 h");
        assert_eq!(said(60.0 * 76.0, Time::Wait), "3 d 4 h");
        // a purge of 13.99 min is not done after 13
        assert_eq!(said(13.99, Time::Wait), "14 min");
        assert_eq!(said(13.99, Time::Limit), "13 min");
        assert_eq!(said(0.995, Time::Wait), "1 min");
        assert_eq!(said(59.5, Time::Wait), "1 h");
        assert_eq!(said(59.5, Time::Past), "59 min");
        assert_eq!(said(24.0 * 60.0 - 0.5, Time::Wait), "1 d 0 h");
    }

    #[test]
    fn large_clocks_say_what_can_be_read_from_afar() {
        let large =
            |seconds: f64, time| large(Span::from_seconds(seconds), time).replace('\u{a0}', " ");
        assert_eq!(large(580.0, Time::Wait), "9:40");
        assert_eq!(large(599.5, Time::Wait), "10 min");
        assert_eq!(large(599.5, Time::Limit), "9:59");
        assert_eq!(large(760.0, Time::Wait), "13 min");
        assert_eq!(large(779.0, Time::Limit), "12 min");
        assert_eq!(large(3_590.0, Time::Wait), "1 h 00");
        assert_eq!(large(3_590.0, Time::Limit), "59 min");
        assert_eq!(large(8_820.0, Time::Wait), "2 h 27");
        assert_eq!(large(4.0 * DAY_S, Time::Wait), "4 d 0 h");
        assert_eq!(large(-3.0, Time::Wait), "0:00");
    }

    #[test]
    fn what_may_be_done_is_never_told_early_and_what_must_be_never_late() {
        let at = |text: &str| DateTime::parse_from_rfc3339(text).unwrap();
        let due = at("2026-05-12T08:40:27-05:00");
        let minute = |time| to_the_minute(due, time).format("%H:%M:%S").to_string();
        assert_eq!(minute(Time::Wait), "08:41:00");
        assert_eq!(minute(Time::Limit), "08:40:27");
        assert_eq!(
            to_the_minute(at("2026-05-12T08:40:00Z"), Time::Wait),
            at("2026-05-12T08:40:00Z")
        );
        // into the next day
        let late = to_the_minute(at("2026-05-12T23:59:30-05:00"), Time::Wait);
        assert_eq!(wall(late, due), "Wed 00:00");
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
