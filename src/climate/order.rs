//! Whether the times of rows ascend, and how far they lie apart.

use super::spell::HOUR;
use crate::diag::{Diagnostic, Location};

/// The problem of a row whose time is not after that of the row before it.
pub(super) fn not_after(
    apart: f64,
    time: &str,
    before: &str,
    row: u32,
    place: Location,
) -> Option<Diagnostic> {
    let told = |what: String| Diagnostic::new(place, what).text(time);
    if apart == 0.0 {
        let problem = told(format!("is the time of row {row} as well"));
        Some(problem.expected("each time once, and clocks that are not put back"))
    } else if apart < 0.0 {
        Some(told(format!("comes before \"{before}\" of row {row}")).expected("times that ascend"))
    } else {
        None
    }
}

/// The problem of rows that all lie too far apart.
pub(super) fn sparse(file: &str, step: f64) -> Diagnostic {
    let what = format!("its rows lie {} h apart", hours(step));
    Diagnostic::new(Location::whole(file), what).expected("rows at most 6 h apart")
}

/// The problem of a row too long after the one before it.
pub(super) fn too_long_after(apart: f64, time: &str, before: &str, row: u32, place: Location) -> Diagnostic {
    let what = format!("comes {} h after \"{before}\" of row {row}", hours(apart));
    Diagnostic::new(place, what).text(time).expected("rows at most 6 h apart")
}

/// The median of the steps forward, s.
pub(super) fn usual_step(times: impl Iterator<Item = f64> + Clone) -> f64 {
    let pairs = times.clone().zip(times.skip(1));
    let mut steps: Vec<f64> = pairs.map(|(a, b)| b - a).filter(|step| *step > 0.0).collect();
    steps.sort_by(f64::total_cmp);
    steps.get(steps.len().saturating_sub(1) / 2).copied().unwrap_or(0.0)
}

/// Steps to either side that say how close rows lie at a row: two days of hours.
const BESIDE: usize = 24;

/// The usual step about each time, s: the median of the steps near it where that is longer than the usual one of all and
/// not too long to bridge. A record whose rows lie further apart for a while has no gaps there.
pub(super) fn steps_beside(times: &[f64], usual: f64, longest: f64) -> Vec<f64> {
    let steps: Vec<f64> = times.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let beside = |at: usize| {
        // A step that is not longer may yet end in a row without a temperature.
        let near = steps.get(at.saturating_sub(BESIDE)..(at + BESIDE + 1).min(steps.len())).unwrap_or(&[]);
        if near.iter().all(|it| *it <= usual) {
            return usual;
        }
        let mut near = near.to_vec();
        let middle = near.len().saturating_sub(1) / 2;
        let (_, median, _) = near.select_nth_unstable_by(middle, f64::total_cmp);
        if *median <= longest { median.max(usual) } else { usual }
    };
    (0..times.len()).map(beside).collect()
}

/// Hours as they are told.
pub(super) fn hours(seconds: f64) -> f64 {
    (seconds / HOUR * 100.0).round() / 100.0
}
