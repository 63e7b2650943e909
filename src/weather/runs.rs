//! The longest run of hours below a temperature.

use super::hourly::{Hour, Hourly};

/// Temperatures closer than this differ only by conversion, K.
const ROUNDING: f64 = 1e-6;

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
    /// How long it was colder than a temperature (K), of the measured hours, s.
    pub fn time_below(&self, kelvin: f64) -> f64 {
        self.measured().filter(|hour| is_below(hour, kelvin)).map(|hour| hour.lasts).sum()
    }

    /// The longest run colder than a temperature (K), the first of equals. Gaps of up to 6 h that are bridged do not end it
    /// and are counted in it; a longer one ends it, so that it is at least so long.
    pub fn longest_below(&self, kelvin: f64) -> Option<Run> {
        let runs =
            self.stretches().flat_map(|it| it.chunk_by(|a, b| is_below(a, kelvin) == is_below(b, kelvin)));
        let mut longest: Option<Run> = None;
        for run in runs {
            let Some(first) = run.first().filter(|hour| is_below(hour, kelvin)) else { continue };
            let length: f64 = run.iter().map(|hour| hour.lasts).sum();
            // Longer by more than rounding.
            if longest.is_none_or(|longest| length > longest.length + 1.0) {
                let bridged = run.iter().filter(|hour| hour.row.is_none()).map(|hour| hour.lasts).sum();
                let coldest = run.iter().map(|hour| hour.kelvin).fold(f64::INFINITY, f64::min);
                longest = Some(Run { start: first.time, length, bridged, coldest });
            }
        }
        longest
    }
}

fn is_below(hour: &Hour, kelvin: f64) -> bool {
    hour.kelvin < kelvin - ROUNDING
}
