//! The mean of the coldest month, in the shipped climates and in a job's own.

use coldsill::climate::{Climate, read_climate, read_library_file};
use coldsill::diag::{Diagnostics, Location};
use coldsill::input::yaml;
use coldsill::shipped;

#[test]
fn every_built_in_place_has_a_plausible_coldest_month() {
    let library = shipped::climates().unwrap();
    assert!(library.iter().count() >= 150);
    for it in library.iter() {
        let mean = it.coldest_month_mean.unwrap_or_else(|| panic!("{}", it.id));
        // 30 °C: no month is the coldest of a place in North America at that.
        assert!(it.annual_low.unwrap().mean < mean && mean < 303.15, "{}: {mean}", it.id);
        assert!(it.design_low().unwrap() < mean, "{}", it.id);
        // The mean of a month lies well above what is exceeded in all but 35 hours of a year.
        assert!(it.heating_996.unwrap() < mean, "{}", it.id);
        let source = &*it.coldest_month_source;
        let is_typical = source.starts_with("coldest month of typical-year weather files, 2.4 °F added");
        assert!(is_typical || source == "1991-2020 normal of the coldest month", "{}: {source}", it.id);
        assert_eq!(it.coldest_month_within.is_some(), is_typical, "{}", it.id);
        assert!(it.source.starts_with("ASHRAE"), "{}", it.id);
    }
}

fn job_climate(text: &str) -> Result<Climate, Diagnostics> {
    let node = yaml::parse("job.yaml", text).expect("the test is right YAML");
    let mut problems = Diagnostics::new();
    match (read_climate(&node, &mut problems), problems.is_empty()) {
        (Some(climate), true) => Ok(climate),
        _ => Err(problems),
    }
}

#[test]
fn a_climate_written_into_a_job_may_state_its_coldest_month() {
    let climate = job_climate("name: Here\ndesign_low: 0 °F\ncoldest_month_mean: 5 °C\n").unwrap();
    assert_eq!(climate.coldest_month_mean, Some(278.15));
    assert_eq!(&*climate.coldest_month_source, "stated in the job");
    assert_eq!(job_climate("name: Here\ndesign_low: 0 °F\n").unwrap().coldest_month_mean, None);
}

#[test]
fn a_coldest_month_that_cannot_be_is_told_where_it_stands() {
    for (figure, line) in [
        ("5", "\"5\" has no unit; expected a temperature such as -5 °F or -20 °C"),
        ("200 °C", "\"200 °C\" is out of range for the coldest month mean; expected -112 °F to 104 °F"),
    ] {
        let text = format!("name: Here\ndesign_low: 0 °F\ncoldest_month_mean: {figure}\n");
        assert_eq!(super::lines(job_climate(&text)), [format!("job.yaml, line 3, column 21: {line}")]);
    }
}

#[test]
fn a_library_file_need_not_say_where_its_months_are_from() {
    let text =
        "source: Us\nplaces:\n  here:\n    name: Here\n    design_low: 0 °F\n    coldest_month_mean: 5 °C\n";
    let mut problems = Diagnostics::new();
    let climates = read_library_file(&yaml::parse("a.yaml", text).unwrap(), &mut problems);
    assert!(problems.is_empty());
    assert_eq!(&*climates[0].coldest_month_source, "Us");
}

#[derive(serde::Deserialize)]
struct Normal {
    place: String,
    #[serde(rename = "normal_F")]
    fahrenheit: f64,
    standing: String,
}

/// Normals of 1991 to 2020 of the coldest month: those of Minneapolis and Duluth as a forecaster's page prints them
/// (forecastissold.com), of Chicago as the weather service does (weather.gov/lot); the others from memory.
#[test]
fn coldest_months_are_within_their_error_of_published_normals() {
    let rows: Vec<Normal> = csv::Reader::from_reader(&include_bytes!("data/coldest-months.csv")[..])
        .deserialize()
        .collect::<Result<_, _>>()
        .expect("a table of normals");
    assert!(rows.len() >= 20);
    let library = shipped::climates().unwrap();
    let (mut errors, mut beyond) = (Vec::new(), Vec::new());
    for row in rows {
        let climate =
            library.iter().find(|it| *it.id == *row.place).unwrap_or_else(|| panic!("{}", row.place));
        let error = (climate.coldest_month_mean.unwrap() - 273.15) * 1.8 + 32.0 - row.fahrenheit;
        let Some(within) = climate.coldest_month_within else {
            assert!(row.standing == "seen" && error.abs() < 0.05, "{}: {error}", row.place);
            continue;
        };
        errors.push(error);
        if error.abs() > within * 1.8 {
            beyond.push((row.place, error));
        }
    }
    let count = f64::from(u32::try_from(errors.len()).unwrap());
    let mean = errors.iter().sum::<f64>() / count;
    let deviation = (errors.iter().map(|it| (it - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt();
    // The correction has a standard error of 2.2/√29 °F; two standard deviations are the error that is stated; one place in
    // twenty may lie beyond it.
    assert!(mean.abs() < 0.8 && 2.0 * deviation < 4.5, "{mean} {deviation}");
    assert!(beyond.len() <= 2, "{beyond:?}");
}

/// Stations whose month is estimated from percentiles, beside normals printed on the same forecaster's page.
#[test]
fn an_estimated_coldest_month_is_within_its_error_of_a_normal() {
    for (place, normal) in [("Rochester, MN", 14.8), ("Saint Cloud, MN", 11.8), ("Brainerd, MN", 10.6)] {
        let found = shipped::climates().unwrap().find(place, &Location::whole("--climate")).unwrap();
        let mean = (found.coldest_month_mean.unwrap() - 273.15) * 1.8 + 32.0;
        assert!((mean - normal).abs() < found.coldest_month_within.unwrap() * 1.8, "{place}: {mean}");
    }
}
