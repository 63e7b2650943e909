//! A scale of a drawing.

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

/// "10,20 30,40".
pub(in crate::report) fn points(of: impl Iterator<Item = [f64; 2]>) -> String {
    of.map(|[x, y]| format!("{x},{y}")).collect::<Vec<_>>().join(" ")
}

/// The multiples of a step within a range.
pub(in crate::report) fn ticks([low, high]: [f64; 2], step: f64) -> impl Iterator<Item = f64> {
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
