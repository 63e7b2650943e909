//! Parts of a series of knots: the coldest stretch of a given length, and the part between two times.

use crate::weather::interpolate;

/// When the stretch of `length` s with the lowest mean starts, of those that begin or end at a knot, and its sum, K·s; the
/// first of equals. The knots ascend; `None` if they do not cover `length`.
pub(super) fn coldest(knots: &[[f64; 2]], length: f64) -> Option<(f64, f64)> {
    let (Some([begin, _]), Some([end, _])) = (knots.first(), knots.last()) else { return None };
    if end - begin < length {
        return None;
    }
    let sums = sums(knots);
    let last = (end - length).max(*begin);
    let mut starts: Vec<f64> = knots.iter().flat_map(|knot| [knot[0] - length, knot[0]]).collect();
    starts.retain(|start| (*begin..=last).contains(start));
    starts.sort_by(f64::total_cmp);
    let mut best = (*begin, f64::INFINITY);
    for start in starts {
        let sum = sum_until(knots, &sums, start + length) - sum_until(knots, &sums, start);
        // Colder by more than the rounding of adding up, so that the first of equals stays.
        if best.1.is_infinite() || sum < best.1 - 1e-9 * best.1.abs() {
            best = (start, sum);
        }
    }
    Some(best)
}

/// The knots from one time to another, with a knot at either, counted from the first.
pub(super) fn between(knots: &[[f64; 2]], from: f64, to: f64) -> Vec<[f64; 2]> {
    let inner =
        knots.iter().filter(|knot| from < knot[0] && knot[0] < to).map(|knot| [knot[0] - from, knot[1]]);
    let mut out = vec![[0.0, interpolate(knots, from)]];
    out.extend(inner);
    out.push([to - from, interpolate(knots, to)]);
    out
}

/// K·s from the first knot to each.
fn sums(knots: &[[f64; 2]]) -> Vec<f64> {
    let mut sum = 0.0;
    let mut sums = vec![0.0];
    for pair in knots.windows(2) {
        sum += (pair[1][0] - pair[0][0]) * (pair[0][1] + pair[1][1]) / 2.0;
        sums.push(sum);
    }
    sums
}

fn sum_until(knots: &[[f64; 2]], sums: &[f64], t: f64) -> f64 {
    let last = knots.partition_point(|knot| knot[0] <= t).saturating_sub(1);
    match (knots.get(last), sums.get(last)) {
        (Some([time, kelvin]), Some(sum)) => {
            sum + (t - time).max(0.0) * (kelvin + interpolate(knots, t)) / 2.0
        }
        _ => 0.0,
    }
}
