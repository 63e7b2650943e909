//! Reviews that cannot be made: exit 2, one located problem a line on standard error, nothing on standard output.

use crate::cli::common::{Folder, NOTHING_TO_ASK};
use std::fs;
use std::fs::File;
use std::io::Write;

#[test]
fn a_schedule_that_is_not_there() {
    Folder::new().run("review nope.csv --climate dallas-tx").is_refused(&["nope.csv: there is no such file"]);
}

#[test]
fn a_folder() {
    let folder = Folder::new();
    fs::create_dir(folder.path().join("plans")).unwrap();
    folder.run("review plans --climate dallas-tx").is_refused(&["plans: is a folder; expected a file"]);
}

#[test]
fn an_empty_file() {
    Folder::of("").run("review s.csv --climate dallas-tx").is_refused(&["s.csv: the file is empty"]);
}

#[test]
fn a_binary_file() {
    Folder::new().with("s.csv", b"Mark,\x7fELF\x02\x01\x01\0\0\0").run("review s.csv --climate dallas-tx").is_refused(&[
        "s.csv, line 1, column 13: there is a NUL byte here; the file is binary, not text; expected UTF-8 text (in a \
         spreadsheet, save it as \"CSV UTF-8\")",
    ]);
}

#[test]
fn a_schedule_none_of_whose_headings_is_understood() {
    Folder::of("a,b\n1,2\n").run("review s.csv --climate dallas-tx").is_refused(&[
        "s.csv: no row with known headings was found; expected headings such as Mark, Quantity, Location, Kind, Closes, \
         Nominal length, Seat depth, Barrel",
    ]);
}

#[test]
fn a_schedule_with_headings_and_nothing_below_them() {
    Folder::of("Mark,Kind,Wall\n\n")
        .run("review s.csv --climate dallas-tx")
        .is_refused(&["s.csv: has headings but no faucets"]);
}

#[test]
fn a_climate_that_is_not_built_in_names_the_nearest() {
    Folder::of(NOTHING_TO_ASK)
        .run("review s.csv --climate dalas")
        .is_refused(&["--climate: \"dalas\" is not a known town or climate; did you mean \"dallas-tx\"?"]);
}

#[test]
fn a_climate_that_is_like_none_tells_where_they_are_listed() {
    Folder::of(NOTHING_TO_ASK).run("review s.csv --climate q").is_refused(&[
        "--climate: \"q\" is not a known town or climate; expected a town with its state such as \"St. Cloud, MN\", a ZIP or postal code, or a latitude and longitude",
    ]);
}

#[test]
fn no_climate_at_all() {
    Folder::of(NOTHING_TO_ASK).run("review s.csv").is_refused(&[
        "s.csv: no climate is given; expected --climate PLACE, or `climate:` in the job; `coldsill climates` lists them",
    ]);
}

#[test]
fn a_mark_that_is_not_on_the_schedule_names_the_nearest() {
    Folder::of(NOTHING_TO_ASK)
        .run("sheet s.csv --climate honolulu-hi --mark HB-11")
        .is_refused(&["s.csv: \"HB-11\" is not a mark of the schedule; did you mean \"HB-1\"?"]);
}

/// A job beside a schedule that is in order.
fn job(text: &str) -> Folder {
    Folder::of(NOTHING_TO_ASK).with("job.yaml", text)
}

#[test]
fn a_key_that_stands_twice_in_a_job() {
    job("schedule: s.csv\nclimate: dallas-tx\nschedule: s.csv\n").run("review job.yaml").is_refused(&[
        "job.yaml, line 3, column 1: \"schedule\" is given twice; the first is on line 1; expected each key once",
    ]);
}

#[test]
fn a_job_that_unfolds_without_end() {
    let names = ["a", "b", "c", "d", "e", "f", "g", "h", "i"];
    let mut text = "a: &a [x, x, x, x, x, x, x, x, x]\n".to_owned();
    for pair in names.windows(2) {
        text.push_str(&format!(
            "{}: &{} [{}]\n",
            pair[1],
            pair[1],
            vec![format!("*{}", pair[0]); 9].join(", ")
        ));
    }
    job(&text).run("review job.yaml").is_refused(&[
        "job.yaml, line 6, column 8: is over the limit of 200,000 values in a YAML file, its aliases filled in",
    ]);
}

#[test]
fn a_job_nested_a_hundred_thousand_deep() {
    job(&"[".repeat(100_000)).run("review job.yaml").is_refused(&[
        "job.yaml, line 1, column 65: is over the limit of 64 levels of nesting in a YAML file",
    ]);
}

#[test]
fn a_line_of_200_megabytes_is_refused_unread() {
    let folder = Folder::new();
    let mut file = File::create(folder.path().join("s.csv")).unwrap();
    file.write_all(b"Mark,Kind\n").unwrap();
    // The rest takes no room on the disk.
    file.set_len(200_000_000).unwrap();
    folder
        .run("review s.csv --climate dallas-tx")
        .is_refused(&["s.csv: is over the limit of 64,000,000 bytes in a file"]);
}

