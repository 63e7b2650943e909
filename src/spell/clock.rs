//! The clock that a spell runs on, and deadlines on it as people read them.

use crate::units::System;
use crate::weather::{DAY, HOUR, month_and_day, weekday};

/// Deadlines are in full tens of minutes, s.
const STEP: f64 = 600.0;
/// Until when it is still the night of the day before, s of the day.
const NIGHT: f64 = 5.0 * HOUR;
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
    /// A deadline `time` s after the start of a spell of `length` s, rounded down to 10 minutes: `by 6:40 PM Fri`, with metric
    /// units `by 18:40 Fri`; `within 6 h 40 min`, or `before noon Thu` in its first 10 minutes.
    pub fn deadline(self, time: f64, length: f64, system: System) -> String {
        let is_start = time < STEP;
        let full = |time: f64| (time / STEP).floor() * STEP;
        let floor = |time: f64| {
            let time = full(time);
            // People take "12:00 AM Fri" for either end of that day.
            let is_midnight = time.rem_euclid(DAY) == 0.0;
            if is_midnight && system == System::Us && !is_start { time - STEP } else { time }
        };
        let point = match self {
            Self::FromStart | Self::FromMidnight if is_start => "the cold".to_owned(),
            Self::FromStart => return format!("within {}", duration(full(time))),
            Self::FromMidnight => {
                format!("{} day {}", time_of_day(floor(time), system), (floor(time) / DAY).floor() + 1.0)
            }
            Self::Weekdays { start, is_dated, is_utc } => {
                let at = floor(start + time);
                let (month, day) = month_and_day(at);
                let utc = if is_utc { " UTC" } else { "" };
                let date = if is_dated && length > WEEK { format!(" {month}/{day}") } else { String::new() };
                // "12:20 AM Wed" is taken for the night after Wednesday as well.
                let night = match system {
                    System::Us if at.rem_euclid(DAY) < NIGHT => format!(" ({} night)", weekday(at - DAY)),
                    System::Us | System::Si => String::new(),
                };
                format!("{}{utc} {}{date}{night}", time_of_day(at, system), weekday(at))
            }
            Self::Dates { start } => {
                let at = floor(start + time);
                let (month, day) = month_and_day(at);
                format!("{} {month}/{day}", time_of_day(at, system))
            }
        };
        format!("{} {point}", if is_start { "before" } else { "by" })
    }

    /// A time `time` s after the start with its day and date: `6:40 PM Fri 1/16`. `None` on a clock without days.
    pub fn moment(self, time: f64, system: System) -> Option<String> {
        let (at, weekday) = match self {
            Self::FromStart | Self::FromMidnight => return None,
            Self::Weekdays { start, .. } => (start + time, Some(weekday(start + time))),
            Self::Dates { start } => (start + time, None),
        };
        let (month, day) = month_and_day(at);
        let has_date = !matches!(self, Self::Weekdays { is_dated: false, .. });
        let utc = matches!(self, Self::Weekdays { is_utc: true, .. }).then(|| "UTC".to_owned());
        let date = has_date.then(|| format!("{month}/{day}"));
        let parts = [Some(time_of_day(at, system)), utc, weekday.map(str::to_owned), date];
        Some(parts.into_iter().flatten().collect::<Vec<_>>().join(" "))
    }
}

/// `6:40 AM`, with metric units `06:40`.
fn time_of_day(seconds: f64, system: System) -> String {
    let of_day = seconds.rem_euclid(DAY);
    let (hour, minute) = ((of_day / HOUR).floor(), (of_day % HOUR / 60.0).floor());
    match (system, hour, minute) {
        (System::Si, ..) => format!("{hour:02}:{minute:02}"),
        (System::Us, 12.0, 0.0) => "noon".into(),
        (System::Us, 0.0, 0.0) => "midnight".into(),
        (System::Us, ..) => {
            let half = if hour < 12.0 { "AM" } else { "PM" };
            format!("{}:{minute:02} {half}", (hour + 11.0) % 12.0 + 1.0)
        }
    }
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
        let midnight = Clock::Weekdays { start: start + 6.0 * HOUR, is_dated: true, is_utc: false };
        for (clock, hours, days, metric, us) in [
            (friday, 6.8, 2.0, "by 00:40 Fri", "by 12:40 AM Fri (Thu night)"),
            (friday, 4.8, 2.0, "by 22:40 Thu", "by 10:40 PM Thu"),
            (friday, 6.0, 2.0, "by 00:00 Fri", "by 11:50 PM Thu"),
            (friday, 18.1, 2.0, "by 12:00 Fri", "by noon Fri"),
            (friday, 6.8, 9.0, "by 00:40 Fri 1/16", "by 12:40 AM Fri 1/16 (Thu night)"),
            (utc, 6.8, 2.0, "by 00:40 UTC Fri", "by 12:40 AM UTC Fri (Thu night)"),
            (friday, 0.0, 2.0, "before 18:00 Thu", "before 6:00 PM Thu"),
            (midnight, 0.0, 2.0, "before 00:00 Fri", "before midnight Fri (Thu night)"),
            (Clock::FromStart, 6.8, 2.0, "within 6 h 40 min", "within 6 h 40 min"),
            (Clock::FromStart, 0.4, 2.0, "within 20 min", "within 20 min"),
            (Clock::FromStart, 24.0, 2.0, "within 24 h", "within 24 h"),
            (Clock::FromStart, 0.1, 2.0, "before the cold", "before the cold"),
            (Clock::FromMidnight, 30.8, 2.0, "by 06:40 day 2", "by 6:40 AM day 2"),
            (Clock::FromMidnight, 24.0, 2.0, "by 00:00 day 2", "by 11:50 PM day 1"),
            (Clock::FromMidnight, 0.0, 2.0, "before the cold", "before the cold"),
            (Clock::Dates { start }, 6.8, 2.0, "by 00:40 1/16", "by 12:40 AM 1/16"),
        ] {
            assert_eq!(clock.deadline(hours * HOUR, days * DAY, System::Si), metric);
            assert_eq!(clock.deadline(hours * HOUR, days * DAY, System::Us), us);
        }
        let moments = [friday, utc, Clock::Dates { start }, Clock::FromMidnight];
        let moments = moments.map(|clock| clock.moment(6.0 * HOUR, System::Us));
        let expected = ["midnight Fri 1/16", "midnight UTC Fri 1/16", "midnight 1/16"];
        assert_eq!(
            moments.each_ref().map(Option::as_deref),
            [Some(expected[0]), Some(expected[1]), Some(expected[2]), None]
        );
    }
}
