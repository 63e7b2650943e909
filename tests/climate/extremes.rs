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
        let reduced = -(-(1.0 - self.uniform()).ln()).ln();
        mean + beta * (0.577_215_664_901_532_9 - reduced)
    }
}

fn of(mean: f64, deviation: f64, winters: f64) -> AnnualLow {
    AnnualLow { mean, deviation, winters: Some(winters) }
}

/// 40 000 houses of 30 winters each. A count of so many has a standard error of at most 0.0025: four of them.
#[test]
fn the_chance_over_30_years_is_that_of_a_direct_simulation() {
    const HOUSES: u32 = 40_000;
    let annual = AnnualLow { mean: ZERO - 26.0, deviation: 4.0, winters: None };
    for below in [-24.0, -30.0, -33.5, -38.0] {
        let mut draws = Draws(20_261_125);
        let reached = (0..HOUSES)
            .filter(|_| (0..30).fold(false, |any, _| (draws.low(-26.0, 4.0) <= below) | any))
            .count();
        let simulated = reached as f64 / f64::from(HOUSES);
        let found = annual.chance_within(ZERO + below, 30.0);
        assert!((found - simulated).abs() < 0.01, "{below} °C: {found} for {simulated}");
    }
}

/// Records of 25 and 50 winters are drawn 20 000 times, each fitted by moments; the middle eight in ten of their 20-year
/// lows are as wide as stated. The error is an asymptotic one and fits of short records are a little skewed: 6 %.
#[test]
fn the_spread_of_a_20_year_low_is_that_of_records_drawn_at_random() {
    const RECORDS: usize = 20_000;
    for winters in [25, 50] {
        let mut draws = Draws(7);
        let mut lows: Vec<f64> = (0..RECORDS)
            .map(|_| {
                let record: Vec<f64> = (0..winters).map(|_| draws.low(-26.0, 4.0)).collect();
                let n = f64::from(winters);
                let mean = record.iter().sum::<f64>() / n;
                let variance = record.iter().map(|it| (it - mean).powi(2)).sum::<f64>() / (n - 1.0);
                // 1.865 799: Gumbel's factor of 20 years (scipy.stats.gumbel_r).
                mean - 1.865_799 * variance.sqrt()
            })
            .collect();
        lows.sort_by(f64::total_cmp);
        let simulated = lows[RECORDS * 9 / 10] - lows[RECORDS / 10];
        let [coldest, _, warmest] = of(-26.0, 4.0, f64::from(winters)).low_within(20.0).unwrap();
        let stated = warmest - coldest;
        assert!((stated / simulated - 1.0).abs() < 0.06, "{winters} winters: {stated} for {simulated}");
    }
}

/// By hand: F(20) = 1.8658; √((1 + 1.1396·1.8658 + 1.1·1.8658²)/25) = √(6.9556/25) = 0.52747; 1.28155 × 0.52747 × 4 K =
/// 2.704 K.
#[test]
fn a_20_year_low_of_25_winters_is_known_to_two_and_three_quarter_kelvin() {
    let [coldest, is, warmest] = of(-26.0, 4.0, 25.0).low_within(20.0).unwrap();
    assert!((is + 33.463_2).abs() < 1e-3, "{is}");
    assert!((warmest - is - 2.704).abs() < 2e-3 && (is - coldest - 2.704).abs() < 2e-3);
}

#[test]
fn where_nobody_says_how_many_winters_25_are_taken() {
    let unsaid = AnnualLow { winters: None, ..of(-26.0, 4.0, 25.0) };
    assert_eq!(unsaid.low_within(20.0), of(-26.0, 4.0, 25.0).low_within(20.0));
}

/// At the mean the standard error is s/√n. By hand for 100 winters: F = ±0.128155; reduced variate 0.7416 and 0.4129;
/// 1/(1 − exp(−exp(−y))) = 2.639 and 2.066 years.
#[test]
fn years_between_lows_at_the_mean_have_the_spread_worked_by_hand() {
    let years = of(-26.0, 4.0, 100.0).years_within([-26.0; 3]);
    for (found, by_hand) in years.into_iter().zip([2.0659, 2.3276, 2.6388]) {
        assert!((found - by_hand).abs() < 2e-4, "{years:?}");
    }
}

#[test]
fn a_band_of_the_section_and_that_of_the_record_widen_each_other() {
    let annual = of(-26.0, 4.0, 25.0);
    let [fewest, is, most] = annual.years_within([-34.0, -33.0, -32.0]);
    let [record_only, same, _] = annual.years_within([-33.0; 3]);
    assert_eq!(is, same);
    assert!(fewest < record_only && record_only < is && is < most);
    let [least, likeliest, greatest] = annual.chance_in([-34.0, -33.0, -32.0], 30.0);
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
        prop_assert!((annual.years_between(low) / years - 1.0).abs() < 1e-6);
        let [fewest, is, most] = annual.years_within([low; 3]);
        prop_assert!((is / years - 1.0).abs() < 1e-6);
        prop_assert!(1.0 <= fewest && fewest <= is && is <= most && most <= MOST_YEARS);
    }

    #[test]
    fn a_rarer_low_is_a_colder_low(mean in -45.0..10.0f64, deviation in 0.5..6.0f64, years in 1.2..500.0f64) {
        let annual = of(mean, deviation, 25.0);
        prop_assert!(annual.low(years * 1.1).unwrap() < annual.low(years).unwrap());
    }
}
