//! Reviews made through the library, as JSON.

use crate::rows::by_row;
use coldsill::diag::{Diagnostic, Diagnostics};
use coldsill::facts::{self, World};
use coldsill::input::{Files, Memory};
use coldsill::units::System;
use coldsill::{report, review, shipped};
use serde_json::Value;
use std::sync::LazyLock;

/// A job with everything in it: basements, a garage, a bad cell, a repeated mark.
pub(crate) static KESTREL_RIDGE: LazyLock<Value> = LazyLock::new(|| parsed(&KESTREL_RIDGE_TEXT));
pub(crate) static KESTREL_RIDGE_TEXT: LazyLock<String> =
    LazyLock::new(|| json(&example("kestrel-ridge/job.yaml", None), System::Us));
/// The same with an entry for each row.
pub(crate) static KESTREL_RIDGE_ROWS: LazyLock<Value> = LazyLock::new(|| by_row(KESTREL_RIDGE.clone()));
/// The same of the bare schedule.
pub(crate) static LIVE_OAK_ROWS: LazyLock<Value> = LazyLock::new(|| by_row(LIVE_OAK.clone()));
/// A bare schedule with a climate named beside it.
pub(crate) static LIVE_OAK: LazyLock<Value> =
    LazyLock::new(|| parsed(&json(&example("live-oak/schedule.csv", Some("dallas-tx")), System::Us)));

/// The repository's own files.
struct Checkout;

impl Files for Checkout {
    fn read(&self, path: &str) -> Result<Vec<u8>, Diagnostic> {
        let whole = || coldsill::diag::Location::whole(path);
        std::fs::read(format!("{}/../../{path}", env!("CARGO_MANIFEST_DIR")))
            .map_err(|error| Diagnostic::new(whole(), error.to_string()))
    }
}

pub(crate) fn example(path: &str, climate: Option<&str>) -> World {
    open(&Checkout, &format!("examples/{path}"), climate, &[])
}

/// A review of a schedule and rule files that are given as text.
pub(crate) fn of(schedule: &str, climate: &str, amendments: &[&str]) -> Value {
    let mut files = Memory::new().with("schedule.csv", schedule);
    let names: Vec<String> = (0..amendments.len()).map(|index| format!("{index}.yaml")).collect();
    for (name, text) in names.iter().zip(amendments) {
        files = files.with(name, *text);
    }
    parsed(&json(&open(&files, "schedule.csv", Some(climate), &names), System::Us))
}

/// A review of a job that is given as text, with its schedule.
pub(crate) fn of_job(job: &str, schedule: &str, climate: Option<&str>) -> Value {
    let files = Memory::new().with("job.yaml", job).with("schedule.csv", schedule);
    parsed(&json(&open(&files, "job.yaml", climate, &[]), System::Us))
}

/// A schedule as text, under a name.
pub(crate) fn open_text(name: &str, schedule: &str, climate: &str) -> World {
    open(&Memory::new().with(name, schedule), name, Some(climate), &[])
}

pub(crate) fn json(world: &World, system: System) -> String {
    let mut bytes = Vec::new();
    report::json(&review::run(world), system, &mut bytes).expect("memory can be written to");
    String::from_utf8(bytes).expect("it is UTF-8")
}

/// Fails with everything a schema has against a document.
#[track_caller]
pub(crate) fn assert_schema_fits(schema: &Value, document: &Value) {
    let validator = jsonschema::validator_for(schema).expect("the schema compiles");
    let errors: Vec<String> =
        validator.iter_errors(document).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{}", errors.join("\n"));
}

pub(crate) fn parsed(text: &str) -> Value {
    serde_json::from_str(text).expect("the report is JSON")
}

/// What is understood of files, without a climate.
pub(crate) fn open_to_read(files: &[(&str, &[u8])], source: &str) -> World {
    let files = files.iter().fold(Memory::new(), |files, (name, bytes)| files.with(name, *bytes));
    opened(&files, source, None, &[], facts::open_to_read)
}

fn open(files: &dyn Files, source: &str, climate: Option<&str>, rules: &[String]) -> World {
    opened(files, source, climate, rules, facts::open)
}

fn opened(
    files: &dyn Files,
    source: &str,
    climate: Option<&str>,
    rules: &[String],
    open: fn(&facts::Sources<'_>) -> Result<World, Diagnostics>,
) -> World {
    let climates = shipped::climates().expect("the climates built in can be read");
    let options = facts::Sources {
        files,
        source,
        sheet: None,
        climate,
        design_low: None,
        answers: &[],
        rules,
        base_rules: &shipped::rules(),
        presets: Default::default(),
        climates,
    };
    open(&options).unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// Every comment of a review, with the outlet it is made of.
pub(crate) fn comments(review: &Value) -> Vec<(&Value, &Value)> {
    let outlets = list(&review["outlets"]);
    outlets.iter().flat_map(|it| list(&it["comments"]).iter().map(move |comment| (it, comment))).collect()
}

/// Every fact and setting shown anywhere in a review: where, its name, and how it is shown.
pub(crate) fn shown(review: &Value) -> Vec<(String, &str, &Value)> {
    let mut all = Vec::new();
    for outlet in list(&review["outlets"]) {
        let mark = text(&outlet["mark"]);
        all.extend(entries(&outlet["facts"]).map(|(name, it)| (format!("{mark} facts"), name, it)));
        for comment in list(&outlet["comments"]) {
            let place = format!("{mark} {}", text(&comment["rule"]));
            all.extend(entries(&comment["values"]).map(|(name, it)| (place.clone(), name, it)));
        }
    }
    all
}

pub(crate) fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

pub(crate) fn entries(value: &Value) -> impl Iterator<Item = (&str, &Value)> {
    value.as_object().into_iter().flatten().map(|(name, value)| (name.as_str(), value))
}

pub(crate) fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

pub(crate) fn count(value: &Value) -> u64 {
    value.as_u64().unwrap_or_else(|| panic!("{value} is not a count"))
}
