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

/// The limits are those asked of the page: 100 lines for the example of seven rows, all of them with comments, and two for
/// each further type.
#[test]
fn the_summary_is_short_however_long_the_schedule() {
    let lines = |text: &str| text.lines().count();
    let example = page("review examples/kestrel-ridge/job.yaml");
    assert!(lines(&example) <= 100, "{}", lines(&example));
    let schedule = std::fs::read_to_string("examples/kestrel-ridge/schedule.csv").unwrap();
    let further = |count: usize| {
        let row = |at: usize| {
            let kind = ["Frostproof sillcock", "Hose bibb", "Wall hydrant"][at % 3];
            format!(
                "X-{at},1,Lot {at},{kind},{} in,Brass,2x6,Crawlspace,PEX,,Zinc plated,Brass,,,MIP,Sweat,,\n",
                4 + at % 11
            )
        };
        let rows: String = (0..count).map(row).collect();
        let job = std::fs::read_to_string("examples/kestrel-ridge/job.yaml").unwrap();
        let folder = super::common::Folder::new()
            .with("schedule.csv", format!("{schedule}{rows}"))
            .with("job.yaml", job);
        folder.run("review job.yaml").out
    };
    for count in [10, 33, 200] {
        let text = further(count);
        let types = count.min(33);
        assert!(lines(&text) <= 100 + 2 * types, "{count} further rows: {} lines\n{text}", lines(&text));
        fits(&text);
    }
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
