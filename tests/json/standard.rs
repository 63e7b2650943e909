//! The JSON of a standard fits its schema; documents that were tampered with do not.

use crate::common::{assert_schema_fits, parsed};
use coldsill::facts::{Presets, Sources};
use coldsill::input::Memory;
use coldsill::report::{standard_json, standard_schema};
use coldsill::units::System;
use coldsill::{shipped, standard};
use serde_json::{Value, json};
use std::sync::LazyLock;

/// With homes and without, with a cell without any product.
const FILE: &str = "standard: North\ndate: 2026-01-31\nplaces: [{ place: fairbanks-ak, homes: 2 }, dallas-tx]\n\
     walls: [2x6-siding, { wall: 2x6-siding, space: garage }]\nsupplies: [PEX]\nbarrels: [copper]\n\
     margin: 8 °F\ninside_stop: no\n";

static STANDARD: LazyLock<Value> = LazyLock::new(|| of(System::Us));

fn of(system: System) -> Value {
    let (files, climates) = (Memory::new(), shipped::climates().expect("they are right"));
    let request = standard::read("north.yaml", FILE.as_bytes(), climates).expect("it is right");
    let files = standard::Files::of(&request, &files);
    let rules: Vec<String> = files.rules().map(Into::into).into_iter().collect();
    let sources = Sources {
        files: &files,
        source: files.job(),
        sheet: None,
        climate: None,
        design_low: None,
        answers: &[],
        rules: &rules,
        base_rules: &shipped::rules(),
        presets: Presets::default(),
        climates,
    };
    let found = standard::standard(&request, &sources, &|_, _| ()).expect("it can be computed");
    let mut bytes = Vec::new();
    standard_json(&found, system, &mut bytes).expect("memory can be written to");
    parsed(&String::from_utf8(bytes).expect("it is UTF-8"))
}

#[track_caller]
fn assert_fits(found: &Value) {
    assert_schema_fits(&parsed(&standard_schema()), found);
}

#[test]
fn a_standard_fits_its_schema_in_both_units() {
    assert!(jsonschema::draft202012::meta::is_valid(&parsed(&standard_schema())));
    assert_fits(&STANDARD);
    assert_fits(&of(System::Si));
}

#[test]
fn what_is_unknown_is_null_and_never_0() {
    assert_eq!((&STANDARD["places"][0]["homes"], &STANDARD["places"][1]["homes"]), (&json!(2), &json!(null)));
    let cells = STANDARD["cells"].as_array().expect("a list");
    assert_eq!(cells.len(), 4);
    let none = cells.iter().filter(|cell| cell["needed"].is_null());
    assert!(none.clone().count() > 0);
    assert!(none.clone().all(|cell| cell["order"].is_null() && cell["slack"].is_null()));
    assert!(
        STANDARD["stock"]["best"].as_array().expect("a list").iter().all(|stock| stock["cost"].is_null())
    );
}

#[test]
fn a_tampered_standard_is_refused() {
    let refused = |tamper: &dyn Fn(&mut Value)| {
        let mut found = STANDARD.clone();
        tamper(&mut found);
        assert!(!jsonschema::is_valid(&parsed(&standard_schema()), &found));
    };
    refused(&|found| found["format"] = json!(2));
    refused(&|found| found["verdict"] = json!("fine"));
    refused(&|found| found["cells"][0]["place"] = json!("here"));
    refused(&|found| drop(found["cells"][0].as_object_mut().and_then(|cell| cell.remove("slack"))));
}
