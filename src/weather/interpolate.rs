//! Straight lines between known values.

/// The value of straight lines between knots at a time; constant beyond either end.
pub(crate) fn interpolate(knots: &[[f64; 2]], time: f64) -> f64 {
    let next = knots.partition_point(|knot| knot[0] <= time);
    match (next.checked_sub(1).and_then(|last| knots.get(last)), knots.get(next)) {
        (Some([t0, a]), Some([t1, b])) => a + (b - a) * ((time - t0) / (t1 - t0)),
        (Some([_, only]), None) | (None, Some([_, only])) => *only,
        (None, None) => f64::NAN,
    }
}
