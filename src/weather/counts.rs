//! Hours by temperature: in bins, below a threshold, and the longest run below one.

use super::calendar::HOUR;
use super::hourly::{Hour, Hourly};

/// Temperatures closer than this differ only by conversion, K.
const ROUNDING: f64 = 1e-6;

/// Hours in one narrow band of outdoor temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bin {
    /// Middle of the band, K.
    pub temperature: f64,
    /// h
    pub hours: f64,
}

/// A stretch without an hour at or above a threshold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// When it starts, s on the clock of the file.
    pub start: f64,
    /// How long it lasts, s.
    pub length: f64,
    /// How much of it is on straight lines over gaps of up to 6 h, s.
    pub bridged: f64,
    /// Its coldest hour, K.
    pub coldest: f64,
}

impl Hourly {
    /// Measured hours in bands of temperature, ascending and without a hole. Bands are `width` K wide and one of them starts
    /// at `origin` (K); a temperature on an edge belongs to the band above.
    ///
    /// # Valid for
    /// `width` above 0.01 K; no bins otherwise.
    pub fn bins(&self, width: f64, origin: f64) -> Vec<Bin> {
        let band = |kelvin: f64| ((kelvin - origin + ROUNDING) / width).floor();
        let ends = [f64::min, f64::max].map(|pick| self.measured().map(|it| band(it.kelvin)).reduce(pick));
        let ([Some(first), Some(last)], true) = (ends, width > 0.01) else { return Vec::new() };
        let mut bins = Vec::new();
        let mut at = first;
        while at <= last {
            bins.push(Bin { temperature: origin + (at + 0.5) * width, hours: 0.0 });
            at += 1.0;
        }
        for hour in self.measured() {
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "from 0, of a few thousand"
            )]
            let index = (band(hour.kelvin) - first) as usize;
            if let Some(bin) = bins.get_mut(index) {
                bin.hours += hour.lasts / HOUR;
            }
        }
        bins
    }

    /// Measured hours colder than a temperature (K), h.
    pub fn hours_below(&self, kelvin: f64) -> f64 {
        self.measured().filter(|it| is_below(it, kelvin)).map(|it| it.lasts).sum::<f64>() / HOUR
    }

    /// The longest run colder than a temperature (K), the first of equals. Gaps of up to 6 h that are bridged do not end it
    /// and are counted in it; a longer one ends it, so that it is at least so long.
    pub fn longest_below(&self, kelvin: f64) -> Option<Run> {
        let runs =
            self.stretches().flat_map(|it| it.chunk_by(|a, b| is_below(a, kelvin) == is_below(b, kelvin)));
        let mut longest: Option<Run> = None;
        for run in runs.filter(|run| run.first().is_some_and(|it| is_below(it, kelvin))) {
            let lasts = |bridged_only: bool| {
                run.iter().filter(|it| !bridged_only || it.row.is_none()).map(|it| it.lasts).sum::<f64>()
            };
            // Longer by more than rounding.
            if longest.is_none_or(|it| lasts(false) > it.length + 1.0) {
                longest = Some(Run {
                    start: run.first().map_or(0.0, |it| it.time),
                    length: lasts(false),
                    bridged: lasts(true),
                    coldest: run.iter().map(|it| it.kelvin).fold(f64::INFINITY, f64::min),
                });
            }
        }
        longest
    }
}

fn is_below(hour: &Hour, kelvin: f64) -> bool {
    hour.kelvin < kelvin - ROUNDING
}
