//! What part of the hours is colder, and the coldest month: figures of whole years.

use super::{Hour, Hourly};
use crate::climate::moment::{civil, days_from_civil, days_in};
use crate::climate::spell::DAY;

/// A record that falls short of whole years by no more than this is taken to cover them, s.
const NEARLY: f64 = 7.0 * DAY;
/// The share of the hours of the cold months in which nothing is known that leaves the shares as they are: of the coldest
/// 1 % it may be all, so that more makes them worth nothing.
const MOST_HIDDEN: f64 = 0.02;
/// The least share of each month's hours that is measured.
const LEAST_KNOWN: f64 = 0.9;
/// A share of hours that is met but for the rounding of adding up.
const ROUNDING: f64 = 1e-9;

/// The coldest month.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Month {
    /// 1 to 12.
    pub month: u8,
    /// Its mean over the years, K.
    pub mean: f64,
    /// How many years it is known in.
    pub years: usize,
}

impl Hourly {
    /// How many whole years it covers, or nearly, from its first hour to the same hour of the same date of a later year, and
    /// when they end, s. `None` where it covers none.
    pub(super) fn years(&self) -> Option<(f64, f64)> {
        let first = self.hours.first().filter(|_| self.dated)?.time;
        let (year, month, day) = civil((first / DAY).floor());
        let year = u32::try_from(year).ok()?;
        let end = |years: u32| {
            let day = day.min(days_in(year + years, month));
            days_from_civil(year + years, month, day) * DAY + first.rem_euclid(DAY)
        };
        let covers = |years: &u32| end(*years) <= first + self.span() + NEARLY;
        let years = (1..).take_while(covers).last()?;
        Some((f64::from(years), end(years)))
    }

    /// The share of the hours of the cold months of whole years in which nothing is known, 0 to 1.
    pub fn hidden(&self) -> Option<f64> {
        let (first, (_, end)) = (self.hours.first()?.time, self.years()?);
        let [lacking, all] = self.lacking(&self.season().cold, first, end);
        Some(lacking / all)
    }

    /// The hours of whole years from the first hour on, and how many years; or why there are none, completing a sentence
    /// that starts with the file.
    fn whole_years(&self) -> Result<(&[Hour], f64), String> {
        if !self.dated {
            return Err("its rows have no dates".into());
        }
        let Some((years, end)) = self.years() else {
            return Err(format!("it covers {:.0} days, less than a year", self.span() / DAY));
        };
        let hours = &self.hours[..self.hours.partition_point(|it| it.time < end)];
        let mut known = [0.0; 12];
        for hour in hours.iter().filter(|it| it.row.is_some()) {
            known[self.month_of(hour).1 as usize - 1] += hour.lasts;
        }
        for (known, month) in known.iter().zip(1..) {
            // A February of 28 days wants no more of any.
            let wanted = f64::from(days_in(1970, month)) * DAY * years;
            if *known < LEAST_KNOWN * wanted {
                let lacking = 100.0 * (1.0 - known / wanted);
                return Err(format!("{lacking:.0} % of the hours of its {} were not measured", name(month)));
            }
        }
        if let Some(hidden) = self.hidden().filter(|it| *it > MOST_HIDDEN) {
            return Err(format!(
                "{:.1} % of the hours of its cold months were not measured, and they may have been the coldest",
                100.0 * hidden
            ));
        }
        Ok((hours, years))
    }

    /// The temperature (K) that is exceeded in a share of all measured hours of whole years, such as 0.996, and how many
    /// years; or why there is none.
    ///
    /// The hours stand in order of temperature, and the first is taken up to which they make up 1 − share of all their time:
    /// of n equal hours the one of rank ⌈(1 − share)·n⌉ from the coldest. So at least that part is as cold or colder.
    pub fn exceeded_in(&self, share: f64) -> Result<(f64, f64), String> {
        let (hours, years) = self.whole_years()?;
        let mut hours: Vec<&Hour> = hours.iter().filter(|it| it.row.is_some()).collect();
        hours.sort_by(|a, b| a.kelvin.total_cmp(&b.kelvin));
        let all: f64 = hours.iter().map(|it| it.lasts).sum();
        let wanted = (1.0 - share) * all * (1.0 - ROUNDING);
        let mut until = 0.0;
        let found = hours.iter().find(|it| {
            until += it.lasts;
            until >= wanted
        });
        found.map(|it| (it.kelvin, years)).ok_or_else(|| "it has no hours".into())
    }

    /// The month with the lowest mean, of its measured hours in all years together. A month counts in a year where nine
    /// tenths of its hours are measured; every month must do so in one year at least.
    pub fn coldest_month(&self) -> Result<Month, String> {
        if !self.dated {
            return Err("its rows have no dates".into());
        }
        // K·s, s and years of each calendar month.
        let mut sums = [(0.0, 0.0, 0); 12];
        for month in self.hours.chunk_by(|a, b| self.month_of(a) == self.month_of(b)) {
            let Some((year, at)) = month.first().map(|it| self.month_of(it)) else { continue };
            let hours = || month.iter().filter(|it| it.row.is_some());
            let lasts: f64 = hours().map(|it| it.lasts).sum();
            let wanted = f64::from(days_in(u32::try_from(year).unwrap_or(1), at)) * DAY;
            if lasts >= LEAST_KNOWN * wanted {
                let sums = &mut sums[at as usize - 1];
                sums.0 += hours().map(|it| it.kelvin * it.lasts).sum::<f64>();
                sums.1 += lasts;
                sums.2 += 1;
            }
        }
        let mut coldest: Option<Month> = None;
        for ((sum, lasts, years), month) in sums.into_iter().zip(1_u8..) {
            if years == 0 {
                return Err(format!("no {} of it is whole", name(u32::from(month))));
            }
            let mean = sum / lasts;
            if coldest.is_none_or(|it| mean < it.mean) {
                coldest = Some(Month { month, mean, years });
            }
        }
        coldest.ok_or_else(|| "it has no hours".into())
    }

    fn month_of(&self, hour: &Hour) -> (i64, u32) {
        let (year, month, _) = civil(self.day_of(hour.time));
        (year, month)
    }
}

fn name(month: u32) -> &'static str {
    crate::climate::place::MONTHS.get(month as usize - 1).map_or("", |it| it.0)
}
