//! Temperatures that a share of the hours of whole years exceeds.

use super::calendar::{DAY, days_in_month};
use super::figure::{Figure, NoFigure};
use super::hourly::{Hour, Hourly};
use super::months::LEAST_KNOWN;

/// The share of the hours of the cold months that may be unknown: of the coldest 1 % it may be all, so that with more the
/// figures mean nothing.
const MOST_UNKNOWN: f64 = 0.02;
/// A share of hours that is met except for rounding.
const ROUNDING: f64 = 1e-9;

impl Hourly {
    /// The hours of whole years from the first hour on, and how many years.
    fn hours_of_whole_years(&self) -> Figure<(&[Hour], f64)> {
        if !self.dated {
            return Err(NoFigure::NoDates);
        }
        let (years, end) = self.whole_years().ok_or(NoFigure::LessThanAYear(self.span()))?;
        let hours = &self.hours[..self.hours.partition_point(|hour| hour.time < end)];
        let mut known = [0.0; 12];
        for hour in hours.iter().filter(|hour| hour.row.is_some()) {
            known[self.month_of(hour).1 as usize - 1] += hour.lasts;
        }
        for (known, month) in known.iter().zip(1_u8..) {
            // A February of 28 days wants no more of any.
            let wanted = f64::from(days_in_month(1970, month.into())) * DAY * years;
            if *known < LEAST_KNOWN * wanted {
                return Err(NoFigure::MissingHours { month, missing: 1.0 - known / wanted });
            }
        }
        match self.unknown_cold_share() {
            Some(share) if share > MOST_UNKNOWN => Err(NoFigure::MissingColdHours(share)),
            _ => Ok((hours, years)),
        }
    }

    /// The temperature (K) that a share of all measured hours of whole years exceeds, such as 0.996, and how many years.
    ///
    /// The hours are in order of temperature, and the first is taken up to which they make up 1 − share of all their time:
    /// of n equal hours the one of rank ⌈(1 − share)·n⌉ from the coldest. So at least that part is as cold or colder.
    pub fn exceeded_in(&self, share: f64) -> Figure<(f64, f64)> {
        let (hours, years) = self.hours_of_whole_years()?;
        let mut hours: Vec<&Hour> = hours.iter().filter(|hour| hour.row.is_some()).collect();
        hours.sort_by(|a, b| a.kelvin.total_cmp(&b.kelvin));
        let all: f64 = hours.iter().map(|hour| hour.lasts).sum();
        let wanted = (1.0 - share) * all * (1.0 - ROUNDING);
        let mut colder = 0.0;
        let found = hours.iter().find(|hour| {
            colder += hour.lasts;
            colder >= wanted
        });
        found.map(|hour| (hour.kelvin, years)).ok_or(NoFigure::NoHours)
    }
}
