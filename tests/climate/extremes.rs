//! Annual lows: factors, inversion, chance within 30 years, and the spread of few winters, against figures and
//! simulations that know nothing of the code.

use coldsill::climate::{AnnualLow, MOST_YEARS};
use proptest::prelude::*;

const ZERO: f64 = 273.15;

/// A generator of its own (splitmix64, S. Vigna, public domain), so that a seed gives the same winters for good.
struct Draws(u64);

impl Draws {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// The low of a winter: a Gumbel minimum of a mean and a standard deviation, by inversion of its distribution.
    fn low(&mut self, mean: f64, deviation: f64) -> f64 {
        let beta = deviation * 6f64.sqrt() / std::f64::consts::PI;
        let reduced = -libm::log(-libm::log(1.0 - self.uniform()));
        mean + beta * (0.577_215_664_901_532_9 - reduced)
    }
}

fn of(mean: f64, deviation: f64, winters: f64) -> AnnualLow {
    AnnualLow { mean, deviation, winters: Some(winters), is_elsewhere: false }
}

/// 40 000 houses of 30 winters each. A count of so many has a standard error of at most 0.0025: four of them.
#[test]
fn the_chance_over_30_years_is_that_of_a_direct_simulation() {
    const HOUSES: u32 = 40_000;
    let annual = AnnualLow { mean: ZERO - 26.0, deviation: 4.0, winters: None, is_elsewhere: false };
    for below in [-24.0, -30.0, -33.5, -38.0] {
        let mut draws = Draws(20_261_125);
        let reached = (0..HOUSES)
            .filter(|_| (0..30).fold(false, |any, _| (draws.low(-26.0, 4.0) <= below) | any))
            .count();
        let simulated = reached as f64 / f64::from(HOUSES);
        let found = annual.chance_in_years(ZERO + below, 30.0);
        assert!((found - simulated).abs() < 0.01, "{below} °C: {found} for {simulated}");
    }
}

/// Records of few and of many winters are drawn 20 000 times, each fitted by moments. One in ten has a spread that lies too
/// warm, one in ten one that lies too cold: to 1.5 in a hundred, five standard errors of such a count and what lows of other
/// years differ.
#[test]
fn beyond_either_end_of_a_spread_lies_one_case_in_ten() {
    const RECORDS: u32 = 20_000;
    // Gumbel's factors of 10 and 20 years (scipy.stats.gumbel_r).
    for (winters, years, factor) in [
        (3, 20.0, 1.865_799),
        (5, 20.0, 1.865_799),
        (12, 20.0, 1.865_799),
        (25, 10.0, 1.304_551),
        (25, 20.0, 1.865_799),
        (60, 20.0, 1.865_799),
    ] {
        let truth = -26.0 - factor * 4.0;
        let mut draws = Draws(7);
        let (mut colder, mut warmer) = (0, 0);
        for _ in 0..RECORDS {
            let record: Vec<f64> = (0..winters).map(|_| draws.low(-26.0, 4.0)).collect();
            let n = f64::from(winters);
            let mean = record.iter().sum::<f64>() / n;
            let variance = record.iter().map(|it| (it - mean).powi(2)).sum::<f64>() / (n - 1.0);
            let [coldest, _, warmest] = of(mean, variance.sqrt(), n).low_within(years).unwrap();
            colder += u32::from(truth < coldest);
            warmer += u32::from(truth > warmest);
        }
        for beyond in [colder, warmer] {
            let part = f64::from(beyond) / f64::from(RECORDS);
            assert!((part - 0.1).abs() < 0.015, "{winters} winters, {years} years: {part}");
        }
    }
}

/// By hand: F(20) = 1.8658; √((1 + 1.1396·1.8658 + 1.1·1.8658²)/25) = √(6.9556/25) = 0.52747; by the
/// simulation 1.65 of it on the cold side and 0.98 on the warm: 3.481 and 2.068 K of 4 K.
#[test]
fn a_20_year_low_of_25_winters_is_known_to_three_kelvin() {
    let [coldest, is, warmest] = of(-26.0, 4.0, 25.0).low_within(20.0).unwrap();
    assert!((is + 33.463_2).abs() < 1e-3, "{is}");
    assert!((warmest - is - 2.068).abs() < 2e-3 && (is - coldest - 3.481).abs() < 2e-3);
}

#[test]
fn where_nobody_says_how_many_winters_25_are_taken() {
    let unsaid = AnnualLow { winters: None, ..of(-26.0, 4.0, 25.0) };
    assert_eq!(unsaid.low_within(20.0), of(-26.0, 4.0, 25.0).low_within(20.0));
}

/// At the mean the standard error is s/√n: of 100 winters a tenth, 1.46 and 1.12 of it. By 1/(1 − exp(−exp(−y))), y =
/// 1.28255 F + 0.57722 (Python): F = -0.146, 0, 0.112.
#[test]
fn years_between_lows_at_the_mean_have_the_expected_spread() {
    let years = of(-26.0, 4.0, 100.0).return_period_band([-26.0; 3]);
    for (found, by_hand) in years.into_iter().zip([2.0329, 2.3276, 2.5966]) {
        assert!((found - by_hand).abs() < 2e-4, "{years:?}");
    }
}

#[test]
fn section_and_record_bands_widen_each_other() {
    let annual = of(-26.0, 4.0, 25.0);
    let [fewest, is, most] = annual.return_period_band([-34.0, -33.0, -32.0]);
    let [record_only, same, _] = annual.return_period_band([-33.0; 3]);
    assert_eq!(is, same);
    assert!(fewest < record_only && record_only < is && is < most);
    let [least, likeliest, greatest] = annual.chance_in_years_band([-34.0, -33.0, -32.0], 30.0);
    assert!(least < likeliest && likeliest < greatest);
}

proptest! {
    /// 6 °C per deviation is more than the coldest places have of it; the cap cuts the far end.
    #[test]
    fn years_of_the_low_of_so_many_years_are_those_years(
        mean in -45.0..10.0f64, deviation in 0.5..6.0f64, years in 1.2..900.0f64
    ) {
        let annual = of(mean, deviation, 25.0);
        let low = annual.low(years).unwrap();
        prop_assert!((annual.return_period(low) / years - 1.0).abs() < 1e-6);
        let [fewest, is, most] = annual.return_period_band([low; 3]);
        prop_assert!((is / years - 1.0).abs() < 1e-6);
        prop_assert!(1.0 <= fewest && fewest <= is && is <= most && most <= MOST_YEARS);
    }

    #[test]
    fn a_rarer_low_is_a_colder_low(mean in -45.0..10.0f64, deviation in 0.5..6.0f64, years in 1.2..500.0f64) {
        let annual = of(mean, deviation, 25.0);
        prop_assert!(annual.low(years * 1.1).unwrap() < annual.low(years).unwrap());
    }
}
