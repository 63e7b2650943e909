//! JSON Schemas of the forms, from the types that are written.

use super::climates::ClimatesJson;
use super::cold_spell::ColdSpellJson;
use super::read::ReadJson;
use super::review::ReviewJson;
use super::standard::StandardJson;
use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::{Value, json};

/// JSON Schema of a review's JSON.
pub fn review_schema() -> String {
    schema::<ReviewJson<'static>>()
}

/// JSON Schema of the JSON of what was read.
pub fn read_schema() -> String {
    schema::<ReadJson<'static>>()
}

/// JSON Schema of a cold spell's JSON.
pub fn cold_spell_schema() -> String {
    schema::<ColdSpellJson<'static>>()
}

/// JSON Schema of a standard's JSON.
pub fn standard_schema() -> String {
    schema::<StandardJson<'static>>()
}

/// JSON Schema of the climates' JSON.
pub fn climates_schema() -> String {
    schema::<ClimatesJson<'static>>()
}

fn schema<T: JsonSchema>() -> String {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let settings = settings.with_transform(|schema: &mut schemars::Schema| {
        if let Some(object) = schema.as_object_mut() {
            let mut whole = Value::Object(std::mem::take(object));
            close(&mut whole, false);
            if let Value::Object(closed) = whole {
                *object = closed;
            }
        }
    });
    let schema = settings.into_generator().into_root_schema_for::<T>();
    format!("{:#}\n", schema.as_value())
}

/// Forbids keys that are not listed. The alternatives of an object list keys of the same object and stay open.
fn close(schema: &mut Value, is_part: bool) {
    let Some(object) = schema.as_object_mut() else { return };
    let has_keys = object.contains_key("properties");
    let has_parts = ["anyOf", "oneOf", "allOf"].iter().any(|key| object.contains_key(*key));
    if has_keys && !is_part {
        let keyword = if has_parts { "unevaluatedProperties" } else { "additionalProperties" };
        object.entry(keyword).or_insert(json!(false));
    }
    for (key, value) in object.iter_mut() {
        match (key.as_str(), value) {
            ("properties" | "$defs", Value::Object(schemas)) => {
                schemas.values_mut().for_each(|schema| close(schema, false));
            }
            ("anyOf" | "oneOf" | "allOf", Value::Array(schemas)) => {
                schemas.iter_mut().for_each(|schema| close(schema, is_part || has_keys));
            }
            ("items" | "additionalProperties", schema) => close(schema, false),
            _ => {}
        }
    }
}
