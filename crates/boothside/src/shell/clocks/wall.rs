//! Session time as the wall shows it, for the eye.
//!
//! A local time may come twice a year or not at all, so moments are kept in UTC and only shown in local
//! time; the way back ([`WallStamp::last_at`]) says so when there is none.

use chrono::{
    DateTime, Days, FixedOffset, Local, NaiveDate, NaiveDateTime, NaiveTime, Offset, SecondsFormat,
    TimeDelta, TimeZone, Utc,
};

/// A time zone: which offset holds at an instant.
pub trait Zone {
    /// The offset of local time from UTC at `utc`.
    fn offset_at(&self, utc: DateTime<Utc>) -> FixedOffset;
}

/// The zone that the machine is set to.
#[derive(Debug, Clone, Copy, Default)]
pub struct LocalZone;

impl Zone for LocalZone {
    fn offset_at(&self, utc: DateTime<Utc>) -> FixedOffset {
        Local.offset_from_utc_datetime(&utc.naive_utc()).fix()
    }
}

/// Universal time.
#[derive(Debug, Clone, Copy, Default)]
pub struct UtcZone;

impl Zone for UtcZone {
    fn offset_at(&self, _: DateTime<Utc>) -> FixedOffset {
        Utc.fix()
    }
}

/// 0001-01-03 in ms since 1970: two days into the year 1, so that no offset leaves it.
const EARLIEST_MS: i64 = -62_135_424_000_000;
/// 9999-12-29 in ms since 1970, for the same reason.
const LATEST_MS: i64 = 253_402_041_600_000;

/// A session time and the wall's time that belongs to it: which wall's time any other session time
/// has, as the clocks stand now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WallStamp {
    t_ms: i64,
    utc: DateTime<Utc>,
}

impl WallStamp {
    /// Session time `t_ms` is `utc`.
    #[must_use]
    pub const fn new(t_ms: i64, utc: DateTime<Utc>) -> Self {
        Self { t_ms, utc }
    }

    /// The instant of session time `t_ms`, held within the years 1 to 9999 (what RFC 3339 can
    /// write in every zone).
    #[must_use]
    pub fn utc_of(&self, t_ms: i64) -> DateTime<Utc> {
        let since_ms = t_ms.saturating_sub(self.t_ms);
        let utc_ms = self.utc.timestamp_millis().saturating_add(since_ms);
        DateTime::from_timestamp_millis(utc_ms.clamp(EARLIEST_MS, LATEST_MS)).unwrap_or(self.utc)
    }

    /// Session time `t_ms` on the wall, in the offset that `zone` has at that instant.
    #[must_use]
    pub fn wall_of(&self, t_ms: i64, zone: &dyn Zone) -> DateTime<FixedOffset> {
        let utc = self.utc_of(t_ms);
        utc.with_timezone(&zone.offset_at(utc))
    }

    /// Session time `t_ms` as an entry's `at`: RFC 3339 with milliseconds and offset.
    #[must_use]
    pub fn at(&self, t_ms: i64, zone: &dyn Zone) -> String {
        self.wall_of(t_ms, zone).to_rfc3339_opts(SecondsFormat::Millis, false)
    }

    /// The session time of an instant.
    #[must_use]
    pub fn t_of(&self, utc: DateTime<Utc>) -> i64 {
        let since_ms = utc.timestamp_millis().saturating_sub(self.utc.timestamp_millis());
        self.t_ms.saturating_add(since_ms)
    }

    /// When the wall last showed `time`, not after session time `now_ms`: what a painter means by
    /// 'taken at 10:20'. Of a time that came twice, the later; none where neither today nor yesterday
    /// had it.
    #[must_use]
    pub fn last_at(&self, time: NaiveTime, now_ms: i64, zone: &dyn Zone) -> Option<i64> {
        let now = self.wall_of(now_ms, zone);
        [0, 1]
            .into_iter()
            .filter_map(|days| now.date_naive().checked_sub_days(Days::new(days)))
            .flat_map(|day| instants_of(day.and_time(time), zone))
            .filter(|utc| *utc <= now)
            .max()
            .map(|utc| self.t_of(utc))
    }
}

/// The first instant of `day` as `zone` has it; a zone that shifts at midnight begins it an hour
/// later.
#[must_use]
pub fn first_of_day(day: NaiveDate, zone: &dyn Zone) -> Option<DateTime<Utc>> {
    let at = |hour| day.and_hms_opt(hour, 0, 0);
    let begins = |hour| instants_of(at(hour)?, zone).into_iter().min();
    begins(0).or_else(|| begins(1))
}

