//! Figures of a described climate that cannot all be right, each told where it is written.

use crate::climate::lines;
use coldsill::climate::{Climate, read_climate};
use coldsill::diag::Diagnostics;
use coldsill::input::yaml;

fn read(text: &str) -> Result<Climate, Diagnostics> {
    let node = yaml::parse("job.yaml", &format!("name: Testville\n{text}\n")).expect("is YAML");
    let mut problems = Diagnostics::new();
    let climate = read_climate(&node, &mut problems);
    climate.filter(|_| problems.is_empty()).ok_or(problems)
}

#[track_caller]
fn told(figures: &str, line: usize, column: usize, message: &str) {
    assert_eq!(
        lines(read(figures)),
        [format!("job.yaml, line {line}, column {column}: {message}")],
        "{figures}"
    );
}

const APART: &str = "expected figures of one place: is a minus missing?";
const ABOVE: &str = "expected each figure no warmer than the one before: is a minus missing?";

#[test]
fn a_low_above_the_mean_of_the_coldest_month_is_a_slip() {
    told(
        "coldest_month_mean: 10 °F\ndesign_low: 30 °F",
        3,
        13,
        &format!("has a design low of 30 °F above its mean of the coldest month of 10 °F; {ABOVE}"),
    );
    told(
        "coldest_month_mean: 10 °F\nheating_99: 15 °F",
        3,
        13,
        &format!("has a 99 % value of 15 °F above its mean of the coldest month of 10 °F; {ABOVE}"),
    );
    assert!(read("coldest_month_mean: 10 °F\ndesign_low: -30 °F\nheating_99: 2 °F").is_ok());
}

/// A mean of 25 °F and a record of -40 °F are 13 deviations of 5 °F apart; 8 of them are 40 °F. Of 2 °F the 30 °F hold.
#[test]
fn a_record_many_deviations_below_the_mean_annual_low_is_a_slip() {
    told(
        "annual_low: { mean: 25 °F, deviation: 5 °F }\ncoldest_recorded: -40 °F",
        3,
        19,
        &format!("has a coldest recorded of -40 °F, which is far from its mean annual low of 25 °F; {APART}"),
    );
    assert!(read("annual_low: { mean: 25 °F, deviation: 5 °F }\ncoldest_recorded: -14 °F").is_ok());
    assert!(read("annual_low: { mean: 25 °F, deviation: 2 °F }\ncoldest_recorded: -4 °F").is_ok());
    assert!(read("annual_low: { mean: 25 °F, deviation: 2 °F }\ncoldest_recorded: -6 °F").is_err());
}

#[test]
fn a_design_low_may_be_a_hollows_and_not_far_below_the_record() {
    told(
        "design_low: -10 °F\ncoldest_recorded: 10 °F",
        3,
        19,
        &format!("has a coldest recorded of 10 °F, which is far from its design low of -10 °F; {APART}"),
    );
    assert!(read("design_low: -10 °F\ncoldest_recorded: 4 °F").is_ok());
}

#[test]
fn a_coldest_month_far_above_the_lows_is_a_slip() {
    let far = "has a mean of the coldest month of 80 °F, which is far from its";
    told(
        "coldest_month_mean: 80 °F\nannual_low: { mean: -10 °F, deviation: 5 °F }",
        2,
        21,
        &format!("{far} mean annual low of -10 °F; {APART}"),
    );
    told(
        "coldest_month_normal: 80 °F\ndesign_low: -10 °F",
        2,
        23,
        &format!("{far} design low of -10 °F; {APART}"),
    );
    // The coldest of the interior: Banff's lie 53 °F apart.
    assert!(read("coldest_month_mean: 20 °F\nannual_low: { mean: -34 °F, deviation: 7 °F }").is_ok());
}

#[test]
fn a_mean_and_a_normal_of_one_month_are_near_each_other() {
    told(
        "design_low: -10 °F\ncoldest_month_mean: 20 °F\ncoldest_month_normal: 60 °F",
        3,
        21,
        &format!(
            "has a mean of the coldest month of 20 °F, which is far from its normal of the coldest month of 60 °F; {APART}"
        ),
    );
    assert!(read("design_low: -10 °F\ncoldest_month_mean: 20 °F\ncoldest_month_normal: 26 °F").is_ok());
}

#[test]
fn the_coldest_month_is_one_of_winter_on_either_side_of_the_equator() {
    told(
        "design_low: -10 °F\nlatitude: 45\ncoldest_month: July",
        4,
        16,
        "\"July\" is no coldest month of a place in the north; expected November to March: or is a minus of the latitude \
         missing?",
    );
    told(
        "design_low: -10 °F\nlatitude: -45\ncoldest_month: January",
        4,
        16,
        "\"January\" is no coldest month of a place in the south; expected May to September: or is the latitude north?",
    );
    for fine in [
        "latitude: 74.7\ncoldest_month: February",
        "latitude: -45\ncoldest_month: July",
        "latitude: 10\ncoldest_month: July",
    ] {
        assert!(read(&format!("design_low: 10 °F\n{fine}")).is_ok(), "{fine}");
    }
}

#[test]
fn an_authoritys_winter_temperature_far_below_the_design_low_in_use_is_told() {
    let opened = |design: &str, authority: &str| {
        let job = format!(
            "climate: {{ name: Testville, design_low: {design} °F }}\nauthority: {{ winter_temperature: {authority} °F }}\n"
        );
        crate::climate::opened(&job, "Mark,Kind\nA,sillcock\n", None)
    };
    assert_eq!(
        lines(opened("20", "-20")),
        [
            "job.yaml, line 3, column 34: \"-20 °F\" is far colder than the design low of 20 °F; expected figures of one place: \
             is a minus missing in the design low?"
        ]
    );
    // 30 °F apart is what is allowed.
    assert!(opened("9", "-20").is_ok() && opened("-20", "0").is_ok());
}
