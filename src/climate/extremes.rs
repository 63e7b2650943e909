//! The coldest hour of a year as an extreme: lows by return period, and return periods of lows that reach a temperature.

/// Euler's constant.
const EULER: f64 = 0.577_215_664_901_532_9;
/// Lows estimated from fewer winters are marked.
pub const FEW_WINTERS: f64 = 10.0;
/// The longest return period given: a fit to a few decades of lows says nothing of longer ones.
pub const MOST_YEARS: f64 = 1000.0;

/// Winters assumed behind a mean and a deviation if not stated: the handbook draws on about 25 years (from memory).
pub const USUAL_WINTERS: f64 = 25.0;
/// Number of winters, and the standard errors from an estimated low to the cold and the warm end of its 80 % interval (one
/// case in ten lies beyond each). Moments of few winters are uncertain themselves, and lows estimated from them are too
/// warm more often than too cold. From 200 000 random records for each row and the 20-year low (numpy 2, seed 1); for lows
/// of 5 to 100 years the ends differ by up to 0.1, and at the mean the cold end is up to a third nearer. The last row is
/// the normal distribution's.
const ENDS: [[f64; 3]; 12] = [
    [3.0, 3.82, 0.68],
    [4.0, 2.89, 0.72],
    [5.0, 2.51, 0.76],
    [7.0, 2.16, 0.80],
    [10.0, 1.95, 0.86],
    [15.0, 1.78, 0.92],
    [20.0, 1.70, 0.95],
    [25.0, 1.65, 0.98],
    [30.0, 1.61, 1.00],
    [50.0, 1.54, 1.05],
    [100.0, 1.46, 1.12],
    [f64::INFINITY, 1.2816, 1.2816],
];

/// How much colder and warmer than its neighbors' a place's mean annual low may be, K: an 80 % interval. Of 1,327 stations
/// against the median of six within 150 km, corrected for elevation at 6.5 K/km, 5 to 95 % lie from -3.9 to 3.2 K; times
/// 1.2816/1.6449 for 10 to 90 % of a normal distribution.
const ELSEWHERE: [f64; 2] = [3.9 * 0.7791, 3.2 * 0.7791];

/// Mean and standard deviation of the annual extreme low, in K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AnnualLow {
    /// Mean, K.
    pub mean: f64,
    /// Standard deviation, K; above zero.
    pub deviation: f64,
    /// Winters that both were estimated from, if stated: 3 or more.
    pub winters: Option<f64>,
    /// Whether they were measured at another place than the one they are used for.
    pub is_elsewhere: bool,
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

impl Years {
    /// As a number of years, 1 to [`MOST_YEARS`].
    pub fn number(self) -> f64 {
        match self {
            Self::MostWinters => 1.0,
            Self::OnceIn(years) => years,
            Self::Rarer => MOST_YEARS,
        }
    }
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

    /// Winters that the mean and the deviation were estimated from: as stated, else [`USUAL_WINTERS`].
    pub fn record(&self) -> f64 {
        self.winters.unwrap_or(USUAL_WINTERS)
    }

    /// The low that is reached about once in `years`, with its 80 % interval, K, coldest first: the mean and the deviation
    /// are estimates from a number of winters.
    ///
    /// # Valid for
    /// `years` above 1; `None` otherwise. Three winters or more.
    /// # Source
    /// Standard error s·√((1 + 1.1396 F + 1.1000 F²)/n) of a Gumbel low fitted by moments: Kite, Frequency and Risk
    /// Analyses in Hydrology (1977), from memory; ends by simulation.
    /// # Example
    /// Mean -26 °C, deviation 4 K, 25 winters: the 20-year low is -33.5 °C (-36.9 to -31.4).
    pub fn low_within(&self, years: f64) -> Option<[f64; 3]> {
        let low = self.low(years)?;
        let [cold, warm] = self.errors(gumbel_factor(years)).map(|it| it * self.deviation);
        Some([low - cold, low, low + warm])
    }

    /// The return period of annual lows that reach a temperature given as [coldest, best estimate, warmest], K, in years:
    /// shortest, best estimate and longest, clamped to 1..1000. The uncertainty of the temperature and that of the mean and
    /// the deviation are independent, so they are combined by root sum of squares.
    pub fn return_period_band(&self, kelvin: [f64; 3]) -> [f64; 3] {
        self.deviations_band(kelvin)
            .map(|deviations| (1.0 / chance_beyond(deviations)).clamp(1.0, MOST_YEARS))
    }

    /// The chance that at least one of `years` winters reaches a temperature given as [coldest, best estimate, warmest],
    /// K: lowest, best estimate and highest, with the uncertainty as in [`AnnualLow::return_period_band`].
    pub fn chance_in_years_band(&self, kelvin: [f64; 3], years: f64) -> [f64; 3] {
        let [fewest, best, most] = self.deviations_band(kelvin);
        [most, best, fewest].map(|deviations| chance_of_any(chance_beyond(deviations), years))
    }

    /// Standard deviations that a temperature is below the mean: fewest, best estimate and most.
    fn deviations_band(&self, kelvin: [f64; 3]) -> [f64; 3] {
        let [most, best, fewest] = kelvin.map(|kelvin| (self.mean - kelvin) / self.deviation);
        let [cold, warm] = self.errors(best);
        // If the true low is colder than estimated, the temperature is fewer deviations below the mean.
        [best - (best - fewest).hypot(cold), best, best + (most - best).hypot(warm)]
    }

