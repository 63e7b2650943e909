//! Presets, and which bases may ask for a revision: who has the last word.

use crate::cli::common::{Folder, comment, outlet, unwrapped};
use serde_json::{Value, json};

/// A barrel that freezes in the north; and one at the face without a stop.
const SCHEDULE: &str = "Mark,Kind,Closes,Seat depth,Barrel,Wall,Inside stop,Supply,Supply insulation\n\
    HB-1,Wall hydrant,Inside,4 in,Brass,rim joist batt,No,Copper,none\n\
    HB-2,Hose bibb,Face,,Brass,rim joist batt,No,Copper,none\n";
const SEAT: &str = "freezing/seat-reaches-freezing-at-design-low";
const INSULATION: &str = "freezing/seat-short-of-insulation";
const AT_FACE: &str = "freezing/closes-at-face-without-inside-stop";
const EXAMINER: [&str; 3] = ["adopted code", "listing", "instructions"];

fn folder(job: &str) -> Folder {
    Folder::of(SCHEDULE).with("job.yaml", format!("climate: duluth-mn\nschedule: s.csv\n{job}"))
}

fn review(job: &str, options: &str) -> Value {
    folder(job).run(&format!("review job.yaml --format json {options}")).json()
}

fn outcome<'r>(review: &'r Value, row: u64, rule: &str) -> &'r Value {
    &comment(outlet(review, row), rule)["outcome"]
}

#[test]
fn an_examiner_asks_for_revision_on_code_and_not_on_calculation() {
    for review in [review("", "--preset examiner"), review("preset: examiner\n", "")] {
        assert_eq!(review["revise_on"], json!(EXAMINER));
        assert_eq!(review["preset"], "examiner");
        assert_eq!(outcome(&review, 2, SEAT), "advise");
        assert_eq!(outcome(&review, 3, AT_FACE), "revise");
    }
}

#[test]
fn a_builder_is_asked_to_revise_a_seat_short_of_the_insulation() {
    let (plain, builder) = (review("", ""), review("", "--preset builder"));
    assert_eq!(
        (outcome(&plain, 2, INSULATION), outcome(&builder, 2, INSULATION)),
        (&json!("advise"), &json!("revise"))
    );
}

#[test]
fn a_comment_that_only_advises_for_its_basis_says_so() {
    let review = review("", "--preset examiner");
    assert_eq!(comment(outlet(&review, 2), SEAT)["lowered"], true);
    assert_eq!(comment(outlet(&review, 3), AT_FACE)["lowered"], false);
    let sheet = unwrapped(&folder("").run("review --detail job.yaml --preset examiner").out);
    assert!(
        sheet.contains("advisory only: this job requires revision on adopted code, listing and instructions"),
        "{sheet}"
    );
}

#[test]
fn the_head_says_what_may_ask_for_revision_and_who_says_so() {
    let sheet = unwrapped(&folder("").run("review --detail job.yaml --preset examiner").out);
    assert!(sheet.contains("Preset examiner"), "{sheet}");
    assert!(sheet.contains("Revise on adopted code, listing and instructions: preset examiner"), "{sheet}");
}

#[test]
fn nothing_is_said_of_what_may_ask_where_everything_may() {
    assert!(!folder("").run("review --detail job.yaml").out.contains("Revise on"));
}

#[test]
fn answers_that_would_settle_a_comment_lead_no_further_than_it_may_go() {
    let blank = "Mark,Kind,Closes,Seat depth,Wall,Supply,Supply insulation\nHB-1,Wall hydrant,Inside,8 in,2x6,Copper,none\n";
    let folder = Folder::of(blank);
    let settled = |options: &str| {
        let review = folder.run(&format!("review s.csv --climate duluth-mn --format json {options}")).json();
        comment(outlet(&review, 2), SEAT)["would_settle"].to_string()
    };
    assert!(settled("").contains("\"revise\""), "{}", settled(""));
    let lowered = settled("--preset examiner");
    assert!(lowered.contains("\"advise\"") && !lowered.contains("\"revise\""), "{lowered}");
}

#[test]
fn the_jobs_own_key_wins_over_its_preset_and_over_amendments() {
    let house = "amendment: House\nrevise_on: [company]\n";
    let run = |job: &str, options: &str| {
        folder(job).with("house.yaml", house).run(&format!("review job.yaml --format json {options}")).json()
            ["revise_on"]
            .clone()
    };
    let job = "revise_on: [calculation]\npreset: examiner\n";
    assert_eq!(run(job, "--rules house.yaml"), json!(["calculation"]));
    assert_eq!(run("preset: examiner\n", "--rules house.yaml"), json!(["company"]));
    assert_eq!(run("preset: examiner\n", ""), json!(EXAMINER));
    assert_eq!(run(job, "--rules house.yaml --preset examiner"), json!(EXAMINER));
}

#[test]
fn a_revision_asked_for_in_vain_is_told() {
    let house = "amendment: House\nchange:\n  freezing/seat-short-of-insulation: { outcome: revise }\n";
    let ran = folder("")
        .with("house.yaml", house)
        .run("review --detail job.yaml --rules house.yaml --preset examiner");
    assert!(
        unwrapped(&ran.out).contains(
            "Note House requires revision in Freezing 2, but its basis, company, cannot require it here: advisory only"
        ),
        "{}",
        ran.out
    );
}

#[test]
fn a_preset_that_there_is_not_names_those_there_are() {
    folder("").run("review --detail job.yaml --preset examner").is_refused(&[
        "--preset: \"examner\" is not a preset; expected builder or examiner; did you mean \"examiner\"?",
    ]);
    folder("preset: inspector\n").run("review --detail job.yaml").is_refused(&[
        "job.yaml, line 3, column 9: \"inspector\" is not a preset; expected builder or examiner",
    ]);
}
