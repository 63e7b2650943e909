//! The hours of a year by outdoor temperature, where only design conditions are known: a stated model, not weather.
//!
//! T = annual mean − seasonal cosine − daily cosine + a normal day-to-day spread.
//! - Seasonal: its coldest twelfth has the mean of the coldest month. That leaves the annual mean open: 12 °C + 0.64 of the
//!   coldest month's mean in °C, a line laid through rounded normals of a dozen places from Miami to Fairbanks (from
//!   memory, within 4 K of each). It decides about spring and autumn, not about the cold.
//! - Daily: 8 K from low to high, but never more than the coldest month's mean lies above the 99 % value, as in a sea
//!   climate.
//! - Day to day: the standard deviation, one for the whole year, with which exactly 1 % of the hours are colder than the 99 %
//!   value; where that is not given, 0.4 % colder than the 99.6 % value.
//!
//! The 99.6 % values of the climates that are built in are then met within 2.1 K, on average 0.35 K too warm, and no
//! worse than 0.15 to 0.58 % of the hours are colder: a real winter has a longer cold tail in mild places and a shorter
//! one in the far north, where the coldest hour in a year comes out up to 14 K too cold. Hours of one temperature are
//! not told apart by what came before them.

use super::place::Climate;
use std::f64::consts::{FRAC_PI_6, PI, TAU};

/// A year, h.
pub const HOURS: f64 = 8766.0;
/// Low to high of a day, K.
const SWING: f64 = 8.0;
/// Annual mean in °C: this and that much of the mean of the coldest month in °C.
const ANNUAL_MEAN: [f64; 2] = [12.0, 0.64];
/// 0 °C, K.
const ZERO: f64 = 273.15;
/// Width of a bin, K.
const BIN: f64 = 1.0;
/// Bins reach this many standard deviations beyond the coldest and the warmest mean hour.
const REACH: f64 = 4.0;
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
    /// Standard deviation of day from day, K.
    pub spread: f64,
    means: Vec<f64>,
}

impl Year {
    /// The year of a climate. `None` where the mean of its coldest month is not given, or neither its 99 % nor its 99.6 %
    /// value, or where the two do not go together.
    ///
    /// # Valid for
    /// Annual mean above the mean of the coldest month, that above the percentile: temperate to arctic.
    /// # Source
    /// This project's own model, as above; tuned to published percentiles and checked against those it is not tuned to.
    pub fn of(climate: &Climate) -> Option<Self> {
        let month = climate.coldest_month_mean?;
        let (kelvin, share) =
            climate.heating_990.map(|it| (it, 0.01)).or_else(|| climate.heating_996.map(|it| (it, 0.004)))?;
        let annual = ZERO + ANNUAL_MEAN[0] + ANNUAL_MEAN[1] * (month - ZERO);
        // The mean of a cosine over a twelfth about its lowest point.
        let seasonal = (annual - month) / (libm::sin(PI / 12.0) / (PI / 12.0));
        let daily = 0.5 * SWING.min(month - kelvin);
        if seasonal <= 0.0 || daily <= 0.0 {
            return None;
        }
        let phases = || (0..PHASES).map(|it| libm::cos(TAU * (f64::from(it) + 0.5) / f64::from(PHASES)));
        let means: Vec<f64> = phases()
            .flat_map(|season| phases().map(move |hour| annual - seasonal * season - daily * hour))
            .collect();
        let colder = |spread: f64| colder_than(&means, spread, kelvin);
        let [mut low, mut high] = SPREADS;
        if colder(low) > share || colder(high) < share {
            return None;
        }
        while high - low > 1e-9 {
            let middle = 0.5 * (low + high);
            *(if colder(middle) < share { &mut low } else { &mut high }) = middle;
        }
        let spread = high;
        let ends = [f64::min, f64::max].map(|pick| means.iter().copied().reduce(pick).unwrap_or(annual));
        let (mut from, end) = ((ends[0] - REACH * spread).floor(), ends[1] + REACH * spread);
        let (mut bins, mut before) = (Vec::new(), 0.0);
        while from < end {
            // What little lies beyond either end goes into the last bin there.
            let below = if from + BIN < end { colder_than(&means, spread, from + BIN) } else { 1.0 };
            bins.push(Bin { temperature: from + 0.5 * BIN, hours: HOURS * (below - before) });
            (before, from) = (below, from + BIN);
        }
        Some(Self { bins, spread, means })
    }

    /// The part of the year that is colder than a temperature (K), 0 to 1.
    pub fn part_colder_than(&self, kelvin: f64) -> f64 {
        colder_than(&self.means, self.spread, kelvin)
    }

    /// Mean of the coldest twelfth of the year, K.
    pub fn coldest_month(&self) -> f64 {
        let annual = self.means.iter().sum::<f64>() / f64::from(PHASES * PHASES);
        let coldest: f64 = self.means[..PHASES as usize].iter().sum::<f64>() / f64::from(PHASES);
        // The first phase is half a step past the coldest point.
        let seasonal = (annual - coldest) / libm::cos(PI / f64::from(PHASES));
        annual - seasonal * libm::sin(0.5 * FRAC_PI_6) / (0.5 * FRAC_PI_6)
    }
}

/// The part of the hours below a temperature: the mean of normal distributions about each hour's mean.
fn colder_than(means: &[f64], spread: f64, kelvin: f64) -> f64 {
    let below = |mean: &f64| 0.5 * libm::erfc((mean - kelvin) / (spread * std::f64::consts::SQRT_2));
    #[allow(clippy::cast_precision_loss, reason = "a few hundred means")]
    let count = means.len() as f64;
    means.iter().map(below).sum::<f64>() / count
}
