//! The schemas of rule files and jobs against the program that reads them: what one takes the other takes.

use coldsill::climate::Library;
use coldsill::facts::{Sources, open, open_rules};
use coldsill::input::{Kind, Memory, Node, yaml};
use coldsill::{schema, shipped};
use regex::Regex;
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

const JOB: &str = include_str!("data/job.yaml");
const HOUSE: &str = include_str!("data/house.yaml");
const SET: &str = include_str!("data/set.yaml");
const SCHEDULE: &str = "Mark,Kind,Closes,Nominal length,Barrel\nHB-1,sillcock,inside,10 in,brass\n";

static RULES: LazyLock<(Value, jsonschema::Validator)> = LazyLock::new(|| {
    let base = open_rules(&Memory::new(), &shipped::rules(), &[]).expect("the base rules are right");
    compiled(&schema::rules(&base.job().rules))
});
static JOBS: LazyLock<(Value, jsonschema::Validator)> = LazyLock::new(|| {
    let base = open_rules(&Memory::new(), &shipped::rules(), &[]).expect("the base rules are right");
    compiled(&schema::job(&base.job().rules, &CLIMATES))
});

static CLIMATES: LazyLock<&'static Library> =
    LazyLock::new(|| shipped::climates().expect("the climates are right"));

/// Which of the two a file is.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Of {
    Rules,
    Job,
}

impl Of {
    fn schema(self) -> &'static (Value, jsonschema::Validator) {
        if self == Self::Rules { &RULES } else { &JOBS }
    }

    /// What the schema has against a file.
    fn schema_says(self, file: &Value) -> Vec<String> {
        self.schema().1.iter_errors(file).map(|it| format!("{}: {it}", it.instance_path())).collect()
    }

    /// What the program has against a file.
    fn program_says(self, text: &str) -> Vec<String> {
        let refused = match self {
            Self::Rules => {
                let files = Memory::new().with("own.yaml", text);
                open_rules(&files, &shipped::rules(), &["own.yaml".to_owned()]).err()
            }
            Self::Job => {
                let files = Memory::new()
                    .with("job.yaml", text)
                    .with("house.yaml", HOUSE)
                    .with("our-amendment.yaml", HOUSE)
                    .with("schedule.csv", SCHEDULE)
                    .with(
                        "own-climates.yaml",
                        "places:\n  the-pass: { name: The pass, design_low: -40 °F }\n",
                    )
                    .with("outlets.csv", "Model,Closes\nGEN-10,inside\n");
                let (base_rules, climates) = (&shipped::rules(), &*CLIMATES);
                let sources = Sources {
                    files: &files,
                    source: "job.yaml",
                    sheet: None,
                    climate: None,
                    design_low: None,
                    answers: &[],
                    rules: &[],
                    base_rules,
                    presets: Default::default(),
                    climates,
                };
                // A slip in product data ends no review, and is told with the schedule's.
                match open(&sources) {
                    Ok(world) if world.job().schedule.problems.is_empty() => None,
                    Ok(world) => Some(world.job().schedule.problems.clone()),
                    Err(problems) => Some(problems),
                }
            }
        };
        refused.into_iter().flatten().map(|it| it.to_string()).collect()
    }
}

fn compiled(schema: &str) -> (Value, jsonschema::Validator) {
    let schema: Value = serde_json::from_str(schema).expect("it is JSON");
    let validator = jsonschema::validator_for(&schema).expect("the schema compiles");
    (schema, validator)
}

/// A file as an editor's YAML reads it: plain numbers are numbers, true and false are what they are, yes is a text.
fn as_json(node: &Node) -> Value {
    match &node.kind {
        Kind::Null => Value::Null,
        Kind::List(items) => items.iter().map(as_json).collect(),
        Kind::Map(entries) => {
            entries.iter().map(|(key, node)| (key.text.clone(), as_json(node))).collect::<Map<_, _>>().into()
        }
        Kind::Scalar { text, plain: true } => match text.as_str() {
            "true" | "false" => json!(text == "true"),
            it => it.parse::<f64>().ok().filter(|it| it.is_finite()).map_or(json!(it), |it| json!(it)),
        },
        Kind::Scalar { text, plain: false } => json!(text),
    }
}

