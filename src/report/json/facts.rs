//! Facts and settings, as every form writes them.

use super::super::words::value as in_words;
use super::values::{LocationJson, MeasuredJson};
use crate::diag::Location;
use crate::expr::Value;
use crate::facts::{CATALOGUE, Origin};
use crate::review::{Absence, Shown};
use crate::units::{System, figures};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Serialize, Serializer};
use std::borrow::Cow;
use std::sync::Arc;

/// A fact or setting: its value or why there is none, and its source.
#[derive(Serialize, JsonSchema)]
#[schemars(extend("allOf" = [
    { "if": { "properties": { "from": { "enum": ["unreadable", "unknown"] } } }, "then": { "required": ["absent"] } },
    { "if": { "properties": { "from": { "enum": ["supposed", "setting"] } } }, "then": { "not": { "required": 
        ["absent"] } } },
]))]
pub(super) struct FactJson<'r> {
    #[serde(flatten)]
    value: ValueJson<'r>,
    /// The value in the reader's units, or what it waits for.
    text: String,
    #[serde(flatten)]
    source: SourceJson<'r>,
}

#[derive(Serialize, JsonSchema)]
#[serde(untagged)]
enum ValueJson<'r> {
    /// A quantity.
    Quantity(MeasuredJson),
    /// A word or a text.
    Text { value: &'r str },
    /// Yes or no.
    YesNo { value: bool },
    /// The words of a setting that is a list.
    List { value: &'r [Arc<str>] },
    /// Unknown.
    Absent {
        value: (),
        /// Why there is no value.
        absent: String,
    },
}

/// Where the value is from.
#[derive(Serialize, JsonSchema)]
#[serde(tag = "from", rename_all = "lowercase")]
enum SourceJson<'r> {
    /// Stated in the schedule.
    Stated { at: LocationJson<'r> },
    /// From a file of answers.
    Answer { at: LocationJson<'r> },
    /// From product data, by the model.
    Product { at: LocationJson<'r> },
    /// Stated in the job file.
    Job { at: LocationJson<'r> },
    /// A cell with an error.
    Unreadable { at: LocationJson<'r> },
    /// A published figure of the climate.
    Published {
        /// Where it is published.
        why: String,
    },
    /// Assumed.
    Assumed {
        /// The reason.
        why: String,
    },
    /// Computed from other facts.
    Computed {
        /// Facts that went into it.
        used: Vec<&'static str>,
    },
    /// The span of the plausible answers to what is not stated.
    Supposed,
    /// A setting of the rules.
    Setting,
    /// Not stated.
    Unknown,
}

impl<'r> FactJson<'r> {
    pub(super) fn of(fact: &'r Shown, system: System) -> Self {
        let value = match &fact.value {
            Ok(Value::Quantity(quantity)) => ValueJson::Quantity(quantity.into()),
            Ok(Value::Text(value)) => ValueJson::Text { value },
            Ok(Value::YesNo(value)) => ValueJson::YesNo { value: *value },
            Ok(Value::List(value)) => ValueJson::List { value },
            Err(absence) => ValueJson::Absent { value: (), absent: absent(fact, absence, system) },
        };
        let at = |location: &'r Location, text: &'r Arc<str>| LocationJson::of(location, Some(text));
        let source = match &fact.origin {
            Origin::Stated(location, text) => SourceJson::Stated { at: at(location, text) },
            Origin::Answered(location, text) => SourceJson::Answer { at: at(location, text) },
            Origin::Product(location, text) => SourceJson::Product { at: at(location, text) },
            Origin::Job(location, text) => SourceJson::Job { at: at(location, text) },
            Origin::Unreadable(location, text) => SourceJson::Unreadable { at: at(location, text) },
            Origin::Published(why) => SourceJson::Published { why: figures(why, system) },
            Origin::Assumed(why) => SourceJson::Assumed { why: figures(why, system) },
            Origin::Computed(slots) => {
                let used = slots.iter().filter_map(|slot| CATALOGUE.get(usize::from(slot.0)));
                SourceJson::Computed { used: used.map(|entry| entry.def.name).collect() }
            }
            // A value that nobody stated spans the plausible answers.
            Origin::Unknown if fact.value.is_err() => SourceJson::Unknown,
            Origin::Unknown | Origin::Supposed => SourceJson::Supposed,
            Origin::Setting => SourceJson::Setting,
        };
        Self { value, text: in_words(fact, system), source }
    }
}

/// Why a fact has no value. One that waits for others names them.
fn absent(fact: &Shown, absence: &Absence, system: System) -> String {
    match (absence, &fact.origin) {
        (Absence::Because(why), _) => figures(why, system),
        (_, Origin::Unreadable(..)) => "the cell could not be read".into(),
        (Absence::Missing(headings), _) if **headings == [fact.heading.clone()] => "not stated".into(),
        (Absence::Missing(_), _) => in_words(fact, system),
    }
}

/// An object with a key for each entry, in the order given.
pub(super) struct Entries<'r, T>(pub Vec<(&'r str, T)>);

impl<T: Serialize> Serialize for Entries<'_, T> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_map(self.0.iter().map(|(name, value)| (name, value)))
    }
}

impl<T: JsonSchema> JsonSchema for Entries<'_, T> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        format!("EntriesOf{}", T::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "object",
            // A fact such as `outlet.barrel`, or a setting or table of the rules such as `freezing/margin`.
            "propertyNames": { "pattern": "^[^./]+[./][^./]+$" },
            "additionalProperties": generator.subschema_for::<T>(),
        })
    }
}

/// Facts by name.
pub(super) type FactsJson<'r> = Entries<'r, FactJson<'r>>;

pub(super) fn facts<'r>(facts: impl IntoIterator<Item = &'r Shown>, system: System) -> FactsJson<'r> {
    Entries(facts.into_iter().map(|fact| (&*fact.name, FactJson::of(fact, system))).collect())
}
