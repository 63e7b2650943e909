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
        let is_typical = source.starts_with("coldest month of typical-year weather files, 2 °F added");
        assert!(is_typical || source.ends_with(" normal of the coldest month"), "{}: {source}", it.id);
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

/// The lowest of the twelve monthly normals of 1981 to 2010 (NOAA, Comparative Climatic Data, normal mean temperatures, a
/// public record), °F, of each place that there is one of.
fn coldest_normals() -> Vec<(String, f64)> {
    let table = &include_bytes!("data/monthly-normals-1981-2010.csv")[..];
    let rows = csv::Reader::from_reader(table).into_records().map(|row| {
        let row = row.expect("a row");
        let months = (1..=12).map(|at| row[at].parse::<f64>().expect("a normal"));
        (row[0].to_owned(), months.fold(f64::INFINITY, f64::min))
    });
    rows.collect()
}

fn fahrenheit(climate: &Climate) -> f64 {
    (climate.coldest_month_mean.expect("a coldest month") - 273.15) * 1.8 + 32.0
}

#[test]
fn coldest_months_are_the_normals_where_there_are() {
    // Seen in public copies of the normals of 1991 to 2020 (forecastissold.com; weather.gov/lot).
    let newer = [("minneapolis-mn", 16.2), ("duluth-mn", 11.2), ("chicago-il", 25.2)];
    let library = shipped::climates().unwrap();
    for (place, normal) in coldest_normals() {
        let normal = newer.iter().find(|(id, _)| *id == place).map_or(normal, |(_, newer)| *newer);
        let climate = library.iter().find(|it| *it.id == *place).unwrap_or_else(|| panic!("{place}"));
        assert!((fahrenheit(climate) - normal).abs() < 0.05, "{place}: {}", fahrenheit(climate));
        assert_eq!(climate.coldest_month_within, None, "{place}");
    }
}

/// What is added to the months of typical years, on the places that have a normal, as if they had none. Normals of 1991 to
/// 2020 are warmer by 0.6 to 1.4 °F at the three places where both were seen; 0.7 °F is taken.
#[test]
fn typical_months_are_within_their_error_of_published_normals() {
    let text = include_str!("../../climates/united-states.yaml");
    let without: Vec<&str> = text
        .lines()
        .filter(|line| !line.contains("coldest_month_normal:") && !line.contains("normal_years:"))
        .collect();
    let mut problems = Diagnostics::new();
    let places = read_library_file(&yaml::parse("us.yaml", &without.join("\n")).unwrap(), &mut problems);
    assert!(problems.is_empty());
    let errors: Vec<(String, f64)> = coldest_normals()
        .into_iter()
        .map(|(place, normal)| {
            let climate = places.iter().find(|it| *it.id == *place).unwrap_or_else(|| panic!("{place}"));
            assert!((climate.coldest_month_within.unwrap() - 4.0 / 1.8).abs() < 1e-9);
            (place, fahrenheit(climate) - (normal + 0.7))
        })
        .collect();
    let count = f64::from(u32::try_from(errors.len()).unwrap());
    assert!(count >= 50.0);
    let mean = errors.iter().map(|(_, error)| error).sum::<f64>() / count;
    // The mean of 53 errors of 1.7 °F is known to 0.24 °F, the warming since to some 0.3: twice both.
    assert!(mean.abs() < 0.8, "{mean}");
    // One place in twenty may lie beyond what is stated.
    let beyond: Vec<_> = errors.iter().filter(|(_, error)| error.abs() > 4.0).collect();
    assert!(beyond.len() <= 3, "{beyond:?}");
}

/// A month colder than the lows of the year is a slip. Of a place with a normal the mean is not used; without one, the mean
/// is used with what the file adds.
#[test]
fn the_month_that_is_used_is_the_one_that_is_checked() {
    let read = |month: &str| {
        let text = format!(
            "source: made up\ncoldest_month_add: 2 °F\nplaces:\n  elsewhere:\n    name: Elsewhere\n    \
             annual_low: {{ mean: 0 °F, deviation: 5 °F }}\n{month}"
        );
        let mut problems = Diagnostics::new();
        let places = read_library_file(&yaml::parse("made-up.yaml", &text).unwrap(), &mut problems);
        (places.first().map(fahrenheit), problems.iter().map(ToString::to_string).collect::<String>())
    };
    for (month, used) in [
        ("    coldest_month_mean: -4 °F\n    coldest_month_normal: 10 °F\n", 10.0),
        ("    coldest_month_mean: -1 °F\n", 1.0),
    ] {
        let (mean, problems) = read(month);
        assert!(mean.is_some_and(|mean| (mean - used).abs() < 1e-6), "{mean:?} {problems}");
    }
    for (month, named) in [
        ("    coldest_month_mean: 20 °F\n    coldest_month_normal: -20 °F\n", "-20 °F"),
        ("    coldest_month_mean: -3 °F\n", "-1 °F"),
    ] {
        let (mean, problems) = read(month);
        assert_eq!(mean, None, "{month}");
        assert!(problems.contains(&format!("above its mean of the coldest month of {named}")), "{problems}");
    }
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
