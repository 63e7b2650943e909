//! Days of hours: their means, lows and highs, on the file's own clock.

use super::calendar::{DAY, HOUR, civil_from_days};
use super::hourly::{Hour, Hourly};

/// A day of which less is known has no low and high, h.
pub(super) const WHOLE_DAY: f64 = 23.0;

/// A calendar day of which something is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Day {
    /// Days since the start of 1970.
    pub day: f64,
    /// Mean of what is known, K.
    pub mean: f64,
    /// K
    pub least: f64,
    /// K
    pub most: f64,
    /// How much of it is known, h.
    pub known: f64,
}

impl Hourly {
    /// The day that a time belongs to, in days since the start of 1970.
    pub(super) fn day_of(&self, time: f64) -> f64 {
        // 24:00 ends its day where rows represent the time before them.
        let inside = if self.ends_hour { time - 1.0 } else { time };
        (inside / DAY).floor()
    }

    /// The year and the month that an hour belongs to.
    pub(super) fn month_of(&self, hour: &Hour) -> (i64, u32) {
        let (year, month, _) = civil_from_days(self.day_of(hour.time));
        (year, month)
    }

    /// The days in order.
    pub(super) fn days(&self) -> Vec<Day> {
        let by_day = self.hours.chunk_by(|a, b| self.day_of(a.time) == self.day_of(b.time));
        let days = by_day.map(|hours| {
            let seconds: f64 = hours.iter().map(|hour| hour.lasts).sum();
            let kelvins = || hours.iter().map(|hour| hour.kelvin);
            Day {
                day: hours.first().map_or(0.0, |hour| self.day_of(hour.time)),
                mean: hours.iter().map(|hour| hour.kelvin * hour.lasts).sum::<f64>() / seconds,
                least: kelvins().fold(f64::INFINITY, f64::min),
                most: kelvins().fold(f64::NEG_INFINITY, f64::max),
                known: seconds / HOUR,
            }
        });
        days.collect()
    }
}
