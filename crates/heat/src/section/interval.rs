//! The 95 % interval of a share from what each uncertain factor does by itself.
//!
//! First-order propagation (JCGM 100, 5.1) carried to the third moment. A factor's distribution is triangular, and what it
//! does is two straight lines, from its best estimate to either bound: its mean, variance and third moment follow in closed
//! form. Those of independent factors add, and the Cornish-Fisher expansion of the sum gives the quantiles (JCGM 101,
//! which works with distributions instead of standard uncertainties, allows any method). All of it is done in the
//! logarithm of the ratio of the two weights, so that no end leaves the boundary temperatures.

use super::solved::Share;

/// Standard normal quantile of 97.5 %.
const NORMAL: f64 = 1.959_964;

/// Ends of the 95 % interval on either side of the best estimate. `factors` has, for each, the chance that it is below its
/// best estimate and the share at its two bounds; `most` is the share of the space behind.
pub(super) fn interval(
    best: Share,
    most: Share,
    factors: impl Iterator<Item = (f64, [Share; 2])>,
) -> [Share; 3] {
    let is = best.log_odds(most);
    if !is.is_finite() {
        return [best; 3];
    }
    let mut sum = Moments::default();
    for (below, ends) in factors {
        let moved = ends.map(|share| share.log_odds(most) - is);
        if moved.iter().all(|it| it.is_finite()) {
            sum.add(below, moved);
        }
    }
    let [low, high] = sum.ends();
    let ends = [low, high].map(|odds| best.moved_by(odds, most));
    [Share(ends[0].0.min(best.0)), best, Share(ends[1].0.max(best.0))]
}

/// Mean, variance and third central moment of a sum, and the bounds that it cannot leave.
#[derive(Default)]
struct Moments {
    mean: f64,
    variance: f64,
    third: f64,
    bounds: [f64; 2],
}

impl Moments {
    /// Adds a factor: a triangular distribution whose mode is at 0, mapped to `moved` at its bounds.
    fn add(&mut self, below: f64, moved: [f64; 2]) {
        // s, the distance from the mode over the distance of the bound, has the density 2 (1 - s) from 0 to 1. Its raw moments E[s],
        // E[s²], E[s³]:
        const RAW: [f64; 3] = [1.0 / 3.0, 1.0 / 6.0, 0.1];
        let [first, second, third] = [1, 2, 3].map(|power| {
            let [low, high] = moved.map(|it| it.powi(power));
            RAW[power as usize - 1] * (below * low + (1.0 - below) * high)
        });
        self.mean += first;
        self.variance += second - first * first;
        self.third += third - 3.0 * first * second + 2.0 * first * first * first;
        let [a, b] = moved;
        self.bounds[0] += a.min(b).min(0.0);
        self.bounds[1] += a.max(b).max(0.0);
    }

    /// The quantiles of 2.5 and 97.5 %.
    fn ends(&self) -> [f64; 2] {
        if self.variance <= 0.0 {
            return [0.0; 2];
        }
        let deviation = f64::sqrt(self.variance);
        let skewness = self.third / (self.variance * deviation);
        [-NORMAL, NORMAL].map(|normal| {
            let quantile = self.mean + deviation * (normal + (normal * normal - 1.0) * skewness / 6.0);
            quantile.clamp(self.bounds[0], self.bounds[1])
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Quantile of a triangular distribution from `low` over the mode 0 to `high`, by its distribution function (JCGM 101,
    /// 6.4.5; the same in any table of distributions).
    fn triangular(part: f64, low: f64, high: f64) -> f64 {
        let width = high - low;
        let at_mode = -low / width;
        if part <= at_mode {
            low + f64::sqrt(part * width * -low)
        } else {
            high - f64::sqrt((1.0 - part) * width * high)
        }
    }

    #[test]
    fn one_factor_has_about_the_quantiles_of_its_triangle() {
        // One triangle is the least normal case. Its quantiles of 2.5 % and 97.5 % lie at most 7 % of the whole width
        // from those of three moments, worked out for these four shapes with the closed form.
        for (low, high) in [(-1.0, 1.0), (-3.0, 1.0), (-1.0, 3.0), (-4.0, 0.0)] {
            let mut sum = Moments::default();
            sum.add(-low / (high - low), [low, high]);
            for (end, part) in sum.ends().into_iter().zip([0.025, 0.975]) {
                let exact = triangular(part, low, high);
                assert!((end - exact).abs() < 0.07 * (high - low), "{low} {high}: {end} {exact}");
            }
        }
    }

    #[test]
    fn many_equal_triangles_add_up_to_the_normal_distribution() {
        // Central limit: sixteen symmetric triangles of half width 1 have the deviation 4/√6.
        let mut sum = Moments::default();
        for _ in 0..16 {
            sum.add(0.5, [-1.0, 1.0]);
        }
        let [low, high] = sum.ends();
        let exact = NORMAL * 4.0 / f64::sqrt(6.0);
        assert!((high - exact).abs() < 1e-9 && (low + exact).abs() < 1e-9, "{low} {high}");
    }

    #[test]
    fn no_end_leaves_the_two_boundary_temperatures() {
        let most = Share(0.8);
        for best in [0.001, 0.4, 0.799] {
            let ends = [Share(1e-6), Share(0.799_999)];
            let [cold, _, warm] = interval(Share(best), most, (0..20).map(|_| (0.5, ends)));
            assert!(
                cold.0 >= 0.0 && warm.0 <= most.0 && cold.0 <= best && warm.0 >= best,
                "{cold:?} {warm:?}"
            );
        }
    }
}
