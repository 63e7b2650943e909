//! What a house, a region or the command line changes, and that the report says so.

use crate::cli::common::{Folder, comment, outlet, unwrapped};
use serde_json::Value;

const HOUSE: &str = include_str!("data/house.yaml");
/// One closes inside in red brass, one at the face with no stop.
const SCHEDULE: &str = "Mark,Kind,Closes,Nominal length,Barrel,Wall,Backflow device,Inside stop,Supply,Supply insulation\n\
    HB-1,Wall hydrant,Inside,8 in,Red brass,rim joist batt,Integral,No,Copper,none\n\
    HB-2,Hose bibb,Face,,Brass,rim joist batt,Integral,No,Copper,none\n";
const AT_FACE: &str = "freezing/closes-at-face-without-inside-stop";

fn folder() -> Folder {
    Folder::of(SCHEDULE).with("house.yaml", HOUSE)
}

fn amended() -> Value {
    folder().run("review s.csv --climate dallas-tx --rules house.yaml --format json").json()
}

fn plain() -> Value {
    folder().run("review s.csv --climate dallas-tx --format json").json()
}

#[test]
fn a_setting_that_is_changed_is_the_one_compared_with() {
    let margin = |review: &Value| {
        let seat = comment(outlet(review, 2), "freezing/seat-reaches-freezing-at-design-low");
        seat["values"]["freezing/margin"]["text"].clone()
    };
    assert_eq!((margin(&plain()), margin(&amended())), ("0 °F".into(), "8 °F".into()));
}

#[test]
fn an_outcome_that_is_changed_is_the_one_given() {
    let outcome = |review: &Value| comment(outlet(review, 3), AT_FACE)["outcome"].clone();
    assert_eq!((outcome(&plain()), outcome(&amended())), ("revise".into(), "advise".into()));
}

#[test]
fn a_wording_that_is_changed_is_the_one_said() {
    assert_eq!(comment(outlet(&amended(), 3), AT_FACE)["remedy"], "Ask for our standard detail.");
}

#[test]
fn a_rule_that_is_dropped_says_nothing_and_is_listed_with_the_reason() {
    let review = amended();
    let outlets = review["outlets"].as_array().unwrap();
    let mut comments = outlets.iter().flat_map(|it| it["comments"].as_array().unwrap());
    assert!(comments.all(|it| it["rule"] != "detail/installation-note-missing"));
    assert_eq!(review["dropped"][0]["rule"], "detail/installation-note-missing");
    assert_eq!(review["dropped"][0]["reason"], "our drawings carry the note");
}

#[test]
fn a_rule_that_is_added_is_looked_at() {
    let review = amended();
    let added = comment(outlet(&review, 2), "house/no-red-brass");
    assert_eq!((&added["outcome"], &added["text"]), (&"revise".into(), &"The barrel is red brass.".into()));
    assert_eq!(added["amended_by"], "house");
}

#[test]
fn the_comment_sheet_says_what_an_amendment_did() {
    let sheet = unwrapped(&folder().run("review --detail s.csv --climate dallas-tx --rules house.yaml").out);
    for said in [
        "Amended house",
        "Dropped Detail 1 by house: our drawings carry the note",
        "40 °F is needed",
        "adopted code; as amended by house",
    ] {
        assert!(sheet.contains(said), "{said:?} is not in:\n{sheet}");
    }
}

#[test]
fn a_job_can_name_its_amendments_itself() {
    let folder = folder().with("job.yaml", "climate: dallas-tx\nschedule: s.csv\nrules: [house.yaml]\n");
    let review = folder.run("review job.yaml --format json").json();
    assert_eq!(review["amendments"], serde_json::json!(["house"]));
}

/// A job that lets only the adopted code ask for a revision.
fn only_on_code() -> Folder {
    folder().with("job.yaml", "climate: dallas-tx\nschedule: s.csv\nrevise_on: [adopted code]\n")
}

#[test]
fn a_calculation_that_may_not_ask_for_a_revision_advises() {
    let seat = "freezing/seat-reaches-freezing-at-design-low";
    // A barrel that freezes wherever the design low is far below zero.
    let cold = only_on_code().run("review job.yaml --climate duluth-mn --format json").json();
    assert_eq!(comment(outlet(&cold, 2), seat)["outcome"], "advise");
    let all = folder().run("review s.csv --climate duluth-mn --format json").json();
    assert_eq!(comment(outlet(&all, 2), seat)["outcome"], "revise");
}

#[test]
fn the_adopted_code_still_asks_for_a_revision() {
    let review = only_on_code().run("review job.yaml --format json").json();
    assert_eq!(comment(outlet(&review, 3), AT_FACE)["outcome"], "revise");
}

#[test]
fn the_climate_of_the_command_line_is_the_one_reviewed_against() {
    let review = only_on_code().run("review job.yaml --climate honolulu-hi --format json").json();
    assert_eq!(review["climate"]["id"], "honolulu-hi");
}

#[test]
fn the_comment_sheet_says_which_climate_was_set_aside() {
    let sheet = unwrapped(&only_on_code().run("review --detail job.yaml --climate honolulu-hi").out);
    assert!(sheet.contains("Named on the command line in place of the job's, dallas-tx"), "{sheet}");
}

#[test]
fn si_units_change_the_texts_and_not_the_values() {
    let run = |units| {
        folder().run(&format!("review s.csv --climate dallas-tx --format json --units {units}")).json()
    };
    let (us, si) = (run("us"), run("si"));
    let seat = |review: &Value| outlet(review, 2)["facts"]["outlet.seat_depth"].clone();
    assert_eq!(
        (&seat(&us)["text"], &seat(&si)["text"]),
        (&"7 1/4 in (7 to 7 1/2)".into(), &"184.1 mm (177.8 to 190.5)".into())
    );
    assert_eq!(seat(&us)["value"], seat(&si)["value"]);
}

#[test]
fn a_comment_sheet_in_si_units_gives_the_climate_in_celsius() {
    let sheet = folder().run("review --detail s.csv --climate dallas-tx --units si").out;
    let sheet = unwrapped(&sheet);
    assert!(sheet.contains("design low -16 °C (20-year low); 99.6 % -7 °C"), "{sheet}");
}

#[test]
fn a_rule_that_is_added_is_told_from_one_that_is_changed() {
    let rule = |which: &str| unwrapped(&folder().run(&format!("rules {which} --rules house.yaml")).out);
    let (added, changed) = (rule("House 1"), rule("Freezing 3"));
    assert!(added.contains("(house, house.yaml line 12)") && !added.contains("Changed"), "{added}");
    assert!(changed.contains("Changed Freezing 3 outcome advise, was revise: house"), "{changed}");
}
