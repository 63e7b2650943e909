//! The model of a year: sums that must hold, the published figures it must meet, an independent sum of its frost.

use coldsill::climate::{AnnualLow, Climate};
use coldsill::shipped;
use coldsill::spell::{HOURS, Year};

fn all() -> Vec<(Climate, Year)> {
    let library = shipped::climates().expect("the shipped climates are right");
    let years = library.iter().map(|it| (it.as_ref().clone(), Year::of(it).expect("its figures are given")));
    years.collect()
}

#[test]
fn the_hours_of_every_year_add_up_and_no_bin_is_below_zero() {
    let all = all();
    assert!(all.len() >= 150);
    for (climate, year) in all {
        let hours: f64 = year.bins.iter().map(|it| it.hours).sum();
        // 365.25 days.
        assert!((hours - 8766.0).abs() < 1e-6 && HOURS == 8766.0, "{}: {hours}", climate.id);
        assert!(year.bins.iter().all(|it| it.hours >= 0.0), "{}", climate.id);
        // Half a minute of a year is colder than the bins.
        let colder = year.part_colder_than(year.bins[0].temperature - 0.5);
        assert!(HOURS * 60.0 * colder <= 0.53, "{}: {colder}", climate.id);
    }
}

#[test]
fn model_year_meets_the_99_and_99_6_percent_values() {
    for (climate, year) in all() {
        for (limit, part) in [(climate.heating_990, 0.01), (climate.heating_996, 0.004)] {
            let got = year.part_colder_than(limit.unwrap());
            assert!((got - part).abs() < 1e-6, "{}: {got} for {part}", climate.id);
        }
        // The bins say the same at their edges.
        let mut below = 0.0;
        for bin in &year.bins[..year.bins.len() - 1] {
            below += bin.hours;
            let want = HOURS * year.part_colder_than(bin.temperature + 0.5);
            assert!((below - want).abs() < 1e-6, "{}: {below} {want}", climate.id);
        }
    }
}

#[test]
fn the_rarest_cold_is_that_of_the_annual_lows() {
    // One winter in twenty reaches the 20-year low, and stays below it for part of a night up to a day: 5 to 30 h in twenty
    // years.
    for (climate, year) in all() {
        let low = climate.annual_low.and_then(|it| it.low(20.0)).unwrap();
        let hours = HOURS * year.part_colder_than(low);
        assert!((0.25..=1.5).contains(&hours), "{}: {hours}", climate.id);
    }
}

#[test]
fn the_colder_the_fewer_hours_are_colder_still() {
    for (climate, year) in all() {
        let parts: Vec<f64> =
            (0..1400).map(|it| year.part_colder_than(200.0 + 0.1 * f64::from(it))).collect();
        assert!(parts.windows(2).all(|it| it[0] <= it[1]), "{}", climate.id);
        assert!(year.bins.windows(2).all(|it| it[0].temperature < it[1].temperature), "{}", climate.id);
    }
}

#[test]
fn coldest_twelfth_has_the_mean_of_the_coldest_month() {
    for (climate, year) in all() {
        let published = climate.coldest_month_mean.unwrap();
        assert!((year.coldest_month() - published).abs() < 0.01, "{}", climate.id);
    }
}

#[test]
fn freezing_index_and_season_are_those_of_an_independent_sum() {
    // `python3 tests/reference/year_model.py frost`, rounded to 1 °F·day and 0.1 days; its sums are over 720 days.
    for (id, colder, index, season) in [
        ("chicago-il", 0.0, 547.0, 90.3),
        ("chicago-il", 2.5, 980.0, 116.7),
        ("duluth-mn", 0.0, 2085.0, 147.1),
        ("duluth-mn", 2.5, 2776.0, 165.4),
    ] {
        let (_, year) = all().into_iter().find(|(climate, _)| &*climate.id == id).unwrap();
        let got = year.freezing_index(colder) / 48_000.0;
        assert!((got - index).abs() < 0.5 + 0.002 * index, "{id}: {got} for {index}");
        let got = year.freezing_season(colder) / 86_400.0;
        // Half a step of the sum at either end.
        assert!((got - season).abs() < 0.05 + 0.51, "{id}: {got} for {season}");
    }
}

#[test]
fn index_without_thaw_is_the_mean_times_the_year() {
    let mut climate = Climate::unknown();
    (climate.coldest_month_mean, climate.heating_990) = (Some(223.15), Some(213.15));
    climate.latitude = Some(80.0);
    let year = Year::of(&climate).unwrap();
    // 26.5 - 20 - 28.8 °C; warmest 6 °C: cold enough with 40 K less.
    assert!((year.mean - 250.85).abs() < 1e-9, "{}", year.mean);
    let index = (273.15 - 210.85) * 365.25 * 86_400.0;
    assert!((year.freezing_index(40.0) / index - 1.0).abs() < 1e-6);
    assert!((year.freezing_season(40.0) / (365.25 * 86_400.0) - 1.0).abs() < 1e-9);
    assert_eq!(year.freezing_season(-80.0), 0.0);
}

#[test]
fn an_annual_low_alone_makes_a_year_of_a_coldest_month() {
    let mut climate = Climate::unknown();
    climate.coldest_month_mean = Some(268.0);
    climate.annual_low = Some(AnnualLow { mean: 250.0, deviation: 4.0, winters: None, is_elsewhere: false });
    let year = Year::of(&climate).unwrap();
    // Some hours in an average year, and a 20-year low as anywhere.
    let hours = HOURS * year.part_colder_than(250.0);
    assert!((3.0..=15.0).contains(&hours), "{hours}");
    let rare = HOURS * year.part_colder_than(climate.annual_low.and_then(|it| it.low(20.0)).unwrap());
    assert!((0.25..=1.5).contains(&rare), "{rare}");
    // A low above a percentile is of other years: the percentile stands, and there is no kink upwards.
    climate.heating_990 = Some(249.0);
    let year = Year::of(&climate).unwrap();
    assert!((year.part_colder_than(249.0) - 0.01).abs() < 1e-6);
    assert!(year.part_colder_than(248.0) < 0.01);
}

#[test]
fn the_south_has_the_year_of_the_north_in_the_same_latitude() {
    let library = shipped::climates().expect("the shipped climates are right");
    let mut climate = library.iter().find(|it| &*it.id == "denver-co").unwrap().as_ref().clone();
    let north = Year::of(&climate);
    climate.latitude = climate.latitude.map(|it| -it);
    assert_eq!(Year::of(&climate), north);
}

#[test]
fn a_climate_of_a_design_low_alone_has_no_year() {
    let mut climate = Climate::unknown();
    climate.stated_low = Some(255.0);
    assert_eq!(Year::of(&climate), None);
    climate.coldest_month_mean = Some(268.0);
    assert_eq!(Year::of(&climate), None);
    climate.heating_996 = Some(256.0);
    let year = Year::of(&climate).unwrap();
    assert!((year.part_colder_than(256.0) - 0.004).abs() < 1e-6);
    // A percentile above the mean of the coldest month is a slip.
    climate.heating_990 = Some(270.0);
    assert_eq!(Year::of(&climate), None);
}
