//! The model of a year against published percentiles it is not tuned to, and against sums that must hold.

use coldsill::climate::{Climate, HOURS, Year};
use coldsill::shipped;

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
    }
}

#[test]
fn one_hour_in_a_hundred_is_colder_than_the_99_per_cent_value() {
    // Tuned to it. From the bins, 1 K wide, the band that holds the value counted in part: a straight line within it is off by
    // up to an eighth of the square of its width times the slope of the density. Hours rise e-fold in about 1.6 K at the 1 %
    // of the steepest year, Honolulu's, at 0.9 %/K: 0.9/1.6/8 = 0.07 % of the hours.
    for (climate, year) in all() {
        let limit = climate.heating_990.unwrap();
        assert!((year.part_colder_than(limit) - 0.01).abs() < 1e-6, "{}", climate.id);
        let part = |middle: f64| (limit - (middle - 0.5)).clamp(0.0, 1.0);
        let binned: f64 = year.bins.iter().map(|it| part(it.temperature) * it.hours).sum();
        assert!((binned / HOURS - 0.01).abs() < 0.0008, "{}: {binned}", climate.id);
    }
}

#[test]
fn the_hours_below_the_99_6_per_cent_value_that_it_is_not_tuned_to_are_off_by_less_than_years_differ() {
    // The year is used for sums: hours of sweating, heat of a winter. Published, 0.4 % of 8766 h are colder: 35 h. Such cold
    // comes in runs of about a day, 1.5 a year; a Poisson count of 1.5 has a standard deviation of 1.2, or 29 h, by which
    // one year differs from the average. Nearer than that no year it stands for is to it.
    // Riverside's two values are printed 0.6 K apart (2.3 and 2.9 °C), less than half of what they are at March, 11 miles off
    // (1.2 and 2.6 °C): no even spread from day to day goes with both. It is off by 32 h.
    const MISSED: [&str; 1] = ["riverside-ca"];
    let (runs, run) = (0.004 * HOURS / 24.0, 24.0);
    let tolerance = runs.sqrt() * run;
    let mut sum = 0.0;
    let all = all();
    for (climate, year) in &all {
        let off = (year.part_colder_than(climate.heating_996.unwrap()) - 0.004) * HOURS;
        let missed = MISSED.contains(&&*climate.id);
        assert_eq!(off.abs() >= tolerance, missed, "{}: {off} h, {tolerance} h", climate.id);
        sum += off;
    }
    // All places alike are off by less than one hour in a thousand of the year.
    let mean = sum / f64::from(u32::try_from(all.len()).unwrap());
    assert!(mean.abs() < 0.001 * HOURS, "{mean}");
}

#[test]
fn the_coldest_twelfth_of_the_year_has_the_mean_of_the_coldest_month() {
    for (climate, year) in all() {
        let published = climate.coldest_month_mean.unwrap();
        assert!((year.coldest_month() - published).abs() < 0.01, "{}", climate.id);
    }
}

#[test]
fn the_annual_mean_is_near_the_normals_of_places_that_have_long_records() {
    // °C, normals rounded to the degree, from memory: the line through them is within 4 K of each.
    for (id, normal) in [
        ("miami-fl", 25.0),
        ("dallas-tx", 19.0),
        ("atlanta-ga", 17.0),
        ("seattle-wa", 11.0),
        ("denver-co", 10.0),
        ("chicago-il", 10.0),
        ("boston-ma", 11.0),
        ("minneapolis-mn", 8.0),
        ("fargo-nd", 6.0),
        ("anchorage-ak", 3.0),
        ("winnipeg-mb", 3.0),
        ("fairbanks-ak", -2.0),
    ] {
        let (_, year) = all().into_iter().find(|(climate, _)| &*climate.id == id).unwrap();
        let mean: f64 = year.bins.iter().map(|it| it.hours * it.temperature).sum::<f64>() / HOURS - 273.15;
        assert!((mean - normal).abs() < 4.2, "{id}: {mean} {normal}");
    }
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
