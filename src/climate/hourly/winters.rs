//! Winter by winter: the coldest hour, the air-freezing index, and a fit to the lows.
//!
//! A winter runs from July to June and is named by the year of its July; south of the equator from January to December. It
//! counts where no more than one hour in twenty of its three cold months (December to February, or June to August) was
//! not measured; a straight line over a gap measures nothing.

use super::Hourly;
use super::days::Day;
use crate::climate::extremes::AnnualLow;
use crate::climate::moment::{civil, days_from_civil, days_in};
use crate::climate::spell::DAY;
use std::collections::BTreeMap;

/// The share of the cold months' hours, or days, that may be missing.
const MOST_MISSING: f64 = 0.05;
/// A day of which no more is known has no mean, h.
const HALF: f64 = 18.0;
/// With fewer winters a deviation says nothing.
const FEWEST: usize = 3;
/// With fewer the fit is marked: what they leave uncertain is itself a guess.
const SHORT: usize = 10;
const FREEZING: f64 = 273.15;

/// One winter of a record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Winter {
    /// The years it begins and ends in.
    pub years: [i64; 2],
    /// Its coldest measured hour: when, s, and K.
    pub coldest: (f64, f64),
    /// The share of the hours of its three cold months that was not measured, 0 to 1.
    pub missing: f64,
    /// The share of the hours of the whole winter that was not measured, 0 to 1.
    pub missing_of_all: f64,
    /// Whether its coldest hour counts as a low of a year.
    pub counts: bool,
    /// Its air-freezing index, K·s: how far the sum of (daily mean − 0 °C) falls from its highest point to its lowest after
    /// that. Days without 18 known hours lie on a straight line between their neighbours. `None` where more than one day
    /// in twenty from October to April (April to October in the south) has none.
    pub freezing_index: Option<f64>,
}

impl Winter {
    /// What it is called: "2017/18", or "2017" in the south.
    pub fn name(&self) -> String {
        let [from, to] = self.years;
        if from == to { from.to_string() } else { format!("{from}/{:02}", to % 100) }
    }

    /// Whether it counts and yet lacks more than one hour in twenty of the whole winter.
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

/// When winters begin and which months are their cold ones.
#[derive(Clone, Copy)]
struct Season {
    begins: u32,
    cold: [u32; 3],
    /// Months in which days below freezing make up the index.
    frost: [u32; 7],
}

const NORTH: Season = Season { begins: 7, cold: [12, 1, 2], frost: [10, 11, 12, 1, 2, 3, 4] };
const SOUTH: Season = Season { begins: 1, cold: [6, 7, 8], frost: [4, 5, 6, 7, 8, 9, 10] };

#[derive(Default)]
struct Sums {
    coldest: Option<(f64, f64)>,
    cold: f64,
    all: f64,
}

impl Season {
    fn year_of(self, year: i64, month: u32) -> i64 {
        if month >= self.begins { year } else { year - 1 }
    }

    /// The days of some of the months of a winter, as days since 1970, in order of the months.
    fn days(self, winter: i64, months: &[u32]) -> Vec<f64> {
        let mut days = Vec::new();
        for month in months {
            let year = if *month >= self.begins { winter } else { winter + 1 };
            let year = u32::try_from(year).unwrap_or(1);
            days.extend((1..=days_in(year, *month)).map(|day| days_from_civil(year, *month, day)));
        }
        days
    }
}

impl Hourly {
    fn season(&self) -> Season {
        if self.station.latitude.is_some_and(|it| it < 0.0) { SOUTH } else { NORTH }
    }

    /// The winters that any hour was measured in. None where rows have no dates, and none in a typical year, whose months
    /// are of different winters.
    pub fn winters(&self) -> Vec<Winter> {
        if !self.dated || self.typical {
            return Vec::new();
        }
        let season = self.season();
        let mut sums: BTreeMap<i64, Sums> = BTreeMap::new();
        for hours in self.hours.chunk_by(|a, b| self.day_of(a.time) == self.day_of(b.time)) {
            let Some(first) = hours.first() else { continue };
            let (year, month, _) = civil(self.day_of(first.time));
            let sums = sums.entry(season.year_of(year, month)).or_default();
            for hour in hours.iter().filter(|it| it.row.is_some()) {
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
            let missing = share(sums.cold, &season.days(year, &season.cold));
            let counts = missing <= MOST_MISSING;
            let frost = season.days(year, &season.frost);
            Some(Winter {
                years: [year, if season.begins == 1 { year } else { year + 1 }],
                coldest: sums.coldest?,
                missing,
                missing_of_all: share(sums.all, &season.days(year, &all)),
                counts,
                freezing_index: freezing_index(&days, &frost),
            })
        });
        winters.collect()
    }

    /// The air-freezing index of a typical year, K·s, its autumn taken to come before its spring. `None` of any other file.
    /// An ordinary winter's, not a design winter's.
    pub fn ordinary_freezing_index(&self) -> Option<f64> {
        if !self.typical {
            return None;
        }
        let days = self.days();
        let (_, month, _) = civil(days.first()?.day);
        let half = days.partition_point(|it| civil(it.day).1 < self.season().begins);
        let turned = [&days[half..], &days[..half]].concat();
        let whole = month == 1 && turned.iter().all(|it| it.known >= HALF) && turned.len() >= 365;
        whole.then(|| fall(turned.iter().map(|it| it.mean)))
    }
}

/// The index of the days of the cold half of a year, which are in order.
fn freezing_index(days: &[Day], frost: &[f64]) -> Option<f64> {
    let [from, .., to] = *frost else { return None };
    let known: Vec<[f64; 2]> =
        days.iter().filter(|it| it.known >= HALF).map(|it| [it.day, it.mean]).collect();
    let inside = known.iter().filter(|it| (from..=to).contains(&it[0])).count();
    #[allow(clippy::cast_precision_loss, reason = "days of a year")]
    let missing = 1.0 - inside as f64 / frost.len() as f64;
    (missing <= MOST_MISSING).then(|| fall(frost.iter().map(|day| crate::climate::spell::at(&known, *day))))
}

/// How far the sum of (daily mean − 0 °C) falls from a high to a later low, K·s.
fn fall(means: impl Iterator<Item = f64>) -> f64 {
    let (mut sum, mut highest, mut most) = (0.0, 0.0_f64, 0.0_f64);
    for mean in means {
        sum += (mean - FREEZING) * DAY;
        highest = highest.max(sum);
        most = most.max(highest - sum);
    }
    most
}

impl Fit {
    /// Fits the lows of the winters that count, by moments. `None` with fewer than three, and where they are all alike.
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
        let low = AnnualLow { mean, deviation, winters: Some(count) };
        (deviation > 0.0).then_some(Self { low, is_short: lows.len() < SHORT })
    }
}