    /// How much colder and warmer than estimated a low of so many standard deviations below the mean may be, in standard
    /// deviations.
    fn errors(&self, deviations: f64) -> [f64; 2] {
        let winters = self.record();
        let error = standard_error(deviations, winters);
        // The ends are nearly linear in 1/√n.
        let inverse = |winters: f64| 1.0 / winters.sqrt();
        let next = ENDS.iter().position(|it| it[0] > winters).unwrap_or(ENDS.len() - 1).max(1);
        let ([n0, cold0, warm0], [n1, cold1, warm1]) = (ENDS[next - 1], ENDS[next]);
        let part = ((inverse(winters) - inverse(n0)) / (inverse(n1) - inverse(n0))).max(0.0);
        let sampling =
            [cold0 + part * (cold1 - cold0), warm0 + part * (warm1 - warm0)].map(|end| end * error);
        if !self.is_elsewhere {
            return sampling;
        }
        let [cold, warm] = ELSEWHERE.map(|kelvin| kelvin / self.deviation);
        [sampling[0].hypot(cold), sampling[1].hypot(warm)]
    }

    /// The return period of annual lows that reach `kelvin`, in years: the inverse of [`AnnualLow::low`], clamped to 1..1000.
    pub fn return_period(&self, kelvin: f64) -> f64 {
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
    pub fn chance_in_years(&self, kelvin: f64, years: f64) -> f64 {
        chance_of_any(self.chance_in_a_year(kelvin), years)
    }

    /// P(annual low ≤ T) = 1 − exp(−exp(−(x − μ)/β)) with x = −T, β = s√6/π, μ = −M − γβ.
    fn chance_in_a_year(&self, kelvin: f64) -> f64 {
        chance_beyond((self.mean - kelvin) / self.deviation)
    }
}

/// The chance that a winter's low is more than so many standard deviations below the mean.
fn chance_beyond(deviations: f64) -> f64 {
    let reduced = deviations * std::f64::consts::PI / 6f64.sqrt() + EULER;
    -libm::expm1(-libm::exp(-reduced))
}

/// The chance that an event of this chance in a year happens in at least one of so many years.
fn chance_of_any(in_a_year: f64, years: f64) -> f64 {
    1.0 - libm::pow(1.0 - in_a_year, years)
}

/// Standard error of a low of so many standard deviations below the mean, in standard deviations.
fn standard_error(deviations: f64, winters: f64) -> f64 {
    // A quadratic with no real root: never negative.
    ((1.0 + 1.1396 * deviations + 1.1000 * deviations * deviations) / winters).sqrt()
}

/// F of [`AnnualLow::low`].
fn gumbel_factor(years: f64) -> f64 {
    -(6f64.sqrt() / std::f64::consts::PI) * (EULER + libm::log(libm::log(years / (years - 1.0))))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Frequency factors, independent: computed with scipy.stats.gumbel_r; printed to six places.
    #[test]
    fn frequency_factors_match_a_gumbel_distribution() {
        for (years, factor) in
            [(5.0, 0.719_445), (10.0, 1.304_551), (20.0, 1.865_799), (50.0, 2.592_276), (100.0, 3.136_668)]
        {
            assert!((gumbel_factor(years) - factor).abs() < 1e-6, "{years}");
        }
    }

    /// Printed lows of ASHRAE 2009 design-condition tables. The mean and deviation are printed to 0.1 K, which the
    /// factor of the deviation at 50 years turns into at most 0.05 + 2.6 × 0.05 = 0.18 K, and the low to 0.05 K.
    #[test]
    fn printed_handbook_lows_are_reproduced() {
        const ROUNDING: f64 = 0.22;
        for (mean, deviation, lows) in [
            (-11.0, 3.6, [-13.6, -15.6, -17.6, -20.2]),
            (-9.9, 2.5, [-11.7, -13.2, -14.6, -16.5]),
            (1.8, 1.5, [0.8, -0.1, -0.9, -1.9]),
            (1.1, 1.3, [0.1, -0.6, -1.4, -2.3]),
        ] {
            let annual = AnnualLow { mean, deviation, winters: None, is_elsewhere: false };
            for (years, low) in [5.0, 10.0, 20.0, 50.0].into_iter().zip(lows) {
                let found = annual.low(years).unwrap();
                assert!((found - low).abs() <= ROUNDING, "{mean} {years}: {found} for {low}");
            }
        }
    }

    #[test]
    fn years_between_lows_invert_the_low() {
        let annual = AnnualLow { mean: 245.0, deviation: 3.7, winters: None, is_elsewhere: false };
        for years in [2.0, 6.0, 20.0, 200.0] {
            let low = annual.low(years).unwrap();
            assert!((annual.return_period(low) / years - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn a_20_year_low_has_a_79_percent_chance_in_30_years() {
        let annual = AnnualLow { mean: 245.0, deviation: 3.7, winters: None, is_elsewhere: false };
        let low = annual.low(20.0).unwrap();
        // 1 − (1 − 1/20)^30, in closed form.
        assert!((annual.chance_in_years(low, 30.0) - 0.785_361).abs() < 1e-6);
    }

    #[test]
    fn the_years_are_capped_and_never_infinite() {
        let annual = AnnualLow { mean: 245.0, deviation: 3.7, winters: None, is_elsewhere: false };
        assert_eq!(annual.return_period(100.0), MOST_YEARS);
        assert_eq!(annual.how_often(100.0), Years::Rarer);
        assert_eq!(annual.return_period(300.0), 1.0);
        assert_eq!(annual.how_often(300.0), Years::MostWinters);
    }
}
