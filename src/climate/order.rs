//! Whether the times of rows ascend, and how far they lie apart.

use super::spell::HOUR;
use crate::diag::{Place, Problem};

/// The problem of a row whose time is not after that of the row before it.
pub(super) fn not_after(apart: f64, time: &str, before: &str, row: u32, place: Place) -> Option<Problem> {
    let told = |what: String| Problem::new(place, what).text(time);
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
pub(super) fn sparse(file: &str, step: f64) -> Problem {
    let what = format!("its rows lie {} h apart", hours(step));
    Problem::new(Place::whole(file), what).expected("rows at most 6 h apart")
}

/// The problem of a row too long after the one before it.
pub(super) fn too_long_after(apart: f64, time: &str, before: &str, row: u32, place: Place) -> Problem {
    let what = format!("comes {} h after \"{before}\" of row {row}", hours(apart));
    Problem::new(place, what).text(time).expected("rows at most 6 h apart")
}

/// The median of the steps forward, s.
pub(super) fn usual_step(times: impl Iterator<Item = f64> + Clone) -> f64 {
    let pairs = times.clone().zip(times.skip(1));
    let mut steps: Vec<f64> = pairs.map(|(a, b)| b - a).filter(|step| *step > 0.0).collect();
    steps.sort_by(f64::total_cmp);
    steps.get(steps.len().saturating_sub(1) / 2).copied().unwrap_or(0.0)
}

/// Hours as they are told.
pub(super) fn hours(seconds: f64) -> f64 {
    (seconds / HOUR * 100.0).round() / 100.0
}
