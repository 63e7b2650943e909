//! Times of which nothing is known: gaps too long to bridge, and what lies before and after the record.

use super::Hourly;
use crate::climate::moment::civil;
use crate::climate::spell::DAY;

impl Hourly {
    /// The holes in order, from when to when, s. The first and the last have no end.
    fn holes(&self) -> Vec<[f64; 2]> {
        let mut ends = vec![f64::NEG_INFINITY];
        for hours in self.stretches() {
            ends.extend(hours.first().map(|it| it.time));
            ends.extend(hours.last().map(|it| it.time + it.lasts));
        }
        ends.push(f64::INFINITY);
        ends.chunks_exact(2).map(|it| [it[0], it[1]]).collect()
    }

    /// The longest part of a hole between two times, s.
    pub(super) fn longest_hole(&self, from: f64, to: f64) -> f64 {
        let inside = |hole: &[f64; 2]| hole[1].min(to) - hole[0].max(from);
        self.holes().iter().map(inside).fold(0.0, f64::max)
    }

    /// How much of some months (1 to 12) between two times lies in holes, and how long they are altogether, s.
    pub(super) fn lacking(&self, months: &[u32], from: f64, to: f64) -> [f64; 2] {
        let of_the_months = |from: f64, to: f64| {
            let (mut at, mut sum) = (from, 0.0);
            while at < to {
                let next = (((at / DAY).floor() + 1.0) * DAY).min(to);
                if months.contains(&civil((at / DAY).floor()).1) {
                    sum += next - at;
                }
                at = next;
            }
            sum
        };
        let lacking = self.holes().iter().map(|it| of_the_months(it[0].max(from), it[1].min(to))).sum();
        [lacking, of_the_months(from, to)]
    }
}