/// The instants at which `zone` shows `local`: none, one or two.
fn instants_of(local: NaiveDateTime, zone: &dyn Zone) -> Vec<DateTime<Utc>> {
    // no zone shifts twice within two days: the offsets of the day before and after are all there are
    let mut found: Vec<_> = [-1, 1]
        .into_iter()
        .filter_map(|days| local.checked_add_signed(TimeDelta::days(days)))
        .map(|near| zone.offset_at(near.and_utc()))
        .filter_map(|offset| offset.from_local_datetime(&local).single())
        .map(|wall| wall.to_utc())
        .filter(|utc| utc.with_timezone(&zone.offset_at(*utc)).naive_local() == local)
        .collect();
    found.dedup();
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono_tz::{America::Chicago, Europe::Berlin, Tz};

    impl Zone for Tz {
        fn offset_at(&self, utc: DateTime<Utc>) -> FixedOffset {
            self.offset_from_utc_datetime(&utc.naive_utc()).fix()
        }
    }

    const HOUR: i64 = 3_600_000;

    fn stamp(rfc3339: &str) -> WallStamp {
        let wall = DateTime::parse_from_rfc3339(rfc3339).unwrap();
        WallStamp::new(0, wall.to_utc())
    }

    fn time(hour: u32, minute: u32) -> NaiveTime {
        NaiveTime::from_hms_opt(hour, minute, 0).unwrap()
    }

    // Dates of the change: Directive 2000/84/EC (last Sunday of March and October, 01:00 UTC);
    // 15 U.S.C. 260a (second Sunday of March, first Sunday of November, 2 o'clock local).

    #[test]
    fn the_night_in_which_summer_time_ends_is_an_hour_longer() {
        let evening = stamp("2026-10-24T22:00:00+02:00");
        assert_eq!(evening.at(11 * HOUR, &Berlin), "2026-10-25T08:00:00.000+01:00");
        let evening = stamp("2026-10-31T22:00:00-05:00");
        assert_eq!(evening.at(11 * HOUR, &Chicago), "2026-11-01T08:00:00.000-06:00");
    }

    #[test]
    fn the_night_in_which_summer_time_begins_is_an_hour_shorter() {
        let evening = stamp("2026-03-28T22:00:00+01:00");
        assert_eq!(evening.at(9 * HOUR, &Berlin), "2026-03-29T08:00:00.000+02:00");
    }

    #[test]
    fn of_a_time_that_came_twice_the_later_is_meant() {
        let evening = stamp("2026-10-24T22:00:00+02:00");
        // 02:30 comes after 4.5 h (+02:00) and after 5.5 h (+01:00)
        assert_eq!(evening.last_at(time(2, 30), 5 * HOUR, &Berlin), Some(9 * HOUR / 2));
        assert_eq!(evening.last_at(time(2, 30), 6 * HOUR, &Berlin), Some(11 * HOUR / 2));
    }

    #[test]
    fn a_time_that_the_night_left_out_is_yesterday_s_or_none() {
        let evening = stamp("2026-03-28T22:00:00+01:00");
        // at 08:00 on the 29th there was no 02:30 today; yesterday's was 19.5 h before the evening
        assert_eq!(evening.last_at(time(2, 30), 9 * HOUR, &Berlin), Some(-39 * HOUR / 2));
        let day_after = stamp("2026-03-30T01:00:00+02:00");
        assert_eq!(day_after.last_at(time(2, 30), 0, &Berlin), None);
    }

    #[test]
    fn a_time_later_than_now_was_yesterday() {
        let noon = stamp("2026-05-12T12:00:00-05:00");
        assert_eq!(noon.last_at(time(12, 0), 0, &Chicago), Some(0));
        assert_eq!(noon.last_at(time(12, 1), 0, &Chicago), Some(HOUR / 60 - 24 * HOUR));
    }

    #[test]
    fn absurd_moments_stay_within_what_can_be_written() {
        let noon = stamp("2026-05-12T12:00:00Z");
        for zone in [Berlin, Chicago] {
            assert!(noon.at(i64::MAX, &zone).starts_with("9999-12-2"));
            assert_eq!(noon.utc_of(i64::MAX).to_string(), "9999-12-29 00:00:00 UTC");
            assert_eq!(noon.utc_of(i64::MIN).to_string(), "0001-01-03 00:00:00 UTC");
            assert!(noon.at(i64::MIN, &zone).starts_with("0001-01-0"));
        }
    }

    #[test]
    fn an_instant_and_its_session_time_agree() {
        let noon = stamp("2026-05-12T12:00:00Z");
        assert_eq!(noon.t_of(noon.utc_of(-12_345)), -12_345);
    }

    #[test]
    fn the_machine_s_zone_answers_in_every_hour_of_a_year() {
        let start = stamp("2026-01-01T00:00:00Z");
        for hour in 0..8_760 {
            let wall = start.wall_of(hour * HOUR, &LocalZone);
            assert_eq!(wall.to_utc(), start.utc_of(hour * HOUR));
        }
    }
}
