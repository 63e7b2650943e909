//! Model of the hours of a year by outdoor temperature, for a climate of which only design conditions are known.
//!
//! T = annual mean − seasonal cosine − daily cosine + a normal day-to-day spread, and below the published percentiles what
//! is published.
//! - Annual mean, °C: 26.5 + 0.40 of the coldest month's mean − 0.36 of the degrees of latitude: least squares through the
//!   normals (1981 to 2010, from memory) of the 43 places that were first built in, rounded; they scatter by 1.5 K about
//!   it, and by 1.7 K if each is excluded from its own fit. Deserts are up to 4.5 K above it, coasts of a cold sea as far
//!   below. Elevation and the 99 % value add nothing. If no latitude is given, 11.6 + 0.70 of the month, which scatters
//!   by 2.4 K.
//! - Seasonal: its coldest twelfth has the mean of the coldest month.
//! - Daily: 8 K from low to high, but never more than the coldest month's mean lies above the 99 % value, as in a sea
//!   climate.
//! - Day to day: 2.5 K about the warmest time of the year, the standard deviation of days within the warmest month in six
//!   typical years (1.0 to 3.0 K, median 2.4; nine records of real years: 2.2 to 3.1 K). Towards the coldest it grows, by a
//!   cosine, to that with which exactly 1 % of the hours are colder than the 99 % value; where that is not given,
//!   0.4 % colder than the 99.6 % value, or 8 h than the mean annual low. It is nowhere more than in the cold.
//! - The coldest hours: [`tail`].
//!
//! A spread with a longer or a shorter cold side, such as the 99.6 % value calls for, was tried and did not improve the
//! hours below freezing or of degree days. Against records that it is not fitted to (`tests/climate/real_years.rs`) hours
//! and degree days come out as if outdoors were misread by 1 to 2 K. Hours of one temperature are not distinguished by what
//! came before them.

mod freezing;
mod tail;

pub use freezing::COLD_WINTER;

use crate::climate::Climate;
use crate::weather::FREEZING;
use std::f64::consts::{FRAC_PI_6, PI, TAU};
use tail::Tail;

/// A year, h.
pub const HOURS: f64 = 8766.0;
/// Low to high of a day, K.
const SWING: f64 = 8.0;
/// Annual mean in °C: this, that much of the mean of the coldest month in °C, and that much of the degrees of latitude.
const ANNUAL_MEAN: [f64; 3] = [26.5, 0.40, -0.36];
/// The same where the latitude is not known.
const ANNUAL_MEAN_ANYWHERE: [f64; 3] = [11.6, 0.70, 0.0];
/// Standard deviation of day from day at the warmest time of the year, K.
const SUMMER: f64 = 2.5;
/// Width of a bin, K.
const BIN: f64 = 1.0;
/// Bins reach this many standard deviations beyond the warmest mean hour,
const REACH: f64 = 4.0;
/// and down to where this part of the year is colder: half a minute.
const LEAST: f64 = 1e-6;
/// Standard deviations looked at, K.
const SPREADS: [f64; 2] = [0.2, 25.0];
/// Phases of the season and of the day.
const PHASES: u32 = 24;

/// Hours of a year in one narrow band of outdoor temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bin {
    /// Middle of the band, K.
    pub temperature: f64,
    /// h
    pub hours: f64,
}

/// A year as bins, ascending in temperature; all their hours make up [`HOURS`].
#[derive(Clone, Debug, PartialEq)]
pub struct Year {
    /// The bins.
    pub bins: Vec<Bin>,
    /// Standard deviation of day from day at the coldest time of the year, K.
    pub spread: f64,
    /// Mean of all its hours but for the published tail, K.
    pub mean: f64,
    /// Half the difference between the means of the warmest and the coldest day, K.
    seasonal: f64,
    body: Body,
    tail: Tail,
}

/// Hours about the mean of each season and time of day.
#[derive(Clone, Debug, PartialEq)]
struct Body {
    /// Mean, K, and how far the season is in winter, 0 to 1.
    hours: Vec<[f64; 2]>,
}

