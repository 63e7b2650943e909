//! JSON Schema of the files people write: rule files and jobs. What the catalogue, the rules and the tables know is filled
//! in from them, so that it cannot go stale.

mod fill;

use crate::climate::{Library, MONTHS};
use crate::facts::{CATALOGUE, Source};
use crate::job::SOILS;
use crate::physics::materials;
use crate::ruleset::{Basis, Outcome, Rules};
use crate::wall::{BUILT_IN, SPACES};
use fill::{blanks_count_as_left_out, facts, given, headings, listed, one_of, yes_no};
use serde_json::{Map, Value, json};
use std::sync::LazyLock;

static RULES: LazyLock<Value> = LazyLock::new(|| template(include_str!("rules.schema.json")));
static JOB: LazyLock<Value> = LazyLock::new(|| template(include_str!("job.schema.json")));

/// A template of this room. A key with a blank value reads as left out.
fn template(text: &str) -> Value {
    let mut template = serde_json::from_str(text).unwrap_or_default();
    blanks_count_as_left_out(&mut template);
    template
}

/// The schema of rule files. Settings and rules of `base` are offered to amendments.
pub fn rules(base: &Rules) -> String {
    let mut schema = RULES.clone();
    schema["$defs"].as_object_mut().into_iter().for_each(|defs| rule_parts(defs, base));
    printed(schema)
}

/// The schema of jobs.
pub fn job(base: &Rules, climates: &Library) -> String {
    let mut schema = JOB.clone();
    let rule_defs = RULES["$defs"].as_object().cloned().unwrap_or_default();
    if let Some(defs) = schema["$defs"].as_object_mut() {
        for (name, part) in rule_defs {
            defs.entry(name).or_insert(part);
        }
        rule_parts(defs, base);
        job_parts(defs, climates);
    }
    printed(schema)
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
    put("outcome", described("What is said of an outlet where it does not hold.", one_of(&outcomes[..3])));
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