fn parsed(name: &str, text: &str) -> Value {
    as_json(&yaml::parse(name, text).unwrap_or_else(|problem| panic!("{problem}")))
}

#[track_caller]
fn assert_taken(of: Of, name: &str, text: &str) {
    let errors = of.schema_says(&parsed(name, text));
    assert!(errors.is_empty(), "{name}:\n{}", errors.join("\n"));
}

fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
}

/// Files of a folder and the folders in it, by how their names end.
fn below(folder: &Path, ends: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("it can be looked at").path();
        if path.is_dir() {
            found.extend(below(&path, ends));
        } else if path.to_string_lossy().ends_with(ends) {
            found.push(path);
        }
    }
    found.sort();
    found
}

#[test]
fn both_schemas_are_valid_json_schemas_of_2020_12() {
    for of in [Of::Rules, Of::Job] {
        assert!(jsonschema::draft202012::meta::is_valid(&of.schema().0), "{of:?}");
    }
}

/// A YAML mapping without some of its own keys and what stands under them.
fn without_keys(text: &str, keys: &[&str]) -> String {
    let mut is_kept = true;
    let lines = text.lines().filter(|line| {
        if !line.starts_with(' ') {
            is_kept = !keys.iter().any(|key| line.starts_with(key));
        }
        is_kept
    });
    lines.map(|line| format!("{line}\n")).collect()
}

#[test]
fn every_rule_file_that_is_shipped_fits() {
    let files = below(&root().join("rules"), ".yaml");
    assert!(files.len() >= 10);
    for file in files {
        let text = fs::read_to_string(&file).expect("it can be read");
        // A code is an amendment with its spellings and its sections, which nobody else's has.
        let is_code = file.parent().is_some_and(|folder| folder.ends_with("codes"));
        let text = if is_code { without_keys(&text, &["names:", "sections:"]) } else { text };
        assert_taken(Of::Rules, &file.to_string_lossy(), &text);
    }
}

#[test]
fn every_example_of_a_job_fits() {
    for file in below(&root().join("examples"), "job.yaml") {
        assert_taken(Of::Job, &file.to_string_lossy(), &fs::read_to_string(&file).expect("it can be read"));
    }
}

#[test]
fn every_file_shown_in_the_readme_fits() {
    let mut seen = 0;
    for readme in below(&root().join("rules"), "README.md").into_iter().chain([root().join("README.md")]) {
        let text = fs::read_to_string(&readme).expect("it can be read");
        for block in text.split("```yaml\n").skip(1).filter_map(|it| it.split("```").next()) {
            // Others are parts of a file.
            let of = match block.split(':').next() {
                Some("amendment" | "set") => Of::Rules,
                Some("job") => Of::Job,
                _ => continue,
            };
            assert_taken(of, &readme.to_string_lossy(), block);
            seen += 1;
        }
    }
    assert!(seen >= 2);
}

#[test]
fn the_files_that_the_others_are_spoiled_from_are_in_order() {
    for (of, name, text) in [(Of::Job, "job", JOB), (Of::Rules, "house", HOUSE), (Of::Rules, "set", SET)] {
        assert_taken(of, name, text);
        assert_eq!(of.program_says(text), [""; 0], "{name}");
    }
}

