//! The coldest month, and how many whole years a record covers.

use super::calendar::{DAY, civil_from_days, days_from_civil, days_in_month};
use super::figure::{Figure, NoFigure};
use super::hourly::Hourly;

/// A record that falls short of whole years by no more than this covers them, s.
const NEARLY: f64 = 7.0 * DAY;
/// The least share of a month's hours that must be measured.
pub(super) const LEAST_KNOWN: f64 = 0.9;

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
    /// when they end, s. `None` if it covers none.
    pub(super) fn whole_years(&self) -> Option<(f64, f64)> {
        let first = self.hours.first().filter(|_| self.dated)?.time;
        let (year, month, day) = civil_from_days((first / DAY).floor());
        let year = u32::try_from(year).ok()?;
        let end = |years: u32| {
            let day = day.min(days_in_month(year + years, month));
            days_from_civil(year + years, month, day) * DAY + first.rem_euclid(DAY)
        };
        let covers = |years: &u32| end(*years) <= first + self.span() + NEARLY;
        let years = (1..).take_while(covers).last()?;
        Some((f64::from(years), end(years)))
    }

    /// The month with the lowest mean, of its measured hours in all years together. A month counts in a year where nine
    /// tenths of its hours are measured; every month must do so in at least one year.
    pub fn coldest_month(&self) -> Figure<Month> {
        if !self.dated {
            return Err(NoFigure::NoDates);
        }
        // K·s, s and years of each calendar month.
        let mut sums = [(0.0, 0.0, 0); 12];
        for hours in self.hours.chunk_by(|a, b| self.month_of(a) == self.month_of(b)) {
            let Some((year, month)) = hours.first().map(|hour| self.month_of(hour)) else { continue };
            let measured = || hours.iter().filter(|hour| hour.row.is_some());
            let seconds: f64 = measured().map(|hour| hour.lasts).sum();
            let wanted = f64::from(days_in_month(u32::try_from(year).unwrap_or(1), month)) * DAY;
            if seconds >= LEAST_KNOWN * wanted {
                let sums = &mut sums[month as usize - 1];
                sums.0 += measured().map(|hour| hour.kelvin * hour.lasts).sum::<f64>();
                sums.1 += seconds;
                sums.2 += 1;
            }
        }
        let mut coldest: Option<Month> = None;
        for ((sum, seconds, years), month) in sums.into_iter().zip(1_u8..) {
            if years == 0 {
                return Err(NoFigure::IncompleteMonth { month });
            }
            let mean = sum / seconds;
            if coldest.is_none_or(|coldest| mean < coldest.mean) {
                coldest = Some(Month { month, mean, years });
            }
        }
        coldest.ok_or(NoFigure::NoHours)
    }
}
