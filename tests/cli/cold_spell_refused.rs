//! Cold spells that cannot be made: exit 2, one located problem a line on standard error, nothing on standard output.

use crate::cli::common::{Folder, NOTHING_TO_ASK, WARM};

fn folder() -> Folder {
    Folder::of(NOTHING_TO_ASK)
}

/// The command on a schedule that is in order.
#[track_caller]
fn refused(folder: &Folder, arguments: &[&str], problems: &[&str]) {
    let all: Vec<&str> =
        ["cold-spell", "s.csv", "--climate", WARM].iter().chain(arguments).copied().collect();
    folder.run_with(&all).is_refused(problems);
}

#[track_caller]
fn series_refused(csv: &str, arguments: &[&str], problems: &[&str]) {
    let arguments: Vec<&str> = ["--series", "station.csv"].iter().chain(arguments).copied().collect();
    refused(&folder().with("station.csv", csv), &arguments, problems);
}

#[test]
fn a_mark_that_is_not_on_the_schedule_names_the_nearest() {
    refused(
        &folder(),
        &["--mark", "HB-11"],
        &["s.csv: \"HB-11\" is not a mark of the schedule; did you mean \"HB-1\"?"],
    );
}

#[test]
fn two_spells_at_once() {
    refused(
        &folder().with("station.csv", "Hour,Temp (F)\n0,10\n1,11\n"),
        &["--outdoors", "12 °F for 60 h", "--series", "station.csv"],
        &["--series: stands beside --outdoors; expected one cold spell"],
    );
}

#[test]
fn days_without_a_file_to_look_in() {
    refused(
        &folder(),
        &["--days", "3"],
        &["--days: stands without --series; expected a file in which to look for those days"],
    );
}

#[test]
fn every_option_that_is_wrong_is_told_at_once() {
    refused(
        &folder(),
        &["--days", "three", "--heat-out", "12"],
        &[
            "--days: \"three\" does not start with a number; expected a time such as 60 h",
            "--days: stands without --series; expected a file in which to look for those days",
            "--heat-out: \"12\" has no unit; expected a time such as 60 h",
        ],
    );
}

#[test]
fn typed_text_that_is_no_spell() {
    refused(
        &folder(),
        &["--outdoors", "12 °F, 5 °G for 2 h"],
        &[
            "--outdoors: \"12 °F\" gives no duration; expected a temperature and a duration such as 12 °F for 60 h",
            "--outdoors: \"5 °G\" has an unknown unit, \"°G\"; expected a temperature such as -5 °F or -20 °C",
        ],
    );
    refused(
        &folder(),
        &["--outdoors", "-300 °F for 2 h"],
        &[
            "--outdoors: \"-300 °F\" is not a plausible outdoor temperature; expected a temperature from -112 °F to 104 °F (-80 °C to \
           40 °C)",
        ],
    );
}

#[test]
fn heat_that_is_out_for_no_time_or_for_a_season() {
    for time in ["0 h", "-3 h", "31 days"] {
        refused(
            &folder(),
            &["--heat-out", time],
            &[
                "--heat-out: is no time for heat to be out that can be followed; expected more than nothing and at most \
               30 days",
            ],
        );
    }
}

#[test]
fn a_series_that_is_not_there() {
    refused(&folder(), &["--series", "nope.csv"], &["nope.csv: there is no such file"]);
}

#[test]
fn a_series_with_a_gap_that_is_too_long_to_bridge() {
    series_refused(
        "Hour,Temp (F)\n0,10\n1,11\n9,12\n",
        &[],
        &["station.csv, row 4: \"hour 9\" is 8 h after \"hour 1\" of row 3; expected rows at most 6 h apart"],
    );
}

#[test]
fn a_series_with_a_value_out_of_range() {
    series_refused(
        "Hour,Temp (F)\n0,10\n1,140\n2,12\n",
        &[],
        &[
            "station.csv, row 3, column \"Temp (F)\": \"140\" is out of range for outdoor air; expected a temperature from \
             -112 °F to 134 °F (-80 °C to 57 °C)",
        ],
    );
}

#[test]
fn a_series_out_of_order() {
    series_refused(
        "Hour,Temp (F)\n0,10\n2,11\n1,12\n",
        &[],
        &[
            "station.csv, row 4, column \"Hour\": \"1\" is earlier than \"2\" of row 3; expected times in ascending order",
        ],
    );
}

#[test]
fn a_series_in_fahrenheit_that_is_labelled_celsius() {
    series_refused(
        "Hour,Temp (C)\n0,48\n1,50\n2,52\n",
        &[],
        &[
            "station.csv, row 1, column \"Temp (C)\": \"Temp (C)\" is not the unit of its numbers: half of them would be \
           above 45 °C, too warm for air; expected °F, if that is their unit",
        ],
    );
}

#[test]
fn a_series_without_a_unit() {
    series_refused(
        "Hour,Outdoors\n0,10\n1,11\n",
        &[],
        &["station.csv, row 1, column \"Outdoors\": \"Outdoors\" gives no unit, and neither do its cells; \
           expected a heading such as \"Outdoors (°F)\", or °F or °C in every cell"],
    );
}

#[test]
fn a_series_shorter_than_the_days_that_are_looked_for() {
    for days in ["3", "3 days", "72 h"] {
        series_refused(
            "Hour,Temp (F)\n0,10\n1,11\n2,12\n",
            &["--days", days],
            &["station.csv: covers 2 h, and the spell needs 72 h; expected a longer series, or fewer days"],
        );
    }
    series_refused(
        "Hour,Temp (F)\n0,10\n1,11\n2,12\n",
        &["--days", "-1"],
        &["station.csv: the length of the spell is out of range; expected more than 0 days and at most 366"],
    );
}

#[test]
fn a_refused_spell_leaves_an_older_report_as_it_was() {
    let folder = folder().with("report.txt", "last week's\n");
    refused(
        &folder,
        &["--outdoors", "cold", "--output", "report.txt"],
        &[
            "--outdoors: \"cold\" gives no duration; expected a temperature and a duration such as 12 °F for 60 h",
        ],
    );
    assert_eq!(folder.text("report.txt"), "last week's\n");
    assert_eq!(folder.names(), ["report.txt", "s.csv"]);
}

#[test]
fn a_report_is_not_written_over_the_series() {
    let csv = "Hour,Temp (F)\n0,40\n1,41\n";
    let folder = folder().with("station.csv", csv);
    refused(
        &folder,
        &["--series", "station.csv", "--output", "./station.csv"],
        &[
            "./station.csv: is a file the review reads, and is not written over; expected another file for the report",
        ],
    );
    assert_eq!(folder.text("station.csv"), csv);
}

#[test]
fn a_report_into_a_folder_that_is_not_there() {
    let folder = folder();
    refused(
        &folder,
        &["--output", "reports/june.txt"],
        &["reports/june.txt: cannot be written: there is no such folder"],
    );
    assert_eq!(folder.names(), ["s.csv"]);
}
