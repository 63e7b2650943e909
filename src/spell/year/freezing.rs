//! Freezing index and freezing season of a year.
//!
//! The air-freezing index is the greatest fall of a winter's summed daily means (the degree-days below freezing, less
//! those of the thaws between), so that neither all hours below freezing nor the seasonal mean alone tell it: the first
//! counts every cold night, the second no cold week in a mild winter. Of the days' spread half is taken to outlast the
//! thaws about it. With half, the indices of six typical years come out as 371 for 386 K·days (Chicago), 3305 for 3259
//! (Northway), 14 for 17 (Mount Shasta), 51 for 51 (Greensboro), 70 for 51 (Sand Point), 0 for 0 (Miami); with all of it
//! up to three times too high where winters are mild, with none up to all too low. `tests/climate/real_years.rs` has the
//! records it was not chosen by.

use super::{Year, spread_in, winter};
use crate::units::HOUR;
use crate::weather::FREEZING;
use std::f64::consts::{PI, SQRT_2, TAU};

/// How much colder a winter in ten is than the mean of winters, K: means of December to February differ from one winter to
/// the next by a standard deviation of about 2 K over most of the northern states (from memory), 1.28 of them, rounded.
pub const COLD_WINTER: f64 = 2.5;
/// Of the spread of days, what outlasts the thaws about them.
const LASTING: f64 = 0.5;
const SECONDS: f64 = HOUR * super::HOURS;
const DAYS: u32 = 365;

impl Year {
    /// Air-freezing index of the average winter, or of one that is `colder` by so many K: K·s (1 °F·day is 48 000 K·s).
    ///
    /// # Valid for
    /// Any year. The mean of the indices of many winters, not the design index of the coldest.
    /// # Source
    /// The model of [`Year`]; E max(0, −x) of a normal x, summed over the days.
    /// # Example
    /// Where it never thaws, the mean below freezing times the year.
    pub fn freezing_index(&self, colder: f64) -> f64 {
        let below = |day: u32| {
            let season = libm::cos(TAU * (f64::from(day) + 0.5) / f64::from(DAYS));
            let mean = self.mean - colder - self.seasonal * season - FREEZING;
            let spread = LASTING * spread_in(self.spread, winter(season));
            let reduced = mean / spread;
            let density = libm::exp(-0.5 * reduced * reduced) / TAU.sqrt();
            spread * density - 0.5 * mean * libm::erfc(reduced / SQRT_2)
        };
        SECONDS / f64::from(DAYS) * (0..DAYS).map(below).sum::<f64>()
    }

    /// How long the seasonal mean is below freezing, in the average winter or in one that is `colder` by so many K: s.
    ///
    /// # Valid for
    /// Any year; 0 to a year.
    /// # Source
    /// The cosine of [`Year`], in closed form.
    pub fn freezing_season(&self, colder: f64) -> f64 {
        SECONDS / PI * libm::acos(((self.mean - colder - FREEZING) / self.seasonal).clamp(-1.0, 1.0))
    }
}
