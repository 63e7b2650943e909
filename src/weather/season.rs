//! When winters begin, and which months are their cold ones: by the latitude, or if none is given by the coldest month.

use super::calendar::{DAY, civil_from_days, days_from_civil, days_in_month};
use super::hourly::Hourly;

/// When winters begin and which months are their cold ones.
#[derive(Clone, Copy, PartialEq)]
pub(super) struct Season {
    pub begins: u32,
    pub cold: [u32; 3],
    /// Months whose days below freezing make up the freezing index.
    pub frost: [u32; 7],
}

const NORTH: Season = Season { begins: 7, cold: [12, 1, 2], frost: [10, 11, 12, 1, 2, 3, 4] };
const SOUTH: Season = Season { begins: 1, cold: [6, 7, 8], frost: [4, 5, 6, 7, 8, 9, 10] };

/// Coldest months that no place north of the tropics has.
const SOUTHERN: std::ops::RangeInclusive<u8> = 5..=9;

impl Season {
    /// The year in which the winter of a month begins.
    pub fn year_of(self, year: i64, month: u32) -> i64 {
        if month >= self.begins { year } else { year - 1 }
    }

    /// The days of some of the months of a winter, as days since 1970, in order of the months.
    pub fn days(self, winter: i64, months: &[u32]) -> Vec<f64> {
        let mut days = Vec::new();
        for month in months {
            let year = if *month >= self.begins { winter } else { winter + 1 };
            let year = u32::try_from(year).unwrap_or(1);
            days.extend((1..=days_in_month(year, *month)).map(|day| days_from_civil(year, *month, day)));
        }
        days
    }
}

impl Hourly {
    /// The season of its place: of the south by its latitude, or if the file gives none by its coldest month.
    pub(super) fn season(&self) -> Season {
        let is_south = self.station.latitude.map_or(self.looks_southern(), |latitude| latitude < 0.0);
        if is_south { SOUTH } else { NORTH }
    }

    fn looks_southern(&self) -> bool {
        self.coldest_month().is_ok_and(|coldest| SOUTHERN.contains(&coldest.month))
    }

    /// Whether only its coldest month says that it is south of the equator.
    pub(super) fn is_assumed_southern(&self) -> bool {
        self.station.latitude.is_none() && self.looks_southern()
    }

    /// Unknown times in order, from when to when, s: gaps too long to bridge, and before and after the record. The first and
    /// the last are infinite.
    fn holes(&self) -> Vec<[f64; 2]> {
        let mut ends = vec![f64::NEG_INFINITY];
        for hours in self.stretches() {
            ends.extend(hours.first().map(|hour| hour.time));
            ends.extend(hours.last().map(|hour| hour.time + hour.lasts));
        }
        ends.push(f64::INFINITY);
        ends.chunks_exact(2).map(|hole| [hole[0], hole[1]]).collect()
    }

    /// The longest part of a hole between two times, s.
    pub(super) fn longest_hole(&self, from: f64, to: f64) -> f64 {
        let inside = |hole: &[f64; 2]| hole[1].min(to) - hole[0].max(from);
        self.holes().iter().map(inside).fold(0.0, f64::max)
    }

    /// The share of the hours of the cold months of whole years that are unknown, 0 to 1.
    pub fn unknown_cold_share(&self) -> Option<f64> {
        let (first, (_, end)) = (self.hours.first()?.time, self.whole_years()?);
        let months = self.season().cold;
        let in_months = |from: f64, to: f64| {
            let (mut at, mut sum) = (from, 0.0);
            while at < to {
                let next = (((at / DAY).floor() + 1.0) * DAY).min(to);
                if months.contains(&civil_from_days((at / DAY).floor()).1) {
                    sum += next - at;
                }
                at = next;
            }
            sum
        };
        let unknown: f64 =
            self.holes().iter().map(|hole| in_months(hole[0].max(first), hole[1].min(end))).sum();
        Some(unknown / in_months(first, end))
    }
}