impl Year {
    /// The year of a climate. `None` if the mean of its coldest month is not given, or none of its 99 % and 99.6 % values
    /// and its annual low, or where the two do not go together.
    ///
    /// # Valid for
    /// Annual mean above the mean of the coldest month, that above the percentile: temperate to arctic.
    /// # Source
    /// This project's own model, as above; tuned to published percentiles and checked against hours of real years.
    pub fn of(climate: &Climate) -> Option<Self> {
        let month = climate.coldest_month_mean?;
        let known = tail::published(climate);
        let (kelvin, share) = *known.first()?;
        let latitude = climate.latitude.map(f64::abs);
        let [alone, of_month, of_latitude] =
            if latitude.is_some() { ANNUAL_MEAN } else { ANNUAL_MEAN_ANYWHERE };
        let mean = FREEZING + alone + of_month * (month - FREEZING) + of_latitude * latitude.unwrap_or(0.0);
        // The mean of a cosine over a twelfth about its lowest point.
        let seasonal = (mean - month) / (libm::sin(PI / 12.0) / (PI / 12.0));
        let daily = 0.5 * SWING.min(month - kelvin);
        if seasonal <= 0.0 || daily <= 0.0 {
            return None;
        }
        let phases = || (0..PHASES).map(|it| libm::cos(TAU * (f64::from(it) + 0.5) / f64::from(PHASES)));
        let hours = phases().flat_map(|season| {
            phases().map(move |hour| [mean - seasonal * season - daily * hour, winter(season)])
        });
        let body = Body { hours: hours.collect() };
        let [mut low, mut high] = SPREADS;
        if body.colder_than(kelvin, low) > share || body.colder_than(kelvin, high) < share {
            return None;
        }
        while high - low > 1e-9 {
            let middle = 0.5 * (low + high);
            *(if body.colder_than(kelvin, middle) < share { &mut low } else { &mut high }) = middle;
        }
        let tail = Tail::of(&known, climate.annual_low);
        let mut year = Self { bins: Vec::new(), spread: high, mean, seasonal, body, tail };
        year.bins = year.in_bins(kelvin);
        Some(year)
    }

    fn in_bins(&self, known: f64) -> Vec<Bin> {
        let warmest = self.body.hours.iter().map(|it| it[0]).fold(known, f64::max);
        let end = warmest + REACH * self.spread;
        let mut from = known.floor();
        while self.part_colder_than(from) > LEAST {
            from -= BIN;
        }
        let (mut bins, mut before) = (Vec::new(), 0.0);
        while from < end {
            // The remainder beyond either end goes into the last bin there.
            let below = if from + BIN < end { self.part_colder_than(from + BIN) } else { 1.0 };
            bins.push(Bin { temperature: from + 0.5 * BIN, hours: HOURS * (below - before) });
            (before, from) = (below, from + BIN);
        }
        bins
    }

    /// The part of the year that is colder than a temperature (K), 0 to 1.
    pub fn part_colder_than(&self, kelvin: f64) -> f64 {
        self.tail.colder_than(kelvin, |it| self.body.colder_than(it, self.spread))
    }

    /// Mean of the coldest twelfth of the year, K.
    pub fn coldest_month(&self) -> f64 {
        let mean = |hours: &[[f64; 2]]| {
            #[allow(clippy::cast_precision_loss, reason = "a few hundred hours")]
            let count = hours.len() as f64;
            hours.iter().map(|it| it[0]).sum::<f64>() / count
        };
        let annual = mean(&self.body.hours);
        let coldest = mean(&self.body.hours[..PHASES as usize]);
        // The first phase is half a step past the coldest point.
        let seasonal = (annual - coldest) / libm::cos(PI / f64::from(PHASES));
        annual - seasonal * libm::sin(0.5 * FRAC_PI_6) / (0.5 * FRAC_PI_6)
    }
}

/// How far a phase of the season (1 at the coldest, −1 at the warmest) is in winter, 0 to 1.
fn winter(season: f64) -> f64 {
    0.5 * (1.0 + season)
}

/// Standard deviation of day from day, K, by that at the coldest and by how far the season is in winter.
fn spread_in(coldest: f64, winter: f64) -> f64 {
    let warmest = SUMMER.min(coldest);
    warmest + (coldest - warmest) * winter
}

impl Body {
    /// The part of the hours below a temperature: the mean of normal distributions about each hour's mean.
    fn colder_than(&self, kelvin: f64, spread: f64) -> f64 {
        let below = |[mean, winter]: &[f64; 2]| {
            0.5 * libm::erfc((mean - kelvin) / (spread_in(spread, *winter) * std::f64::consts::SQRT_2))
        };
        #[allow(clippy::cast_precision_loss, reason = "a few hundred hours")]
        let count = self.hours.len() as f64;
        self.hours.iter().map(below).sum::<f64>() / count
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_spread_as_stated_at_the_coldest_and_no_more_than_in_summer_at_the_warmest() {
        assert!((spread_in(8.0, 1.0) - 8.0).abs() < 1e-12);
        assert!((spread_in(8.0, 0.0) - SUMMER).abs() < 1e-12);
        assert!((spread_in(1.0, 0.5) - 1.0).abs() < 1e-12);
    }
}