#[test]
fn a_line_of_2_megabytes_in_a_file_of_lawful_size() {
    Folder::of(&format!("Mark,Kind\nHB-1,{}\n", "x".repeat(2_000_000)))
        .run("review s.csv --climate dallas-tx")
        .is_refused(&["s.csv, line 2, column 1: is over the limit of 1,000,000 bytes in a line"]);
}

#[test]
fn a_key_that_a_job_does_not_have_names_the_nearest() {
    job("schedule: s.csv\nclimate: dallas-tx\nautority: { frost_depth: 10 in }\n")
        .run("review job.yaml")
        .is_refused(&[
            "job.yaml, line 3, column 1: \"autority\" is not a key of the job; did you mean \"authority\"?",
        ]);
}

#[test]
fn a_job_without_a_schedule() {
    job("climate: dallas-tx\n")
        .run("review job.yaml")
        .is_refused(&["job.yaml, line 1, column 1: the job has no \"schedule\""]);
}

#[test]
fn a_job_whose_schedule_is_not_there() {
    job("climate: dallas-tx\nschedule: t.csv\n")
        .run("review job.yaml")
        .is_refused(&["t.csv: there is no such file"]);
}

#[test]
fn a_job_whose_rule_file_is_not_there() {
    job("climate: dallas-tx\nschedule: s.csv\nrules: [house.yaml]\n")
        .run("review job.yaml")
        .is_refused(&["house.yaml: there is no such file"]);
}

#[test]
fn a_job_that_names_a_wall_there_is_not() {
    job("climate: dallas-tx\nschedule: s.csv\ndefaults: { Wall: rim jiost }\n")
        .run("review job.yaml")
        .is_refused(&[
            "job.yaml, line 3, column 19: \"rim jiost\" is not a known wall; did you mean \"rim joist\"?",
        ]);
}

#[test]
fn a_figure_of_the_wrong_kind_in_a_job() {
    job("climate: dallas-tx\nschedule: s.csv\nauthority: { winter_temperature: 42 in }\n")
        .run("review job.yaml")
        .is_refused(&[
            "job.yaml, line 3, column 34: \"42 in\" is a length, not a temperature; expected a temperature such as \
             -5 °F or -20 °C",
        ]);
}

#[test]
fn all_problems_of_a_job_come_at_once_one_a_line() {
    job("climate: dalas\nschedule: s.csv\nautority: { frost_depth: 10 in }\nrevise_on: [adopted cod]\n")
        .run("review job.yaml")
        .is_refused(&[
            "job.yaml, line 1, column 10: \"dalas\" is not a known town or climate; did you mean \"dallas-tx\"?",
            "job.yaml, line 3, column 1: \"autority\" is not a key of the job; did you mean \"authority\"?",
            "job.yaml, line 4, column 13: \"adopted cod\" is not a basis; expected adopted code, listing, \
             instructions, company or calculation; did you mean \"adopted code\"?",
        ]);
}

#[test]
fn a_code_a_place_or_a_supply_in_doubt() {
    let job = |lines: &str| {
        let job = format!("{lines}\nschedule: s.csv\n");
        Folder::of(NOTHING_TO_ASK).with("job.yaml", job).run("review job.yaml")
    };
    let climate = "climate: honolulu-hi";
    let edition = "is doubtful, not final; expected one code and one edition, such as 2021, or no edition";
    for (text, at, nearest) in [
        ("{ name: IRC, edition: \"2021?\" }", "column 29: \"2021?\"", "; did you mean \"2021\"?"),
        ("{ name: IRC, edition: 2021 or 2024 }", "column 29: \"2021 or 2024\"", ""),
        ("IRC TBD", "column 7: \"IRC TBD\"", ""),
    ] {
        let problem = format!("job.yaml, line 2, {at} {edition}{nearest}");
        job(&format!("{climate}\ncode: {text}")).is_refused(&[&problem]);
    }
    job("climate: honolulu-hi?").is_refused(&[
        "job.yaml, line 1, column 10: \"honolulu-hi?\" is doubtful, not final; expected one place, for certain; did you mean \
         \"honolulu-hi\"?",
    ]);
    job(&format!("{climate}\nsupply: {{ material: TBD }}")).is_refused(&[
        "job.yaml, line 2, column 21: \"TBD\" says that it is not known; expected the value, or nothing here: then it is asked",
    ]);
    let code = format!("--code: \"IRC 2021?\" {edition}; did you mean \"2021\"?");
    Folder::of(NOTHING_TO_ASK)
        .run_with(&["review", "s.csv", "--climate", "honolulu-hi", "--code", "IRC 2021?"])
        .is_refused(&[&code]);
}
