//! Winter by winter: the coldest hour, the air-freezing index, and a fit to the lows.
//!
//! A winter runs from July to June and is named by the year of its July; south of the equator from January to December. It
//! counts if at most one hour in twenty of its three cold months (December to February, or June to August) is missing, and
//! at most a day at once: a cold wave lasts days, and stations fail in it. Hours on a straight line over a gap are missing.

use super::calendar::{DAY, HOUR};
use super::hourly::Hourly;
use crate::climate::AnnualLow;
use std::collections::BTreeMap;

/// The share of the cold months' hours, or days, that may be missing.
const MOST_MISSING: f64 = 0.05;
/// The longest time within the cold months that may be missing at once, s.
const LONGEST_HOLE: f64 = 24.0 * HOUR;
/// Too few winters for a standard deviation below this.
pub(super) const FEWEST: usize = 3;
/// With fewer the fit is marked: its uncertainty is itself a guess.
const SHORT: usize = 10;

/// One winter of a record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Winter {
    /// The years it begins and ends in.
    pub years: [i64; 2],
    /// Its coldest measured hour: when, s, and K.
    pub coldest: (f64, f64),
    /// The share of the hours of its three cold months that was not measured, 0 to 1.
    pub missing: f64,
    /// The longest time within its three cold months that was not measured, s.
    pub longest_hole: f64,
    /// The share of the hours of the whole winter that was not measured, 0 to 1.
    pub missing_of_all: f64,
    /// Whether its coldest hour counts as a low of a year.
    pub counts: bool,
    /// Its air-freezing index, K·s: how far the sum of (daily mean − 0 °C) falls from its highest point to its lowest after
    /// that, from July to June as far as the record reaches. Days without 18 known hours are on a straight line between
    /// their neighbors. `None` if more than one day in twenty, of all or from October to April (April to October in the
    /// south), has none, and where the record begins or ends within the winter on a day below freezing.
    pub freezing_index: Option<f64>,
}

impl Winter {
    /// Its name: "2017/18", or "2017" in the south.
    pub fn name(&self) -> String {
        let [from, to] = self.years;
        if from == to { from.to_string() } else { format!("{from}/{:02}", to % 100) }
    }

    /// Whether one long hole in its cold months is the only reason that it does not count.
    pub fn fails_by_one_hole(&self) -> bool {
        self.longest_hole > LONGEST_HOLE && self.missing <= MOST_MISSING
    }

    /// Whether it counts, but more than one hour in twenty of the whole winter is missing.
    pub fn is_partial(&self) -> bool {
        self.counts && self.missing_of_all > MOST_MISSING
    }
}

/// A mean and a deviation of annual lows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// By moments: the mean and the standard deviation with n − 1, of `winters` lows.
    pub low: AnnualLow,
    /// Whether there are fewer than ten winters.
    pub is_short: bool,
}

#[derive(Default)]
struct Sums {
    coldest: Option<(f64, f64)>,
    cold: f64,
    all: f64,
}

impl Hourly {
    /// The winters that any hour was measured in. None where rows have no dates, and none in a typical year, whose months
    /// are of different winters.
    pub fn winters(&self) -> Vec<Winter> {
        if !self.dated || self.is_typical() {
            return Vec::new();
        }
        let season = self.season();
        let mut sums: BTreeMap<i64, Sums> = BTreeMap::new();
        for hours in self.hours.chunk_by(|a, b| self.day_of(a.time) == self.day_of(b.time)) {
            let Some((year, month)) = hours.first().map(|first| self.month_of(first)) else { continue };
            let sums = sums.entry(season.year_of(year, month)).or_default();
            for hour in hours.iter().filter(|hour| hour.row.is_some()) {
                sums.all += hour.lasts;
                if season.cold.contains(&month) {
                    sums.cold += hour.lasts;
                }
                if sums.coldest.is_none_or(|(_, kelvin)| hour.kelvin < kelvin) {
                    sums.coldest = Some((hour.time, hour.kelvin));
                }
            }
        }
        let days = self.days();
        let all: Vec<u32> = (1..=12).collect();
        let share = |known: f64, days: &[f64]| {
            #[allow(clippy::cast_precision_loss, reason = "days of a year")]
            let wanted = days.len() as f64 * DAY;
            (1.0 - known / wanted).max(0.0)
        };
        let winters = sums.into_iter().filter_map(|(year, sums)| {
            let cold = season.days(year, &season.cold);
            let longest_hole = self.longest_hole(*cold.first()? * DAY, (*cold.last()? + 1.0) * DAY);
            let missing = share(sums.cold, &cold);
            Some(Winter {
                years: [year, if season.begins == 1 { year } else { year + 1 }],
                coldest: sums.coldest?,
                missing,
                longest_hole,
                missing_of_all: share(sums.all, &season.days(year, &all)),
                counts: missing <= MOST_MISSING && longest_hole <= LONGEST_HOLE,
                freezing_index: season.freezing_index(&days, year),
            })
        });
        winters.collect()
    }
}

impl Fit {
    /// Fits the lows of the winters that count, by moments. `None` with fewer than three, or if all are equal.
    ///
    /// # Source
    /// As [`AnnualLow`]: a Gumbel distribution by its mean and standard deviation.
    /// # Example
    /// Lows of −20, −22 and −27 °C: mean −23 °C, deviation √((9 + 1 + 16)/2) = 3.61 K, 3 winters.
    pub fn of(winters: &[Winter]) -> Option<Self> {
        let lows: Vec<f64> = winters.iter().filter(|it| it.counts).map(|it| it.coldest.1).collect();
        if lows.len() < FEWEST {
            return None;
        }
        #[allow(clippy::cast_precision_loss, reason = "a few hundred winters")]
        let count = lows.len() as f64;
        let mean = lows.iter().sum::<f64>() / count;
        let deviation = (lows.iter().map(|it| (it - mean) * (it - mean)).sum::<f64>() / (count - 1.0)).sqrt();
        let low = AnnualLow { mean, deviation, winters: Some(count), is_elsewhere: false };
        (deviation > 0.0).then_some(Self { low, is_short: lows.len() < SHORT })
    }
}
