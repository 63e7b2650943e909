//! The coldest days of a record, and how far they go from low to high.

use super::calendar::DAY;
use super::days::WHOLE_DAY;
use super::hourly::{FREEZING, Hourly};

/// The swing is that of the coldest one in this many days.
const ONE_IN: usize = 100;
/// But of at least this many.
const FEWEST: usize = 5;
/// Shorter times are due to rounding, s.
const ROUNDING: f64 = 1e-3;

/// The coldest stretch of a number of days.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColdDays {
    /// When it starts, s on the clock of the file.
    pub start: f64,
    /// How many days.
    pub days: f64,
    /// Its mean, K, each hour weighted by the time it represents.
    pub mean: f64,
    /// Its coldest hour, K.
    pub coldest: f64,
}

/// How far days go from low to high.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// Mean of high less low, K.
    pub mean: f64,
    /// The number of days.
    pub days: usize,
}

impl Hourly {
    /// The stretch of so many days (24 h each, from any hour on) with the lowest mean, the first of equals. Its only gaps are
    /// bridged by straight lines. `None` if no stretch is long enough.
    pub fn coldest_days(&self, days: f64) -> Option<ColdDays> {
        let length = days * DAY;
        let mut best: Option<ColdDays> = None;
        for hours in self.stretches() {
            // The sum is of differences from freezing, so that it loses few digits.
            let (mut end, mut sum, mut lasts) = (0, 0.0, 0.0);
            for (from, first) in hours.iter().enumerate() {
                while lasts < length - ROUNDING && end < hours.len() {
                    sum += (hours[end].kelvin - FREEZING) * hours[end].lasts;
                    lasts += hours[end].lasts;
                    end += 1;
                }
                if !(length > 0.0 && lasts >= length - ROUNDING) {
                    break;
                }
                let inside = &hours[from..end];
                // The last one may reach beyond the end.
                let beyond = inside.last().map_or(0.0, |it| (it.kelvin - FREEZING) * (lasts - length));
                let mean = FREEZING + (sum - beyond) / length;
                if best.is_none_or(|it| mean < it.mean - 1e-9) {
                    let coldest = inside.iter().map(|it| it.kelvin).fold(f64::INFINITY, f64::min);
                    best = Some(ColdDays { start: first.time, days, mean, coldest });
                }
                sum -= (first.kelvin - FREEZING) * first.lasts;
                lasts -= first.lasts;
            }
        }
        best
    }

    /// The swing of the coldest days: of the coldest hundredth of all days by their means, five at least. Days count of
    /// which 23 h are known. `None` with fewer than five.
    pub fn swing_of_cold_days(&self) -> Option<Swing> {
        let mut days = self.days();
        days.retain(|day| day.known >= WHOLE_DAY);
        days.sort_by(|a, b| a.mean.total_cmp(&b.mean));
        let count = (days.len() / ONE_IN).max(FEWEST);
        let coldest = days.get(..count)?;
        #[allow(clippy::cast_precision_loss, reason = "a few hundred days")]
        let mean = coldest.iter().map(|it| it.most - it.least).sum::<f64>() / count as f64;
        Some(Swing { mean, days: count })
    }
}
