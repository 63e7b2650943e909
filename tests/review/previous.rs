//! A review read back from its own JSON.

use crate::review::shared::review;
use coldsill::report;
use coldsill::review::{Previous, REVIEW_FORMAT, read_previous};
use coldsill::units::System;

const SCHEDULE: &str = "Mark,Qty,Location,Kind,Closes,Nominal length,Barrel,Wall,Supply,Supply insulation\n\
     A,1,North wall,sillcock,inside,8 in,brass,rim-joist-batt,PEX,none\n\
     B,2,,sillcock,inside,12 in,brass,rim-joist-batt,PEX,1/2 in\n";

fn written(system: System) -> Vec<u8> {
    let mut bytes = Vec::new();
    report::json(&review(SCHEDULE, "minneapolis-mn"), system, &mut bytes).expect("memory can be written to");
    bytes
}

fn read(bytes: &[u8]) -> Previous {
    read_previous("old.json", bytes).unwrap_or_else(|problem| panic!("{problem}"))
}

#[test]
fn a_review_is_read_back_as_it_was_written() {
    let (review, previous) = (review(SCHEDULE, "minneapolis-mn"), read(&written(System::Us)));
    assert_eq!(
        (&*previous.schedule, previous.climate.id.as_deref()),
        ("schedule.csv", Some("minneapolis-mn"))
    );
    for outlet in &review.outlets {
        let of_row = previous
            .findings
            .iter()
            .find_map(|it| Some((it, it.rows.iter().find(|row| row.mark == outlet.mark)?)));
        let (findings, row) = of_row.expect("every row is in the JSON");
        assert_eq!(
            (row.quantity, &row.location, row.at.row),
            (outlet.quantity, &outlet.where_it_is, outlet.location.row())
        );
        let said: Vec<_> = findings.comments.iter().map(|it| (&*it.rule, &*it.outcome)).collect();
        let comments = outlet.findings.comments.iter().map(|it| (&*it.rule.id, it.outcome.word()));
        assert_eq!(said, comments.filter(|(_, outcome)| *outcome != "does not apply").collect::<Vec<_>>());
        let barrel = findings.fact(row, "outlet.barrel").expect("it is stated");
        assert_eq!((&barrel.value, barrel.from.as_deref()), (&"brass".into(), Some("stated")));
    }
}

#[test]
fn a_value_is_the_same_in_other_units() {
    let [us, metric] = [System::Us, System::Si].map(|system| read(&written(system)));
    let low = |previous: &Previous| previous.climate.design_low.clone().expect("Minneapolis has one");
    assert!(low(&us).is_same_value(&low(&metric)));
    assert_ne!(low(&us).text, low(&metric).text);
}

#[test]
fn another_file_is_an_error_with_its_location() {
    let text = String::from_utf8(written(System::Us)).expect("it is UTF-8");
    let problem =
        |text: &str| read_previous("old.json", text.as_bytes()).expect_err("it is wrong").to_string();
    let newer = problem(&text.replace(&format!("\"format\": {REVIEW_FORMAT},"), "\"format\": 999,"));
    assert!(newer.starts_with("old.json, line 3, column "), "{newer}");
    assert!(newer.contains("is of format 999; this version of the program reads format"), "{newer}");
    for (wrong, said) in [
        ("Mark,Qty\nA,1\n", "old.json, line 1, column 1: is not JSON: expected value"),
        ("{\"format\": 1e9}", "is not the expected JSON"),
        ("{\n}", "old.json, line 2, column 1: is not the expected JSON: missing field `coldsill`"),
        (&text[..text.len() / 2], "is not JSON: EOF while parsing"),
        ("", "old.json, line 1, column 1: is not JSON"),
    ] {
        let found = problem(wrong);
        assert!(found.contains(said), "{found}");
        assert!(found.ends_with("expected a review that `coldsill review --format json` wrote"), "{found}");
    }
}
