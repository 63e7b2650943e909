//! Whole texts as people see them.

use crate::cli::common::run;
use insta::assert_snapshot;

/// Columns of a page that prints on paper.
const WIDTH: usize = 80;

#[track_caller]
fn fits(text: &str) {
    for line in text.lines() {
        assert!(line.chars().count() <= WIDTH, "{} columns: {line}", line.chars().count());
        assert!(!line.contains(['\x1b', '\t']), "{line:?}");
    }
}

fn page(arguments: &str) -> String {
    let ran = run(arguments);
    assert_eq!(ran.err, "");
    ran.out
}

#[test]
fn the_comment_sheet_of_a_job() {
    let text = page("review examples/kestrel-ridge/job.yaml");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_comment_sheet_of_a_job_in_detail() {
    let text = page("review examples/kestrel-ridge/job.yaml --detail");
    fits(&text);
    assert_snapshot!(text);
}

/// The limits are those asked of the page: 100 lines and some for the example of seven rows, all of them troubled, and two
/// for each further type.
#[test]
fn the_summary_is_short_however_long_the_schedule() {
    let lines = |text: &str| text.lines().count();
    let example = page("review examples/kestrel-ridge/job.yaml");
    assert!(lines(&example) <= 120, "{}", lines(&example));
    let table = |text: &str| text.lines().take_while(|line| !line.starts_with("Lengths are nominal")).count();
    let rows: String = (2..200).map(|row| format!("HB-{row},sillcock,brass,{} in\n", 4 + row % 11)).collect();
    let folder = super::common::Folder::of(&format!("Mark,Kind,Barrel,Length\n{rows}"));
    let long = folder.run("review s.csv --climate dallas-tx").out;
    assert!(lines(&long) < 150 && table(&long) < 60, "{long}");
}

#[test]
fn the_comment_sheet_of_a_bare_schedule() {
    let text = page("review --detail examples/live-oak/schedule.csv --climate dallas-tx");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_comment_sheet_in_si_units() {
    let text = page("review --detail examples/live-oak/schedule.csv --climate dallas-tx --units si");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_calculation_sheet_of_a_mark() {
    let text = page("sheet examples/live-oak/schedule.csv --climate dallas-tx --mark WH-1");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_rules() {
    let text = page("rules");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_rules_as_amended() {
    let text = page("rules --rules tests/cli/data/house.yaml");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_facts() {
    let text = page("facts");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_walls() {
    let text = page("walls");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_climates() {
    let text = page("climates");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_materials() {
    let text = page("materials");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_metals() {
    let text = page("metals");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_devices() {
    let text = page("devices");
    fits(&text);
    assert_snapshot!(text);
}

#[test]
fn the_schemas_of_what_people_write_are_printed() {
    for (of, title) in [("rules", "Coldsill rule file"), ("job", "Coldsill job")] {
        assert_eq!(run(&format!("schema {of}")).json()["title"], title);
    }
}

#[test]
fn the_schema_is_the_one_that_is_shipped() {
    assert_eq!(page("schema review"), coldsill::report::review_schema());
}
