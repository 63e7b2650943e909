//! The 95 % interval of a share from the effect of each uncertain input by itself.
//!
//! First-order propagation of uncertainty (JCGM 100, 5.1), extended to the third moment. Each input has a triangular
//! distribution; its effect is taken as linear from the best estimate to each bound, so that the mean, variance and third
//! central moment of the effect are known in closed form. For independent inputs they add; a Cornish-Fisher expansion gives
//! the quantiles of the sum. Effects are measured in log-odds, log(share/(behind − share)), where `behind` is the share of
//! the space behind, so that no end of the interval lies outside the boundary temperatures.

use super::solved::Share;

/// Standard normal quantile of 97.5 %.
const NORMAL: f64 = 1.959_964;

/// The cold end of the 95 % interval, the best estimate and the warm end. `inputs` has for each the probability that it is
/// below its best estimate, and the share at its low and high bound; `behind` is the share of the space behind.
pub(super) fn interval(
    best: Share,
    behind: Share,
    inputs: impl Iterator<Item = (f64, [Share; 2])>,
) -> [Share; 3] {
    let best_odds = best.log_odds(behind);
    if !best_odds.is_finite() {
        return [best; 3];
    }
    let mut sum = Moments::default();
    for (chance_below, at_bounds) in inputs {
        let shifts = at_bounds.map(|share| share.log_odds(behind) - best_odds);
        // Not finite only if a weight rounds to exactly 0 or 1, which no section of conducting parts comes near.
        if shifts.iter().all(|shift| shift.is_finite()) {
            sum.add(chance_below, shifts);
        }
    }
    let [low, high] = sum.quantiles().map(|shift| best.moved_by(shift, behind));
    [Share(low.0.min(best.0)), best, Share(high.0.max(best.0))]
}

/// Mean, variance and third central moment of a sum, and the bounds of its values.
#[derive(Default)]
struct Moments {
    mean: f64,
    variance: f64,
    third: f64,
    bounds: [f64; 2],
}

impl Moments {
    /// Adds an input: a triangular distribution whose mode is at 0, with `shifts` at its bounds. `chance_below` is the
    /// probability of a value below the mode.
    fn add(&mut self, chance_below: f64, shifts: [f64; 2]) {
        // s = (distance from the mode)/(distance of the bound from the mode) has the density 2 (1 − s) from 0 to 1. Its raw
        // moments E[s], E[s²], E[s³]:
        const RAW: [f64; 3] = [1.0 / 3.0, 1.0 / 6.0, 0.1];
        let [first, second, third] = [1, 2, 3].map(|power| {
            let [low, high] = shifts.map(|shift| shift.powi(power));
            RAW[power as usize - 1] * (chance_below * low + (1.0 - chance_below) * high)
        });
        self.mean += first;
        self.variance += second - first * first;
        self.third += third - 3.0 * first * second + 2.0 * first * first * first;
        let [a, b] = shifts;
        self.bounds[0] += a.min(b).min(0.0);
        self.bounds[1] += a.max(b).max(0.0);
    }

    /// The quantiles of 2.5 and 97.5 %.
    fn quantiles(&self) -> [f64; 2] {
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
    fn one_input_has_about_the_quantiles_of_its_triangle() {
        // One triangle is the least normal case. Its quantiles of 2.5 % and 97.5 % lie at most 7 % of the whole width
        // from those of three moments, worked out for these four shapes with the closed form.
        for (low, high) in [(-1.0, 1.0), (-3.0, 1.0), (-1.0, 3.0), (-4.0, 0.0)] {
            let mut sum = Moments::default();
            sum.add(-low / (high - low), [low, high]);
            for (end, part) in sum.quantiles().into_iter().zip([0.025, 0.975]) {
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
        let [low, high] = sum.quantiles();
        let exact = NORMAL * 4.0 / f64::sqrt(6.0);
        assert!((high - exact).abs() < 1e-9 && (low + exact).abs() < 1e-9, "{low} {high}");
    }

    #[test]
    fn no_end_leaves_the_two_boundary_temperatures() {
        let behind = Share(0.8);
        for best in [0.001, 0.4, 0.799] {
            let ends = [Share(1e-6), Share(0.799_999)];
            let [cold, _, warm] = interval(Share(best), behind, (0..20).map(|_| (0.5, ends)));
            assert!(
                cold.0 >= 0.0 && warm.0 <= behind.0 && cold.0 <= best && warm.0 >= best,
                "{cold:?} {warm:?}"
            );
        }
    }
}
