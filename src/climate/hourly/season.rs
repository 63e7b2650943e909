//! When winters begin, and which months are their cold ones: by the latitude, or where none is given by the coldest month.

use super::Hourly;
use crate::climate::moment::{days_from_civil, days_in};

/// When winters begin and which months are their cold ones.
#[derive(Clone, Copy, PartialEq)]
pub(super) struct Season {
    pub begins: u32,
    pub cold: [u32; 3],
    /// Months in which days below freezing make up the index.
    pub frost: [u32; 7],
}

const NORTH: Season = Season { begins: 7, cold: [12, 1, 2], frost: [10, 11, 12, 1, 2, 3, 4] };
const SOUTH: Season = Season { begins: 1, cold: [6, 7, 8], frost: [4, 5, 6, 7, 8, 9, 10] };

/// Coldest months of which no place north of the tropics has one.
const SOUTHERN: std::ops::RangeInclusive<u8> = 5..=9;

impl Season {
    pub fn year_of(self, year: i64, month: u32) -> i64 {
        if month >= self.begins { year } else { year - 1 }
    }

    /// The days of some of the months of a winter, as days since 1970, in order of the months.
    pub fn days(self, winter: i64, months: &[u32]) -> Vec<f64> {
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
    /// South of the equator by the latitude; where the file gives none, by its coldest month, which is told.
    pub(super) fn season(&self) -> Season {
        let is_south = self.station.latitude.map_or(self.looks_southern(), |it| it < 0.0);
        if is_south { SOUTH } else { NORTH }
    }

    /// Whether its coldest month is one of those that are the coldest in the south.
    fn looks_southern(&self) -> bool {
        self.coldest_month().is_ok_and(|it| SOUTHERN.contains(&it.month))
    }

    /// Whether nothing but its coldest month says that it is south of the equator.
    pub(super) fn is_taken_for_southern(&self) -> bool {
        self.station.latitude.is_none() && self.looks_southern()
    }
}
