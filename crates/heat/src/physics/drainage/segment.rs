//! Segments of a circle below a level surface.

/// Mean area below a surface whose depth runs straight from `a` to `b`, in a circle of the given diameter.
pub(super) fn mean_segment(diameter: f64, a: f64, b: f64) -> f64 {
    /// Below this share of the diameter the difference of integrals loses digits; the area itself is then as good.
    const LEVEL: f64 = 1e-6;
    if (b - a).abs() <= LEVEL * diameter {
        return segment(diameter, 0.5 * (a + b)).0;
    }
    (segment(diameter, b).1 - segment(diameter, a).1) / (b - a)
}

/// Area of the circular segment of a depth, and its integral over depth from the invert:
/// A = R²(φ − sin φ cos φ), ∫A = R³(sin φ − sin³φ/3 − φ cos φ), with cos φ = 1 − depth/R.
fn segment(diameter: f64, depth: f64) -> (f64, f64) {
    let r = 0.5 * diameter;
    if depth <= 0.0 || diameter <= 0.0 {
        return (0.0, 0.0);
    }
    let inside = depth.min(diameter);
    let cos = 1.0 - inside / r;
    let phi = libm::acos(cos.clamp(-1.0, 1.0));
    let sin = libm::sin(phi);
    let area = r * r * (phi - sin * cos);
    let integral = r * r * r * (sin - sin * sin * sin / 3.0 - phi * cos);
    (area, integral + area * (depth - inside))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, PI};

    #[test]
    fn segments_match_tabled_ones() {
        // Machinery's Handbook, segments of a circle of radius 1: height 0.5 has area 0.61418, height 1 half the circle.
        for (depth, want) in [(0.5, 0.614_18), (1.0, FRAC_PI_2), (1.5, PI - 0.614_18), (2.0, PI)] {
            assert!((segment(2.0, depth).0 - want).abs() < 1e-5, "{depth}");
        }
        assert!(segment(2.0, -0.1).0.abs() < 1e-15);
        assert!(segment(0.0, 1.0).0.abs() < 1e-15);
    }

    #[test]
    fn a_surface_above_the_crown_counts_as_full() {
        // from the crown to far above it the mean is the whole circle
        assert!((mean_segment(2.0, 2.0, 7.0) - PI).abs() < 1e-12);
        // from the invert to the crown, half of it
        assert!((mean_segment(2.0, 0.0, 2.0) - FRAC_PI_2).abs() < 1e-12);
    }
}
