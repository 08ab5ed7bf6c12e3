//! A day of the calendar, as an input: nothing here knows what day it is.

use core::fmt;

/// A day, year, month and day of the Gregorian calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// The day that a text such as `2026-11-25` names; none where there is no such day.
    pub fn parse(text: &str) -> Option<Self> {
        let parts: Vec<&str> = text.split('-').collect();
        let &[year, month, day] = parts.as_slice() else { return None };
        let date = Self {
            year: digits(year, 4)?,
            month: u8::try_from(digits(month, 2)?).ok()?,
            day: u8::try_from(digits(day, 2)?).ok()?,
        };
        (1..=date.days_of_month()).contains(&date.day).then_some(date)
    }

    fn days_of_month(self) -> u8 {
        let year = self.year;
        let leap =
            year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        match self.month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            _ => 0,
        }
    }

    /// How many days after another day this one comes; negative where it comes before.
    pub fn days_after(self, other: Self) -> i64 {
        self.number() - other.number()
    }

    /// Days since the day before 1 January of the year 0. A year is counted from March, so that the odd day of a leap
    /// year is its last: months of 31 and 30 days then follow (153 m + 2) / 5.
    fn number(self) -> i64 {
        let (year, month, day) = (i64::from(self.year), i64::from(self.month), i64::from(self.day));
        let (year, month) = if month > 2 { (year, month - 3) } else { (year - 1, month + 9) };
        let leap_days = year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
        365 * year + leap_days + (153 * month + 2) / 5 + day + 60
    }
}

fn digits(text: &str, count: usize) -> Option<u16> {
    let good = text.len() == count && text.bytes().all(|b| b.is_ascii_digit());
    if good { text.parse().ok() } else { None }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> Date {
        Date::parse(text).unwrap_or_else(|| panic!("{text} is a day"))
    }

    #[test]
    fn a_day_that_the_calendar_does_not_have_is_none() {
        for text in ["2026-02-29", "1900-02-29", "2026-13-01", "2026-00-01", "2026-11-31"] {
            assert_eq!(Date::parse(text), None, "{text}");
        }
        for text in ["26-11-25", "2026-1-05", "2026/11/25", "2026-11-25-1", "", "+026-11-25"] {
            assert_eq!(Date::parse(text), None, "{text}");
        }
        assert_eq!(day("2000-02-29").to_string(), "2000-02-29");
    }

    // Julian day numbers of tables of astronomers, from memory: J2000.0 is noon of 1 January 2000, 2 451 545; the
    // epoch of modified Julian days is 17 November 1858, 2 400 001 at noon; 1 January 1970 at noon is 2 440 588.
    #[test]
    fn days_between_dates_are_those_between_their_julian_numbers() {
        assert_eq!(day("2000-01-01").days_after(day("1858-11-17")), 2_451_545 - 2_400_001);
        assert_eq!(day("2000-01-01").days_after(day("1970-01-01")), 2_451_545 - 2_440_588);
        assert_eq!(day("1970-01-01").days_after(day("2000-01-01")), 2_440_588 - 2_451_545);
    }

    #[test]
    fn every_day_of_400_years_comes_one_after_the_day_before() {
        let mut before: Option<Date> = None;
        let mut count = 0;
        for year in 1900..2300 {
            for month in 1..=12 {
                for number in 1..=31 {
                    let text = format!("{year:04}-{month:02}-{number:02}");
                    let Some(date) = Date::parse(&text) else { continue };
                    if let Some(before) = before {
                        assert_eq!(date.days_after(before), 1, "{text}");
                        assert!(date > before, "{text}");
                    }
                    before = Some(date);
                    count += 1;
                }
            }
        }
        // The Gregorian calendar repeats after 146 097 days.
        assert_eq!(count, 146_097);
    }
}
