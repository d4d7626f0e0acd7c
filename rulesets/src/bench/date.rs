//! Days of the calendar.
//!
//! Two things are asked of a date: whether it is one, and how many days lie between two. That takes
//! the few lines below (the Gregorian calendar, as ISO 8601 has it for all years). A crate for dates
//! brings clocks and time zones, which nothing here may read.

use std::fmt;

/// A day, written `2026-11-29`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: i64,
    month: i64,
    day: i64,
}

impl Date {
    /// Reads a calendar date in the extended format of ISO 8601 with four digits of the year. None if
    /// it is written otherwise, or the calendar has no such day.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let mut parts = text.split('-');
        let mut number = |digits: usize| {
            let part = parts.next()?;
            let plain = part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit());
            plain.then(|| part.parse().ok()).flatten()
        };
        let date = Self {
            year: number(4)?,
            month: number(2)?,
            day: number(2)?,
        };
        let days = date.days_in_month()?;
        (parts.next().is_none() && (1..=days).contains(&date.day)).then_some(date)
    }

    /// How many days this is after another; negative if it is before.
    #[must_use]
    pub const fn days_since(self, other: Self) -> i64 {
        self.number() - other.number()
    }

    /// The days of its month; none if there is no such month.
    const fn days_in_month(self) -> Option<i64> {
        let leap = self.year % 4 == 0 && (self.year % 100 != 0 || self.year % 400 == 0);
        match self.month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => Some(31),
            4 | 6 | 9 | 11 => Some(30),
            2 if leap => Some(29),
            2 => Some(28),
            _ => None,
        }
    }

    /// Its day, counted from the first of March of the year 0: with March as the first month the leap
    /// day is the last of a year, and five months in a row have 153 days.
    const fn number(self) -> i64 {
        let (year, month) = match self.month {
            1 | 2 => (self.year - 1, self.month + 9),
            _ => (self.year, self.month - 3),
        };
        let leap_days = year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
        365 * year + leap_days + (153 * month + 2) / 5 + self.day - 1
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// The time between two days, of which the hours are not known: a day more or less.
pub(super) fn between(days: i64) -> String {
    match days {
        0 => "0..1 d".to_owned(),
        days => format!("{}..{} d", days - 1, days + 1),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> Date {
        Date::parse(text).expect("a date")
    }

    #[test]
    fn only_days_of_the_calendar_are_dates() {
        for text in [
            "2026-11-29",
            "2024-02-29",
            "2000-02-29",
            "0001-01-01",
            "9999-12-31",
        ] {
            assert_eq!(date(text).to_string(), text);
        }
        let none = [
            "",
            "2026",
            "2026-11",
            "2026-11-31",
            "2026-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-00-10",
            "2026-10-00",
            "26-11-29",
            "2026-1-29",
            "29.11.2026",
            "2026/11/29",
            "2026-11-29-1",
            "2026-11-29T10:00",
            "+2026-11-29",
            "2026-11-٢٩",
            " 2026-11-29",
        ];
        for text in none {
            assert_eq!(Date::parse(text), None, "{text}");
        }
    }

    /// Julian days of the Astronomical Almanac: 2000-01-01 noon is 2451545, 1858-11-17 is 2400001
    /// (day 0 of the modified count is its midnight, 2400000.5), 1970-01-01 is 2440588.
    #[test]
    fn days_between_are_those_of_the_julian_count() {
        let all = [
            ("1858-11-17", 2_400_001),
            ("1970-01-01", 2_440_588),
            ("2000-01-01", 2_451_545),
        ];
        for (one, of_one) in all {
            for (other, of_other) in all {
                assert_eq!(date(one).days_since(date(other)), of_one - of_other);
            }
        }
        assert_eq!(date("2024-03-01").days_since(date("2024-02-28")), 2);
        assert_eq!(date("2026-03-01").days_since(date("2026-02-28")), 1);
        assert_eq!(date("2026-01-01").days_since(date("2025-12-31")), 1);
    }

    /// Each day that the calendar has is one day after the one before it.
    #[test]
    fn no_day_is_left_out() {
        let mut before: Option<Date> = None;
        let days = (1895..2005).flat_map(|year| {
            (1..=12).flat_map(move |month| (1..=31).map(move |day| Date { year, month, day }))
        });
        let mut count = 0;
        for day in days.filter(|day| Date::parse(&day.to_string()).is_some()) {
            assert_eq!(
                before.map_or(1, |before| day.days_since(before)),
                1,
                "{day}"
            );
            before = Some(day);
            count += 1;
        }
        assert_eq!(count, 110 * 365 + 27); // 1900 is no leap year, 2000 is one
    }
}
