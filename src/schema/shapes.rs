//! Values of files that people write, as types to describe them by. Nothing is ever built of these types.

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde_json::{Value, json};
use std::borrow::Cow;

/// Types that stand for a definition that is filled in from the catalogue, the rules or the tables.
macro_rules! references {
    ($($name:ident $definition:literal),+ $(,)?) => {$(
        pub(super) struct $name;

        impl JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }

            fn schema_name() -> Cow<'static, str> {
                $definition.into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!({ "$ref": concat!("#/$defs/", $definition) })
            }
        }
    )+};
}

references! {
    // Of any file.
    Text "text", Quantity "quantity", YesNo "yes_no",
    // Of rule files.
    Fact "fact", Given "given", Basis "basis", Level "level", Outcome "outcome", AnyOutcome "any_outcome", CloseOutcome "close_outcome",
    ReviseOn "revise_on", ChangedSettings "changed_settings", ChangedRules "changed_rules", DroppedRules
        "dropped_rules",
    // Of jobs.
    Climates "climates", Exposure "exposures", Soil "soils", Month "months", Material "materials", Space "space_words",
    Spaces "spaces", Defaults "defaults", Model "model", Place "place", Supply "outlet.supply",
    SupplySize "outlet.supply_size", SupplyRun "outlet.supply_run", SupplyInsulation "outlet.supply_insulation",
}

/// A text, or a list of one text or more.
#[derive(JsonSchema)]
#[schemars(inline, untagged)]
#[allow(dead_code, reason = "described, never built")]
pub(super) enum TextOrList {
    Text(Text),
    List(#[schemars(length(min = 1))] Vec<Text>),
}

/// A key that is there and not blank.
pub(super) fn stated(key: &str) -> Value {
    json!({ "required": [key], "properties": { key: { "not": { "type": "null" } } } })
}

#[derive(JsonSchema)]
#[schemars(rename = "code", deny_unknown_fields)]
#[allow(dead_code, reason = "described, never built")]
pub(super) struct Code {
    /// Name of the code: IRC, IPC, UPC.
    name: Text,
    /// Its edition: 2021.
    edition: Option<Text>,
}

/// A code by its name, or with its edition apart.
#[derive(JsonSchema)]
#[schemars(inline, untagged)]
#[allow(dead_code, reason = "described, never built")]
pub(super) enum CodeOrName {
    Name(Text),
    Code(Code),
}

/// What the authority having jurisdiction has set.
#[derive(JsonSchema)]
#[schemars(rename = "authority", deny_unknown_fields)]
#[allow(dead_code, reason = "described, never built")]
pub(super) struct Authority {
    /// Its winter design temperature: -11 °F.
    winter_temperature: Option<Quantity>,
    /// Its frost depth: 42 in.
    frost_depth: Option<Quantity>,
    /// Its air-freezing index: 2000 °F·days.
    freezing_index: Option<Quantity>,
    /// The lowest height of an outlet above grade.
    outlet_height: Option<Quantity>,
}
