//! The coldest hour of a year as an extreme: lows by return period, and years between lows that reach a temperature.

/// Euler's constant.
const EULER: f64 = 0.577_215_664_901_532_9;
/// Beyond this no fit to a few decades of lows says anything.
pub const MOST_YEARS: f64 = 1000.0;

/// Mean and standard deviation of the annual extreme low, in K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AnnualLow {
    /// Mean, K.
    pub mean: f64,
    /// Standard deviation, K; above zero.
    pub deviation: f64,
}

/// How often a low that cold comes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Years {
    /// At least in four winters of five.
    MostWinters,
    /// About once in this many years.
    OnceIn(f64),
    /// Rarer than once in [`MOST_YEARS`].
    Rarer,
}

impl AnnualLow {
    /// The low that is reached about once in `years`, K.
    ///
    /// T = M − F·s with F = −(√6/π)·(γ + ln ln(n/(n−1))).
    ///
    /// # Valid for
    /// `years` above 1; `None` otherwise.
    /// # Source
    /// ASHRAE Handbook Fundamentals (2009 to 2021), ch. 14, extreme annual design conditions (from memory); a Gumbel
    /// distribution fitted by moments.
    /// # Example
    /// F(5, 10, 20, 50) = 0.7195, 1.3046, 1.8658, 2.5923: matches the handbook's printed lows to their rounding.
    pub fn low(&self, years: f64) -> Option<f64> {
        (years > 1.0).then(|| self.mean - gumbel_factor(years) * self.deviation)
    }

    /// Years between annual lows that reach `kelvin`: the inverse of [`AnnualLow::low`], kept to 1..1000.
    pub fn years_between(&self, kelvin: f64) -> f64 {
        (1.0 / self.chance_in_a_year(kelvin)).clamp(1.0, MOST_YEARS)
    }

    /// How often, in words people use.
    pub fn how_often(&self, kelvin: f64) -> Years {
        let years = 1.0 / self.chance_in_a_year(kelvin);
        if years < 1.25 {
            Years::MostWinters
        } else if years <= MOST_YEARS {
            Years::OnceIn(years)
        } else {
            Years::Rarer
        }
    }

    /// The chance, 0 to 1, that at least one of `years` winters reaches `kelvin`, winters being independent.
    pub fn chance_within(&self, kelvin: f64, years: f64) -> f64 {
        1.0 - libm::pow(1.0 - self.chance_in_a_year(kelvin), years)
    }

    /// P(annual low ≤ T) = 1 − exp(−exp(−(x − μ)/β)) with x = −T, β = s√6/π, μ = −M − γβ.
    fn chance_in_a_year(&self, kelvin: f64) -> f64 {
        let beta = self.deviation * 6f64.sqrt() / std::f64::consts::PI;
        let reduced = (self.mean - kelvin) / beta + EULER;
        -libm::expm1(-libm::exp(-reduced))
    }
}

fn gumbel_factor(years: f64) -> f64 {
    -(6f64.sqrt() / std::f64::consts::PI) * (EULER + libm::log(libm::log(years / (years - 1.0))))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Frequency factors, independent: computed with scipy.stats.gumbel_r; printed to six places.
    #[test]
    fn the_frequency_factors_are_gumbels() {
        for (years, factor) in
            [(5.0, 0.719_445), (10.0, 1.304_551), (20.0, 1.865_799), (50.0, 2.592_276), (100.0, 3.136_668)]
        {
            assert!((gumbel_factor(years) - factor).abs() < 1e-6, "{years}");
        }
    }

    /// Printed lows of ASHRAE 2009 design-condition tables. The mean and deviation are printed to 0.1 K, which the
    /// factor of the deviation at 50 years turns into at most 0.05 + 2.6 × 0.05 = 0.18 K, and the low to 0.05 K.
    #[test]
    fn printed_lows_of_the_handbook_are_reproduced() {
        const ROUNDING: f64 = 0.22;
        for (mean, deviation, lows) in [
            (-11.0, 3.6, [-13.6, -15.6, -17.6, -20.2]),
            (-9.9, 2.5, [-11.7, -13.2, -14.6, -16.5]),
            (1.8, 1.5, [0.8, -0.1, -0.9, -1.9]),
            (1.1, 1.3, [0.1, -0.6, -1.4, -2.3]),
        ] {
            let annual = AnnualLow { mean, deviation };
            for (years, low) in [5.0, 10.0, 20.0, 50.0].into_iter().zip(lows) {
                let found = annual.low(years).unwrap();
                assert!((found - low).abs() <= ROUNDING, "{mean} {years}: {found} for {low}");
            }
        }
    }

    #[test]
    fn years_between_lows_invert_the_low() {
        let annual = AnnualLow { mean: 245.0, deviation: 3.7 };
        for years in [2.0, 6.0, 20.0, 200.0] {
            let low = annual.low(years).unwrap();
            assert!((annual.years_between(low) / years - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn a_twenty_year_low_has_a_79_per_cent_chance_within_30_years() {
        let annual = AnnualLow { mean: 245.0, deviation: 3.7 };
        let low = annual.low(20.0).unwrap();
        // 1 − (1 − 1/20)^30, in closed form.
        assert!((annual.chance_within(low, 30.0) - 0.785_361).abs() < 1e-6);
    }

    #[test]
    fn the_years_are_capped_and_never_infinite() {
        let annual = AnnualLow { mean: 245.0, deviation: 3.7 };
        assert_eq!(annual.years_between(100.0), MOST_YEARS);
        assert_eq!(annual.how_often(100.0), Years::Rarer);
        assert_eq!(annual.years_between(300.0), 1.0);
        assert_eq!(annual.how_often(300.0), Years::MostWinters);
    }
}
