//! Days of hours: their means, lows and highs, on the file's own clock.

use super::Hourly;
use crate::climate::spell::{DAY, HOUR};

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
        // 24:00 ends its day where rows stand for what came before them.
        let inside = if self.ends_hour { time - 1.0 } else { time };
        (inside / DAY).floor()
    }

    /// The days in order.
    pub(super) fn days(&self) -> Vec<Day> {
        let of_a_day = self.hours.chunk_by(|a, b| self.day_of(a.time) == self.day_of(b.time));
        let days = of_a_day.map(|hours| {
            let seconds: f64 = hours.iter().map(|it| it.lasts).sum();
            let kelvin = || hours.iter().map(|it| it.kelvin);
            Day {
                day: hours.first().map_or(0.0, |it| self.day_of(it.time)),
                mean: hours.iter().map(|it| it.kelvin * it.lasts).sum::<f64>() / seconds,
                least: kelvin().fold(f64::INFINITY, f64::min),
                most: kelvin().fold(f64::NEG_INFINITY, f64::max),
                known: seconds / HOUR,
            }
        });
        days.collect()
    }
}
