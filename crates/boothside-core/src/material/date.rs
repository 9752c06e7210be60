//! Dates as sheets and cans print them: `2024`, `2024-06`, `2024-06-15` (ISO 8601).

/// Whether a text is a month or a day of the calendar from 2000 on: `2027-03`, `2027-03-15`.
#[must_use]
pub fn is_month_or_day(text: &str) -> bool {
    is_year_month_or_day(text) && text.len() > 4 && text >= "2000"
}

/// Whether a text is a year, a month or a day of the calendar from 1900 on: `2024`, `2024-06`,
/// `2024-06-15`.
#[must_use]
pub fn is_year_month_or_day(text: &str) -> bool {
    let mut pieces = text.split('-');
    let year = pieces.next().and_then(|piece| number(piece, 4));
    let Some(year) = year.filter(|year| *year >= 1900) else { return false };
    let Some(month) = pieces.next() else { return true };
    let Some(month) = number(month, 2).filter(|month| (1..=12).contains(month)) else {
        return false;
    };
    let Some(day) = pieces.next() else { return true };
    let fits = number(day, 2).is_some_and(|day| (1..=days(year, month)).contains(&day));
    fits && pieces.next().is_none()
}

fn number(piece: &str, digits: usize) -> Option<u32> {
    let fits = piece.len() == digits && piece.bytes().all(|byte| byte.is_ascii_digit());
    piece.parse().ok().filter(|_| fits)
}

/// Days of a month, Gregorian.
const fn days(year: u32, month: u32) -> u32 {
    match month {
        2 if year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400)) => {
            29
        }
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// Whether a month or day is past on the day `today` (`2026-05-12`, or a longer RFC 3339 text). A
/// month lasts to its end.
#[must_use]
pub fn is_past(until: &str, today: &str) -> bool {
    // dates of the same form sort as text
    !until.is_empty() && today.get(..until.len()).is_some_and(|today| today > until)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_of_the_calendar_and_no_others() {
        for date in ["2024", "1998-12", "2024-02-29", "2000-02-29", "2027-03-31"] {
            assert!(is_year_month_or_day(date), "{date}");
        }
        for wrong in [
            "",
            "24",
            "1899",
            "2024-",
            "2024-00",
            "2024-13",
            "2024-6",
            "2023-02-29",
            "2100-02-29",
            "2024-04-31",
            "2024-06-00",
            "2024-06-15-1",
            "2024/06",
            "+024",
            "2024-06-15 ",
        ] {
            assert!(!is_year_month_or_day(wrong), "{wrong}");
        }
    }

    #[test]
    fn a_can_s_date_is_a_month_or_a_day() {
        assert!(is_month_or_day("2027-03") && is_month_or_day("2027-03-15"));
        for wrong in ["2027", "1999-12", "2027-02-30"] {
            assert!(!is_month_or_day(wrong), "{wrong}");
        }
    }
}
