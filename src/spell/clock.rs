//! The clock that a spell runs on, and deadlines on it as people read them.

use crate::weather::{DAY, HOUR, month_and_day, weekday};

/// Deadlines are in full tens of minutes, s.
const STEP: f64 = 600.0;
/// A weekday of a longer spell needs its date, s.
const WEEK: f64 = 6.0 * DAY;

/// The clock of a spell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Clock {
    /// The time from the start.
    FromStart,
    /// Days and times of day; the spell starts at midnight of day 1.
    FromMidnight,
    /// Weekdays and times of day.
    Weekdays {
        /// The start of the spell, s since the start of a Thursday.
        start: f64,
        /// Whether the days have dates.
        is_dated: bool,
        /// Whether the times are UTC.
        is_utc: bool,
    },
    /// Dates of a typical year.
    Dates {
        /// The start of the spell, s since the start of 1970.
        start: f64,
    },
}

impl Clock {
    /// A deadline `time` s after the start of a spell of `length` s, rounded down to 10 minutes: `by 00:40 Fri`,
    /// `within 6 h 40 min`, or `before 18:00 Thu` in its first 10 minutes.
    pub fn deadline(self, time: f64, length: f64) -> String {
        let is_start = time < STEP;
        let floor = |time: f64| (time / STEP).floor() * STEP;
        let point = match self {
            Self::FromStart if is_start => "the start".to_owned(),
            Self::FromStart => return format!("within {}", duration(floor(time))),
            Self::FromMidnight if is_start => "day 1".to_owned(),
            Self::FromMidnight => {
                format!("{} day {}", time_of_day(floor(time)), (floor(time) / DAY).floor() + 1.0)
            }
            Self::Weekdays { start, is_dated, is_utc } => {
                let at = floor(start + time);
                let (month, day) = month_and_day(at);
                let utc = if is_utc { " UTC" } else { "" };
                let date = if is_dated && length > WEEK { format!(" {month}/{day}") } else { String::new() };
                format!("{}{utc} {}{date}", time_of_day(at), weekday(at))
            }
            Self::Dates { start } => {
                let at = floor(start + time);
                let (month, day) = month_and_day(at);
                format!("{} {month}/{day}", time_of_day(at))
            }
        };
        format!("{} {point}", if is_start { "before" } else { "by" })
    }
}

/// `06:40`.
fn time_of_day(seconds: f64) -> String {
    let of_day = seconds.rem_euclid(DAY);
    format!("{:02}:{:02}", (of_day / HOUR).floor(), (of_day % HOUR / 60.0).floor())
}

/// `6 h 40 min`.
fn duration(seconds: f64) -> String {
    let (hours, minutes) = ((seconds / HOUR).floor(), (seconds % HOUR / 60.0).floor());
    match (hours, minutes) {
        (0.0, _) => format!("{minutes} min"),
        (_, 0.0) => format!("{hours} h"),
        _ => format!("{hours} h {minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // 2026-01-15 was a Thursday: `date -d 2026-01-15 +%a`. 1_768_500_000 s is 18:00 of it.
    #[test]
    fn deadlines_are_rounded_down_on_their_clock() {
        let start = 1_768_500_000.0;
        let friday = Clock::Weekdays { start, is_dated: true, is_utc: false };
        let utc = Clock::Weekdays { start, is_dated: true, is_utc: true };
        for (clock, hours, days, text) in [
            (friday, 6.8, 2.0, "by 00:40 Fri"),
            (friday, 6.8, 9.0, "by 00:40 Fri 1/16"),
            (utc, 6.8, 2.0, "by 00:40 UTC Fri"),
            (friday, 0.0, 2.0, "before 18:00 Thu"),
            (Clock::FromStart, 6.8, 2.0, "within 6 h 40 min"),
            (Clock::FromStart, 0.4, 2.0, "within 20 min"),
            (Clock::FromStart, 3.0, 2.0, "within 3 h"),
            (Clock::FromStart, 0.1, 2.0, "before the start"),
            (Clock::FromMidnight, 30.8, 2.0, "by 06:40 day 2"),
            (Clock::FromMidnight, 0.0, 2.0, "before day 1"),
            (Clock::Dates { start }, 6.8, 2.0, "by 00:40 1/16"),
        ] {
            assert_eq!(clock.deadline(hours * HOUR, days * DAY), text);
        }
    }
}
