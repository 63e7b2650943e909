//! JSON Schemas of the files people write: rule files and jobs. The shapes are types; the words are from the
//! catalogue, the
//! rules and the tables.

mod fill;
mod job;
mod rules;
mod shapes;

use crate::climate::{Library, MONTHS};
use crate::facts::{CATALOGUE, Source};
use crate::job::{COST_KEYS, SOILS};
use crate::physics::materials;
use crate::ruleset::{Basis, Outcome, Rules};
use crate::wall::{BUILT_IN, SPACES};
use fill::{facts, given, headings, listed, one_of, yes_no};
use schemars::SchemaGenerator;
use serde_json::{Map, Value, json};

/// The schema of rule files. Settings and rules of `base` are offered to amendments.
pub fn rules(base: &Rules) -> String {
    printed(json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Coldsill rule file",
        "description": "A set of rules (`set:`), or an amendment of the rules by a region, a company or a job \
         (`amendment:`). \
            `coldsill rules try FILE` runs the cases in it.",
        "type": "object",
        "if": { "required": ["amendment"] },
        "then": { "$ref": "#/$defs/amendment", "allOf": [shapes::stated("amendment")] },
        "else": { "$ref": "#/$defs/set" },
        "$defs": rule_definitions(&mut SchemaGenerator::default(), base),
    }))
}

/// The schema of jobs.
pub fn job(base: &Rules, climates: &Library) -> String {
    let mut generator = SchemaGenerator::default();
    let mut schema = generator.root_schema_for::<job::Job>().to_value();
    generator.subschema_for::<job::SpaceParts>();
    let mut definitions = rule_definitions(&mut generator, base);
    job_parts(&mut definitions, climates);
    schema["$defs"] = definitions.into();
    printed(schema)
}

/// Definitions of rule files, with those that the generator has already.
fn rule_definitions(generator: &mut SchemaGenerator, base: &Rules) -> Map<String, Value> {
    generator.subschema_for::<rules::Set>();
    generator.subschema_for::<rules::Amendment>();
    generator.subschema_for::<rules::ChangedSetting>();
    generator.subschema_for::<rules::ChangedRule>();
    let mut definitions = generator.take_definitions(true);
    definitions.insert("text".into(), json!({ "type": ["string", "number", "boolean"] }));
    definitions.insert("quantity".into(), json!({ "type": ["string", "number"] }));
    rule_parts(&mut definitions, base);
    definitions
}

fn printed(schema: Value) -> String {
    format!("{schema:#}\n")
}

fn rule_parts(defs: &mut Map<String, Value>, base: &Rules) {
    let basis: Vec<&str> = Basis::WORDS.iter().map(|(word, _)| *word).collect();
    let outcomes: Vec<&str> = Outcome::WORDS.iter().map(|(word, _)| *word).collect();
    let mut put = |name: &str, schema: Value| defs.insert(name.into(), schema);
    put("yes_no", yes_no());
    put("fact", facts());
    put("given", given());
    put("basis", described("What the rule stands on.", one_of(&basis)));
    put("level", one_of(&["region", "company", "job"]));
    put("outcome", described("What is said of a faucet where it does not hold.", one_of(&outcomes[..3])));
    put("close_outcome", one_of(&outcomes[1..3]));
    put("any_outcome", one_of(&outcomes));
    let about =
        "Bases that may ask for a revision; a rule on any other advises. All may where it is left out.";
    put(
        "revise_on",
        json!({ "description": about, "type": "array", "minItems": 1, "items": one_of(&basis) }),
    );
    let settings = base.settings.iter().map(|it| {
        let about = format!("{}; {} in the base rules.", it.about, it.text);
        (it.name.to_string(), json!({ "description": about, "$ref": "#/$defs/changed_setting" }))
    });
    let about = "Settings of the rules before it, by name, with what each is set to.";
    put("changed_settings", named(about, settings, json!({ "$ref": "#/$defs/changed_setting" })));
    let rule = |schema: Value| {
        let with = move |title: &str| {
            let mut schema = schema.clone();
            schema["description"] = json!(title);
            schema
        };
        base.rules.iter().map(move |it| (it.id.to_string(), with(&format!("{}: {}", it.number, it.title))))
    };
    let changed = json!({ "$ref": "#/$defs/changed_rule" });
    let about = "Rules before it, by id, with what of each is changed.";
    put("changed_rules", named(about, rule(changed.clone()), changed));
    let dropped = json!({ "type": ["string", "number"], "minLength": 1 });
    let about = "Rules before it, by id, that are dropped, each with the reason; the report says it.";
    put("dropped_rules", named(about, rule(dropped.clone()), dropped));
}

fn job_parts(defs: &mut Map<String, Value>, climates: &Library) {
    let mut put = |name: &str, schema: Value| defs.insert(name.into(), schema);
    let ids = climates.iter().map(|it| it.id.to_string());
    put("climates", listed(ids));
    put("exposures", fill::words_of("site.exposure"));
    put("soils", one_of(&SOILS));
    put("months", one_of(&MONTHS.map(|(name, _)| name)));
    put("materials", listed(materials::all().map(|it| it.key.to_owned()).chain(["air".to_owned()])));
    put("space_words", one_of(&SPACES));
    let cost = json!({ "type": ["string", "number"] });
    put(
        "costs",
        json!({
            "description": "What each change adds to the cost of a faucet, in dollars; `length` is by the inch. Remedies are \
             ranked by it.",
            "type": "object",
            "additionalProperties": false,
            "patternProperties": COST_KEYS.map(|it| (fill::any_case(it), cost.clone())).into_iter().collect::<Map<_, _>>(),
            "properties": COST_KEYS.map(|it| (it.to_owned(), cost.clone())).into_iter().collect::<Map<_, _>>(),
        }),
    );
    let space = json!({ "$ref": "#/$defs/space" });
    put(
        "spaces",
        json!({
            "description": "What is known of the spaces behind outlets.",
            "type": "object",
            "additionalProperties": false,
            "patternProperties": SPACES.map(|it| (fill::any_case(it), space.clone())).into_iter().collect::<Map<_, _>>(),
            "properties": SPACES.map(|it| (it.to_owned(), space.clone())).into_iter().collect::<Map<_, _>>(),
        }),
    );
    let walls: Vec<String> = BUILT_IN.iter().map(|it| it.key.to_string()).collect();
    put("defaults", headings(|def| !def.is_identity(), false));
    put("model", headings(|_| true, true));
    put("place", json!({ "$ref": "#/$defs/model" }));
    for entry in CATALOGUE.iter().filter(|it| matches!(it.def.source, Source::Stated { .. })) {
        put(entry.def.name, fill::cell(entry, &walls));
    }
}

fn described(about: &str, mut schema: Value) -> Value {
    schema["description"] = json!(about);
    schema
}

/// A mapping by names such as `freezing/margin`, of which some are known.
fn named(about: &str, known: impl Iterator<Item = (String, Value)>, any: Value) -> Value {
    json!({
        "description": about,
        "type": "object",
        "properties": known.collect::<Map<_, _>>(),
        "propertyNames": { "pattern": "/" },
        "additionalProperties": any,
    })
}
