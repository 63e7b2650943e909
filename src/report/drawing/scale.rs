//! Scales of a drawing, and round values along them.

use crate::units::{HOUR, System};

/// Maps a range of values to a range of pixels.
#[derive(Clone, Copy)]
pub(in crate::report) struct Scale {
    from: [f64; 2],
    to: [f64; 2],
}

impl Scale {
    /// Values from `from[0]` to `from[1]` to pixels from `to[0]` to `to[1]`; the two values differ.
    pub(in crate::report) const fn new(from: [f64; 2], to: [f64; 2]) -> Self {
        Self { from, to }
    }

    /// The values at both ends.
    pub(in crate::report) fn ends(&self) -> [f64; 2] {
        self.from
    }

    /// The pixel of a value, to a tenth.
    pub(in crate::report) fn at(&self, value: f64) -> f64 {
        let share = (value - self.from[0]) / (self.from[1] - self.from[0]);
        tenth(self.to[0] + share * (self.to[1] - self.to[0]))
    }

    /// The pixels of a length, to a tenth.
    pub(in crate::report) fn long(&self, length: f64) -> f64 {
        tenth(length * (self.to[1] - self.to[0]).abs() / (self.from[1] - self.from[0]))
    }
}

/// Whole tenths keep the page short.
pub(in crate::report) fn tenth(pixels: f64) -> f64 {
    (pixels * 10.0).round() / 10.0
}

/// The multiples of a step within a range.
fn ticks([low, high]: [f64; 2], step: f64) -> impl Iterator<Item = f64> {
    let first = (low / step).ceil();
    let count = (high / step).floor() - first;
    let mut next = 0.0;
    std::iter::from_fn(move || {
        (next <= count).then(|| {
            let tick = (first + next) * step;
            next += 1.0;
            tick
        })
    })
}

/// Round temperatures of a range, K, in the reader's unit, with their text.
pub(in crate::report) fn degrees([low, high]: [f64; 2], system: System) -> Vec<(String, f64)> {
    let (per_kelvin, zero, step, unit) = match system {
        System::Us => (1.8, 459.67, 20.0, "°F"),
        System::Si => (1.0, 273.15, 10.0, "°C"),
    };
    let range = [low, high].map(|kelvin| kelvin * per_kelvin - zero);
    ticks(range, step).map(|tick| (format!("{tick} {unit}"), (tick + zero) / per_kelvin)).collect()
}

/// Round times of a range, s, in hours, with their text; at most a dozen.
pub(super) fn hours([first, last]: [f64; 2]) -> Vec<(String, f64)> {
    const STEPS: [f64; 8] = [1.0, 3.0, 6.0, 12.0, 24.0, 48.0, 96.0, 168.0];
    let range = [first / HOUR, last / HOUR];
    let is_enough = |step: &f64| (range[1] - range[0]) / step <= 12.0;
    let step = STEPS.into_iter().find(is_enough).unwrap_or(720.0);
    ticks(range, step).map(|tick| (tick.to_string(), tick * HOUR)).collect()
}
