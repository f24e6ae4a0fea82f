//! A calendar date as text, YYYY-MM-DD.

use std::fmt;
use std::str::FromStr;

use super::JournalError;

/// A day of the Gregorian calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// The day so many days after 1 January 1970; none before year 1 or after 9999.
    ///
    /// Source: the civil-from-days algorithm of H. Hinnant, chrono-Compatible Low-Level Date Algorithms (2013).
    pub fn from_days_since_1970(days: i64) -> Option<Self> {
        if !(-719_162..=2_932_896).contains(&days) {
            return None;
        }
        let shifted = days + 719_468;
        let era = shifted.div_euclid(146_097);
        let day_of_era = shifted.rem_euclid(146_097);
        let year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
        let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let shifted_month = (5 * day_of_year + 2) / 153;
        let day = day_of_year - (153 * shifted_month + 2) / 5 + 1;
        let month = if shifted_month < 10 { shifted_month + 3 } else { shifted_month - 9 };
        let year = year_of_era + era * 400 + i64::from(month <= 2);
        Some(Self {
            year: u16::try_from(year).ok()?,
            month: u8::try_from(month).ok()?,
            day: u8::try_from(day).ok()?,
        })
    }

    /// Days since 1 January 1970.
    ///
    /// Source: the days-from-civil algorithm of the same work.
    pub fn days_since_1970(self) -> i64 {
        let year = i64::from(self.year) - i64::from(self.month <= 2);
        let month = i64::from(self.month);
        let shifted_month = if month > 2 { month - 3 } else { month + 9 };
        let era = year.div_euclid(400);
        let year_of_era = year.rem_euclid(400);
        let day_of_year = (153 * shifted_month + 2) / 5 + i64::from(self.day) - 1;
        let day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
        era * 146_097 + day_of_era - 719_468
    }

    /// The day so many days later, whole days counted; none beyond the calendar.
    pub fn plus_days(self, days: f64) -> Option<Self> {
        #[allow(
            clippy::cast_possible_truncation,
            reason = "the cast saturates, and what is beyond the calendar is refused"
        )]
        let days = days.floor() as i64;
        Self::from_days_since_1970(self.days_since_1970().checked_add(days)?)
    }
}

impl FromStr for Date {
    type Err = JournalError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let text = text.trim();
        let wrong = || JournalError::Date { text: text.chars().take(40).collect() };
        let digits =
            |part: &str, width: usize| part.len() == width && part.bytes().all(|byte| byte.is_ascii_digit());
        let mut pieces = text.split('-');
        let (Some(year), Some(month), Some(day), None) =
            (pieces.next(), pieces.next(), pieces.next(), pieces.next())
        else {
            return Err(wrong());
        };
        if !digits(year, 4) || !digits(month, 2) || !digits(day, 2) {
            return Err(wrong());
        }
        let date = Self {
            year: year.parse().map_err(|_| wrong())?,
            month: month.parse().map_err(|_| wrong())?,
            day: day.parse().map_err(|_| wrong())?,
        };
        let leap =
            date.year.is_multiple_of(4) && (!date.year.is_multiple_of(100) || date.year.is_multiple_of(400));
        let longest = match date.month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            _ => return Err(wrong()),
        };
        if date.year == 0 || date.day == 0 || date.day > longest { Err(wrong()) } else { Ok(date) }
    }
}

impl fmt::Display for Date {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_days_that_exist_are_dates() {
        for good in ["2026-11-25", "2024-02-29", "2000-02-29", "0001-01-01"] {
            assert_eq!(good.parse::<Date>().unwrap().to_string(), good);
        }
        for bad in [
            "2026-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-00-10",
            "2026-04-31",
            "26-11-25",
            "2026-11-2",
            "",
            "25.11.2026",
            "2026-11-25-1",
            "+026-11-25",
        ] {
            assert!(bad.parse::<Date>().is_err(), "{bad}");
        }
    }

    // Source: the calendar itself; day 0 is 1 January 1970, and 2000-03-01 is day 11017 by counting leap days.
    #[test]
    fn days_since_1970_become_dates() {
        for (days, date) in
            [(0, "1970-01-01"), (11_017, "2000-03-01"), (-1, "1969-12-31"), (20_782, "2026-11-25")]
        {
            assert_eq!(Date::from_days_since_1970(days).unwrap().to_string(), date);
        }
        assert_eq!(Date::from_days_since_1970(i64::MAX), None);
    }

    #[test]
    fn dates_become_days_since_1970_and_back() {
        for days in (-719_162..2_932_896).step_by(997) {
            assert_eq!(Date::from_days_since_1970(days).unwrap().days_since_1970(), days);
        }
    }

    // Source: the calendar itself.
    #[test]
    fn days_are_added_over_months_years_and_leap_days() {
        for (from, days, to) in [
            ("2026-11-25", 180.0, "2027-05-24"),
            ("2024-02-28", 1.0, "2024-02-29"),
            ("2025-02-28", 1.9, "2025-03-01"),
            ("2026-12-31", 0.0, "2026-12-31"),
        ] {
            assert_eq!(from.parse::<Date>().unwrap().plus_days(days).unwrap().to_string(), to);
        }
        assert_eq!("9999-12-31".parse::<Date>().unwrap().plus_days(1.0), None);
        assert_eq!("2026-01-01".parse::<Date>().unwrap().plus_days(1e300), None);
    }
}
