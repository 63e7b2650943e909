//! What part of the hours is colder, and the coldest month: figures of whole years.

use super::{Hour, Hourly};
use crate::climate::moment::{civil, days_in};
use crate::climate::spell::{DAY, HOUR};

/// Mean length of a year, s.
const YEAR: f64 = 365.2425 * DAY;
/// A record that falls short of whole years by no more than this is taken to cover them.
const NEARLY: f64 = 0.02;
/// The least share of each month's hours that is known.
const LEAST_KNOWN: f64 = 0.9;

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
    /// The hours of whole years from the first hour on, and how many years; or why there are none, completing a sentence
    /// that starts with the file.
    fn whole_years(&self) -> Result<(&[Hour], f64), String> {
        let first = self.hours.first().map_or(0.0, |it| it.time);
        let years = (self.span() / YEAR + NEARLY).floor();
        if !self.dated {
            return Err("its rows have no dates".into());
        }
        if years < 1.0 {
            return Err(format!("it covers {:.0} days, less than a year", self.span() / DAY));
        }
        let hours = &self.hours[..self.hours.partition_point(|it| it.time < first + years * YEAR)];
        let mut known = [0.0; 12];
        for hour in hours {
            let (_, month, _) = civil(self.day_of(hour.time));
            known[month as usize - 1] += hour.lasts;
        }
        for (known, month) in known.iter().zip(1..) {
            // A February of 28 days wants no more of any.
            let wanted = f64::from(days_in(1970, month)) * DAY * years;
            if *known < LEAST_KNOWN * wanted {
                let lacking = 100.0 * (1.0 - known / wanted);
                return Err(format!("{lacking:.0} % of its hours of {} are not known", name(month)));
            }
        }
        Ok((hours, years))
    }

    /// The temperature (K) that is exceeded in a share of all hours of whole years, such as 0.996, and how many years; or why
    /// there is none.
    ///
    /// The hours stand in order of temperature, each as wide as the time it stands for; the coldest lies at 0 and the
    /// warmest at 1, and between two the temperature goes in a straight line. Of equal hours that is the quantile most
    /// libraries give (`linear`): of n hours the one at (1 − share)·(n − 1), from 0.
    pub fn exceeded_in(&self, share: f64) -> Result<(f64, f64), String> {
        let (hours, years) = self.whole_years()?;
        let mut hours: Vec<[f64; 2]> = hours.iter().map(|it| [it.kelvin, it.lasts]).collect();
        hours.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let all: f64 = hours.iter().map(|it| it[1]).sum();
        let last = hours.last().map_or(0.0, |it| it[1]);
        let wanted = (1.0 - share) * (all - last);
        let mut before = 0.0;
        for pair in hours.windows(2) {
            let [[a, width], [b, _]] = [pair[0], pair[1]];
            if before + width >= wanted {
                return Ok((a + (b - a) * ((wanted - before) / width), years));
            }
            before += width;
        }
        Err("it has no hours".into())
    }

    /// The month with the lowest mean over the years. A month counts in a year where nine tenths of its hours are known;
    /// every month must be known in one year at least.
    pub fn coldest_month(&self) -> Result<Month, String> {
        if !self.dated {
            return Err("its rows have no dates".into());
        }
        let month_of = |it: &Hour| {
            let (year, month, _) = civil(self.day_of(it.time));
            (year, month)
        };
        let mut means: [Vec<f64>; 12] = std::array::from_fn(|_| Vec::new());
        let mut at = 0;
        while let Some(first) = self.hours.get(at) {
            let (year, month) = month_of(first);
            // A month has no more than 31 days of steps, so that a binary search is not worth its care.
            let end = self.hours[at..].iter().take_while(|it| month_of(it) == (year, month)).count();
            let hours = &self.hours[at..at + end];
            let seconds: f64 = hours.iter().map(|it| it.lasts).sum();
            let wanted = f64::from(days_in(u32::try_from(year).unwrap_or(1), month)) * DAY;
            if seconds >= LEAST_KNOWN * wanted {
                let mean = hours.iter().map(|it| it.kelvin * it.lasts).sum::<f64>() / seconds;
                means[month as usize - 1].push(mean);
            }
            at += end;
        }
        let mut coldest: Option<Month> = None;
        for (of_years, month) in means.iter().zip(1_u8..) {
            if of_years.is_empty() {
                return Err(format!("no {} of it is known", name(u32::from(month))));
            }
            #[allow(clippy::cast_precision_loss, reason = "a few hundred years")]
            let mean = of_years.iter().sum::<f64>() / of_years.len() as f64;
            if coldest.is_none_or(|it| mean < it.mean) {
                coldest = Some(Month { month, mean, years: of_years.len() });
            }
        }
        coldest.ok_or_else(|| "it has no hours".into())
    }

    /// How many hours a year are colder than a temperature (K), h, and of how many years; or why that cannot be said.
    pub fn hours_a_year_below(&self, kelvin: f64) -> Result<f64, String> {
        let (hours, years) = self.whole_years()?;
        let below: f64 = hours.iter().filter(|it| it.kelvin < kelvin - 1e-6).map(|it| it.lasts).sum();
        Ok(below / HOUR / years)
    }
}

fn name(month: u32) -> &'static str {
    crate::climate::place::MONTHS.get(month as usize - 1).map_or("", |it| it.0)
}