/// A file with one thing wrong or left out, and what was done to it.
fn spoiled(whole: &Value) -> Vec<(String, Value)> {
    fn walk(whole: &Value, at: &mut Vec<String>, out: &mut Vec<(String, Value)>) {
        let pointer: String = at.iter().map(|it| format!("/{}", it.replace('/', "~1"))).collect();
        match whole.pointer(&pointer) {
            Some(Value::Object(entries)) => {
                for (key, value) in entries {
                    let mut change = |what: &str, change: &dyn Fn(&mut Map<String, Value>)| {
                        let mut copy = whole.clone();
                        let own = copy.pointer_mut(&pointer).and_then(Value::as_object_mut);
                        change(own.expect("it is a mapping"));
                        out.push((format!("{pointer}/{key} {what}"), copy));
                    };
                    change("misspelt", &|own| {
                        own.shift_remove(key);
                        own.insert(format!("{key}x"), value.clone());
                    });
                    change("left out", &|own| drop(own.shift_remove(key)));
                    change("blank", &|own| drop(own.insert(key.clone(), Value::Null)));
                    change("a mapping of something else", &|own| {
                        drop(own.insert(key.clone(), json!({ "qqqq": "8 in" })));
                    });
                    if matches!(key.as_str(), "says" | "remedy") {
                        change("an empty list", &|own| drop(own.insert(key.clone(), json!([]))));
                    }
                    change("a list in a list", &|own| drop(own.insert(key.clone(), json!([["8 in"]]))));
                    at.push(key.clone());
                    walk(whole, at, out);
                    at.pop();
                }
            }
            Some(Value::Array(items)) => {
                for index in 0..items.len() {
                    at.push(index.to_string());
                    walk(whole, at, out);
                    at.pop();
                }
            }
            _ => {}
        }
    }
    let mut out = Vec::new();
    walk(whole, &mut Vec::new(), &mut out);
    out
}

/// Names that are a person's own or another file's: no schema can know them.
const OWN_NAMES: [&str; 11] = [
    // The command line may name it.
    "/climate left out",
    "/climate blank",
    "/walls/our-wall misspelt",
    "/products/GEN-10 misspelt",
    "/settings/freezing/margin misspelt",
    "/change/freezing/seat-short-of-insulation misspelt",
    "/drop/detail/installation-note-missing misspelt",
    "/settings/least misspelt",
    "/settings/least left out",
    "/settings left out",
    "/settings blank",
];

#[test]
fn the_schema_takes_and_refuses_what_the_program_takes_and_refuses() {
    let mut differ = Vec::new();
    let mut refused = 0;
    for (of, text) in [(Of::Job, JOB), (Of::Rules, HOUSE), (Of::Rules, SET)] {
        for (what, file) in spoiled(&parsed("whole", text)) {
            if OWN_NAMES.contains(&what.as_str()) {
                continue;
            }
            let (schema, program) = (of.schema_says(&file), of.program_says(&file.to_string()));
            refused += usize::from(!program.is_empty());
            if schema.is_empty() != program.is_empty() {
                differ.push(format!("{of:?} {what}: schema {schema:?}, program {program:?}"));
            }
        }
    }
    assert!(refused > 300, "{refused}");
    assert!(differ.is_empty(), "{} of them:\n{}", differ.len(), differ.join("\n"));
}

/// Files with a key that there is not, and where the schema lists the keys that there are.
const PROBES: [(Of, &str, &str); 18] = [
    (Of::Rules, "set: a\nabout: b\nrules: []\nqqqq: 1\n", "/$defs/set"),
    (Of::Rules, "amendment: a\nqqqq: 1\n", "/$defs/amendment"),
    (
        Of::Rules,
        "set: a\nabout: b\nrules: []\nsettings: { m: { is: 1 in, about: b, between: [0 in, 2 in], qqqq: 1 } }\n",
        "/$defs/setting",
    ),
    (Of::Rules, "set: a\nabout: b\nrules: [{ qqqq: 1 }]\n", "/$defs/rule"),
    (Of::Rules, "set: a\nabout: b\nrules: [{ cases: [{ qqqq: 1 }] }]\n", "/$defs/case"),
    (
        Of::Rules,
        "amendment: a\nchange: { freezing/seat-short-of-insulation: { qqqq: 1 } }\n",
        "/$defs/changed_rule",
    ),
    (Of::Job, "schedule: schedule.csv\nqqqq: 1\n", ""),
    (Of::Job, "schedule: schedule.csv\nclimate: { qqqq: 1 }\n", "/$defs/climate"),
    (Of::Job, "schedule: schedule.csv\nclimate: { annual_low: { qqqq: 1 } }\n", "/$defs/annual_low"),
    (Of::Job, "schedule: schedule.csv\ncode: { qqqq: 1 }\n", "/$defs/code"),
    (Of::Job, "schedule: schedule.csv\nauthority: { qqqq: 1 }\n", "/$defs/authority"),
    (Of::Job, "schedule: schedule.csv\nspaces: { basement: { qqqq: 1 } }\n", "/$defs/space"),
    (Of::Job, "schedule: schedule.csv\nspell: { qqqq: 1 }\n", "/$defs/spell"),
    (Of::Job, "schedule: schedule.csv\nwalls: { a: { qqqq: 1 } }\n", "/$defs/wall"),
    (Of::Job, "schedule: schedule.csv\nwalls: { a: { layers: [{ qqqq: 1 }] } }\n", "/$defs/layer"),
    (Of::Job, "schedule: schedule.csv\nsupply: { qqqq: 1 }\n", "/$defs/supply"),
    (Of::Job, "schedule: schedule.csv\nrules: [house.yaml]\nqqqq: 1\n", ""),
    (Of::Rules, "amendment: a\nadd: [{ qqqq: 1 }]\n", "/$defs/rule"),
];

