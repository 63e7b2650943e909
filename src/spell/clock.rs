//! Times of a spell by the clock of its file.

use crate::weather::{DAY, HOUR, civil_from_days};

/// 1 January 1970 was a Thursday.
const WEEKDAYS: [&str; 7] = ["Thu", "Fri", "Sat", "Sun", "Mon", "Tue", "Wed"];

/// When a spell starts by the clock of its file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    /// Seconds from the start of 1970 on that clock.
    pub start: f64,
    /// Whether the heading says UTC.
    pub is_utc: bool,
}

/// A time of day and its date.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClockTime {
    /// `Mon` to `Sun`.
    pub weekday: &'static str,
    /// 1 to 12.
    pub month: u32,
    /// The day of the month.
    pub day: u32,
    /// Seconds since midnight.
    pub of_day: f64,
}

impl Clock {
    /// The clock time so many seconds after the start, rounded down to a multiple of `step`, s.
    pub fn at(&self, time: f64, step: f64) -> ClockTime {
        let time = ((self.start + time) / step).floor() * step;
        let days = (time / DAY).floor();
        let (_, month, day) = civil_from_days(days);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 6")]
        let weekday = WEEKDAYS[(days.rem_euclid(7.0) as usize).min(6)];
        ClockTime { weekday, month, day, of_day: time - days * DAY }
    }
}

/// `00:40`, of seconds since midnight.
pub fn time_of_day(seconds: f64) -> String {
    let minutes = (seconds / 60.0).floor();
    format!("{:02}:{:02}", (minutes * 60.0 / HOUR).floor(), minutes.rem_euclid(60.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Weekdays from Python's `datetime.date.weekday`; seconds from `calendar.timegm`.
    #[test]
    fn clock_times_have_weekdays_and_round_down() {
        for (start, after, wanted) in [
            (1_768_366_800.0, 0.0, ("Wed", 1, 14, "05:00")),
            (1_768_366_800.0, 67_799.0, ("Wed", 1, 14, "23:40")),
            (1_768_366_800.0, 70_979.0, ("Thu", 1, 15, "00:40")),
            (1_709_208_030.5, 43_200.0, ("Fri", 3, 1, "00:00")),
            (-2_236_784_400.0, 0.0, ("Mon", 2, 13, "07:00")),
        ] {
            let time = Clock { start, is_utc: false }.at(after, 600.0);
            let got = (time.weekday, time.month, time.day, &*time_of_day(time.of_day));
            assert_eq!(got, wanted, "{start} + {after}");
        }
    }
}
