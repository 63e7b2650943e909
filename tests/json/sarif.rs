//! SARIF fits the schema that OASIS publishes for it (`data/NOTICE.md`).

use crate::common::{assert_schema_fits, example, open_text, parsed};
use coldsill::facts::World;
use coldsill::units::System;
use coldsill::{report, review};
use serde_json::{Value, json};

const SCHEMA: &str = include_str!("data/sarif-schema-2.1.0.json");

/// The schema. Its pattern of a language has a bracket that not every dialect of patterns takes unescaped.
fn schema() -> Value {
    parsed(&SCHEMA.replace("{2}]?$", r"{2}\\]?$"))
}

fn sarif(world: &World) -> Value {
    let mut bytes = Vec::new();
    report::sarif(&review::run(world), System::Us, &mut bytes).expect("memory can be written to");
    parsed(&String::from_utf8(bytes).expect("it is UTF-8"))
}

#[track_caller]
fn assert_fits(log: &Value) {
    assert_schema_fits(&schema(), log);
}

#[test]
fn the_examples_fit_the_published_schema() {
    for (path, climate) in [("kestrel-ridge/job.yaml", None), ("live-oak/schedule.csv", Some("dallas-tx"))] {
        let log = sarif(&example(path, climate));
        assert!(log["runs"][0]["results"].as_array().is_some_and(|results| results.len() > 5), "{path}");
        assert_fits(&log);
    }
}

/// A cell that cannot be read, a name with characters that a URI does not have, and script in a mark.
#[test]
fn a_schedule_with_errors_fits_too() {
    let schedule = "Mark,Qty,Kind,Nominal length,Barrel,Wall\n\
                    <script>,x,sillcock,8 furlongs,brass,2x6\nA B%,2,sillcock,8 in,unobtainium,2x6\n";
    let log = sarif(&open_text("lot 14 #2 ü.csv", schedule, "minneapolis-mn"));
    let notes = &log["runs"][0]["invocations"][0]["toolExecutionNotifications"];
    assert!(notes.as_array().is_some_and(|notes| !notes.is_empty()), "{notes}");
    assert_fits(&log);
}

#[test]
fn words_that_are_not_used_are_notes_on_the_run() {
    let schedule = "Mark,Kind,Barrel,Notes\nA,frostproof sillcock,copper,as the tenant likes\n";
    let log = sarif(&open_text("s.csv", schedule, "dallas-tx"));
    let notes = &log["runs"][0]["invocations"][0]["toolExecutionNotifications"];
    let told = "s.csv, row 2, column \"Notes\": \"as the tenant likes\" is a remark; nothing is read from it";
    assert!(
        notes
            .as_array()
            .is_some_and(|it| it.iter().any(|it| it["level"] == "note" && it["message"]["text"] == told)),
        "{notes}"
    );
    assert_fits(&log);
}

#[test]
fn the_schema_refuses_what_is_not_sarif() {
    let mut log = sarif(&example("live-oak/schedule.csv", Some("dallas-tx")));
    log["runs"][0]["results"][0]["level"] = json!("revise");
    let validator = jsonschema::validator_for(&schema()).expect("the schema compiles");
    assert!(!validator.is_valid(&log));
}
