//! Cold spells fit their schema; documents that were tampered with do not.

use crate::common::{assert_schema_fits, example, parsed};
use coldsill::facts::State;
use coldsill::report::{cold_spell_json, cold_spell_schema};
use coldsill::review::{Asked, SpellQuestion, cold_spell};
use coldsill::units::System;
use serde_json::{Value, json};
use std::sync::LazyLock;

static ALL: LazyLock<Value> = LazyLock::new(|| followed(Asked::Design, None, None));

fn followed(spell: Asked<'_>, mark: Option<&str>, heat_out: Option<f64>) -> Value {
    let world = example("kestrel-ridge/job.yaml", None);
    let question = SpellQuestion { spell, before: None, state: State::AsItStands, heat_out, mark };
    let spell = cold_spell(&world, &question).unwrap_or_else(|problems| panic!("{problems:?}"));
    parsed(&cold_spell_json(&spell, System::Us))
}

#[track_caller]
fn assert_fits(spell: &Value) {
    assert_schema_fits(&parsed(&cold_spell_schema()), spell);
}

/// A document with one thing changed, which must then not fit the schema.
#[track_caller]
fn assert_refused(tamper: impl FnOnce(&mut Value)) {
    let mut spell = ALL.clone();
    tamper(&mut spell);
    assert_ne!(spell, *ALL, "nothing was changed");
    assert!(!jsonschema::is_valid(&parsed(&cold_spell_schema()), &spell));
}

#[test]
fn the_schema_is_itself_a_valid_json_schema_of_2020_12() {
    assert!(jsonschema::draft202012::meta::is_valid(&parsed(&cold_spell_schema())));
}

#[test]
fn a_whole_job_fits_the_schema() {
    assert_fits(&ALL);
}

#[test]
fn one_mark_with_its_hours_fits_the_schema() {
    let spell = followed(Asked::Design, Some("HB-1"), Some(12.0 * 3600.0));
    assert!(spell["outlets"][0]["hourly"].as_array().is_some_and(|it| it.len() > 96));
    assert_fits(&spell);
}

#[test]
fn a_typed_spell_fits_the_schema() {
    assert_fits(&followed(Asked::Typed("12 °F for 60 h"), Some("HB-2"), None));
}

#[test]
fn a_spell_of_a_file_fits_the_schema() {
    let bytes = b"Hour,Outdoors (F)\n0,20\n1,18\n2,15\n4,14\n";
    let spell = followed(Asked::Series { file: "station.csv", bytes, days: None }, None, None);
    assert_eq!((&spell["spell"]["rows"], &spell["spell"]["gaps"]), (&json!(4), &json!(1)));
    assert_fits(&spell);
}

#[test]
fn what_never_happens_is_null_and_not_zero() {
    let clear = ALL["outlets"].as_array().into_iter().flatten().find(|it| it["mark"] == "HB-2");
    let event = &clear.expect("it is followed")["events"]["blocked"];
    assert_eq!((&event["value"], &event["low"], &event["high"]), (&Value::Null, &Value::Null, &Value::Null));
}

#[test]
fn an_outlet_that_cannot_be_followed_and_is_called_safe_is_refused() {
    assert_refused(|spell| {
        let outlets = spell["outlets"].as_array_mut().into_iter().flatten();
        for outlet in outlets.filter(|it| it["not_known"].is_string()) {
            outlet["at_risk"] = json!(false);
        }
    });
}

#[test]
fn an_outlet_without_its_events_is_refused() {
    assert_refused(|spell| drop(spell["outlets"][0].as_object_mut().and_then(|it| it.remove("events"))));
}

#[test]
fn a_missing_reminder_or_an_extra_key_is_refused() {
    assert_refused(|spell| drop(spell.as_object_mut().and_then(|it| it.remove("reminder"))));
    assert_refused(|spell| spell["verdict"] = json!("fine"));
    assert_refused(|spell| spell["spell"]["verdict"] = json!("fine"));
    assert_refused(|spell| spell["outlets"][0]["events"]["first_ice"]["verdict"] = json!("fine"));
}

#[test]
fn another_version_of_the_format_is_refused() {
    assert_refused(|spell| spell["format"] = json!(1));
}
