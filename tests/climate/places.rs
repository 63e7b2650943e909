//! The mean of the coldest month, in the shipped climates and in a job's own.

use coldsill::climate::{Climate, read_climate, read_library_file};
use coldsill::diag::Diagnostics;
use coldsill::input::yaml;
use coldsill::shipped;

#[test]
fn every_shipped_place_has_a_coldest_month_between_its_lows_and_a_warm_day() {
    let library = shipped::climates().unwrap();
    assert!(library.iter().count() >= 150);
    for it in library.iter() {
        let mean = it.coldest_month_mean.unwrap_or_else(|| panic!("{}", it.id));
        // 30 °C: no month is the coldest of a place in North America at that.
        assert!(it.annual_low.unwrap().mean < mean && mean < 303.15, "{}: {mean}", it.id);
        assert!(it.design_low().unwrap() < mean, "{}", it.id);
        // The mean of a month lies well above what is exceeded in all but 35 hours of a year.
        assert!(it.heating_996.unwrap() < mean, "{}", it.id);
        assert_eq!(&*it.coldest_month_source, "coldest month of typical-year weather files", "{}", it.id);
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
        (
            "200 °C",
            "\"200 °C\" is outside what there is for the coldest month mean; expected -112 °F to 104 °F",
        ),
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