#[test]
fn every_key_that_the_program_names_stands_in_the_schema_with_a_description() {
    for (of, text, pointer) in PROBES {
        let told = of.program_says(text);
        let told =
            told.iter().find(|it| it.contains("\"qqqq\"")).unwrap_or_else(|| panic!("{text}: {told:?}"));
        let (_, keys) = told.split_once("expected ").unwrap_or_else(|| panic!("{told}"));
        let mapping = of.schema().0.pointer(pointer).unwrap_or_else(|| panic!("no {pointer}"));
        for key in keys.split(", ").flat_map(|it| it.split(" or ")) {
            let own = &mapping["properties"][key];
            assert!(own.is_object(), "{pointer}: {key}");
            let referred = own["$ref"].as_str().or(own["anyOf"][0]["$ref"].as_str());
            let referred = referred.and_then(|it| of.schema().0.pointer(it.trim_start_matches('#')));
            let about = own.get("description").or_else(|| referred.and_then(|it| it.get("description")));
            assert!(about.is_some(), "{pointer}: {key} has no description");
        }
        let errors = of.schema_says(&parsed("probe", text));
        assert!(errors.iter().any(|it| it.contains("qqqq")) || !errors.is_empty(), "{text}");
    }
}

/// Every key of every mapping of a schema.
fn keys(schema: &Value, all: &mut BTreeSet<String>) {
    match schema {
        Value::Object(own) => {
            if let Some(Value::Object(properties)) = own.get("properties") {
                all.extend(properties.keys().cloned());
            }
            own.values().for_each(|it| keys(it, all));
        }
        Value::Array(items) => items.iter().for_each(|it| keys(it, all)),
        _ => {}
    }
}

#[test]
fn every_key_that_the_readers_look_for_stands_in_a_schema() {
    let mut known = BTreeSet::new();
    keys(&RULES.0, &mut known);
    keys(&JOBS.0, &mut known);
    // Keys of the shipped files of climates, which have no schema; and one that is looked for to say that it is not asked.
    known.extend(["places", "coldest_month_source", "framing"].map(str::to_owned));
    let looked_for = Regex::new(
        r#"\b(?:(?:required|optional)(?:_[a-z]+)?\(|[a-z]+\(\s*(?:&mut )?fields,)\s*"([a-z_0-9. ]+)""#,
    )
    .unwrap();
    let mut files = below(&root().join("src/ruleset"), ".rs");
    files.extend(["src/job/read.rs", "src/wall/read.rs", "src/climate/place.rs"].map(|it| root().join(it)));
    let mut seen = 0;
    for file in files {
        let text = fs::read_to_string(&file).expect("it can be read");
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        for found in looked_for.captures_iter(code) {
            assert!(known.contains(&found[1]), "{}: {}", file.display(), &found[1]);
            seen += 1;
        }
    }
    assert!(seen > 60, "{seen}");
}

#[test]
fn every_key_of_a_job_that_the_catalogue_names_stands_in_the_schema() {
    for entry in coldsill::facts::CATALOGUE.iter() {
        for path in entry.def.job_keys {
            let (first, rest) =
                path.split_once(": ").map_or((*path, None), |(first, rest)| (first, Some(rest)));
            assert!(JOBS.0["properties"][first].is_object(), "{path}");
            if let Some(rest) = rest {
                let of = if first == "spaces" { "space" } else { first };
                assert!(JOBS.0["$defs"][of]["properties"][rest].is_object(), "{path}");
            }
        }
    }
}
