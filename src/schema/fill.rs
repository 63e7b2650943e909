//! Parts of a schema that come from the catalogue of facts.

use crate::expr::Type;
use crate::facts::{CATALOGUE, Def, Entry, Source};
use crate::units::{Dim, Measure, UNITS};
use serde_json::{Map, Value, json};

/// One of these words in any case.
pub(super) fn one_of(words: &[&str]) -> Value {
    let spelt: Vec<String> = words.iter().map(|it| any_case(it)).collect();
    let pattern = spelt.iter().map(|it| it.trim_start_matches('^').trim_end_matches('$')).collect::<Vec<_>>();
    json!({ "anyOf": [
        { "enum": words },
        { "type": "string", "pattern": format!("^\\s*(?:{})\\s*$", pattern.join("|")) },
    ] })
}

/// Words that are offered, where others may stand too.
pub(super) fn listed(words: impl Iterator<Item = String>) -> Value {
    json!({ "anyOf": [{ "enum": words.collect::<Vec<_>>() }, { "type": ["string", "number", "boolean"] }] })
}

/// Yes or no, as YAML writes them and as people do.
pub(super) fn yes_no() -> Value {
    let mut schema = one_of(&["yes", "no", "true", "false"]);
    if let Some(forms) = schema["anyOf"].as_array_mut() {
        forms.push(json!({ "type": "boolean" }));
    }
    schema
}

/// The name of a fact.
pub(super) fn facts() -> Value {
    json!({ "enum": CATALOGUE.iter().map(|it| it.def.name).collect::<Vec<_>>() })
}

/// The words of a fact that is one of some.
pub(super) fn words_of(fact: &str) -> Value {
    let entry = CATALOGUE.iter().find(|it| it.def.name == fact);
    match entry.map(|it| &it.ty) {
        Some(Type::OneOf(words)) => one_of(words),
        _ => json!({ "$ref": "#/$defs/text" }),
    }
}

/// Facts of a case, as a rule file states them. Settings may stand beside them.
pub(super) fn given() -> Value {
    let fact = |entry: &Entry| {
        let mut schema = match &entry.ty {
            Type::Quantity(_) => json!({ "$ref": "#/$defs/quantity" }),
            Type::YesNo => json!({ "$ref": "#/$defs/yes_no" }),
            Type::OneOf(words) => one_of(words),
            _ => json!({ "$ref": "#/$defs/text" }),
        };
        schema["description"] = json!(about(entry));
        (entry.def.name.to_owned(), schema)
    };
    json!({
        "description": "Facts as they would be stated or computed. A band is written `34 °F to 38 °F`.",
        "type": "object",
        "additionalProperties": false,
        "properties": CATALOGUE.iter().map(fact).collect::<Map<_, _>>(),
        "patternProperties": { "^[^/]+/.+$": { "$ref": "#/$defs/text" } },
    })
}

/// A mapping by headings of a schedule. Case, spaces and punctuation of a heading do not count.
pub(super) fn headings(is_meant: impl Fn(&Def) -> bool, may_be_blank: bool) -> Value {
    let (mut first, mut spelt) = (Map::new(), Map::new());
    for entry in CATALOGUE.iter() {
        let Source::Stated { headings, .. } = entry.def.source else { continue };
        if !is_meant(entry.def) {
            continue;
        }
        let mut schema = json!({ "$ref": format!("#/$defs/{}", entry.def.name) });
        if may_be_blank {
            or_blank(&mut schema);
        }
        if let Some(heading) = headings.first() {
            first.insert(heading.to_lowercase(), schema.clone());
        }
        let any: Vec<String> = headings.iter().map(|it| any_spelling(it)).collect();
        spelt.insert(format!("^[\\W_]*(?:{})[\\W_]*$", any.join("|")), schema);
    }
    json!({
        "type": "object",
        "additionalProperties": false,
        "properties": first,
        "patternProperties": spelt,
    })
}

/// A cell of a fact's column. Its words may be said in other ways too, and a quantity as people write it.
pub(super) fn cell(entry: &Entry, walls: &[String]) -> Value {
    let mut schema = match &entry.ty {
        Type::OneOf(words) => listed(words.iter().map(|it| (*it).to_owned())),
        Type::YesNo => listed(["yes", "no"].map(str::to_owned).into_iter()),
        _ if entry.def.name == "outlet.wall" => listed(walls.iter().cloned()),
        _ => json!({ "$ref": "#/$defs/text" }),
    };
    schema["description"] = json!(about(entry));
    schema
}

/// What a fact is, with its measure and the units it may be written in.
fn about(entry: &Entry) -> String {
    let Type::Quantity(measure) = entry.ty else { return format!("{}.", entry.def.about) };
    let units: Vec<&str> = units_of(measure).collect();
    let units = if units.is_empty() { String::new() } else { format!(": {}", units.join(", ")) };
    format!("{} ({}{units}).", entry.def.about, measure.name())
}

fn units_of(measure: Measure) -> impl Iterator<Item = &'static str> {
    let dim = match measure {
        Measure::Temperature => Dim::DIFFERENCE,
        Measure::Of(dim) => dim,
    };
    let own = UNITS
        .iter()
        .filter(move |unit| unit.dim == dim && (dim != Dim::DIFFERENCE || unit.measure() == measure));
    own.filter_map(|unit| unit.names.first().copied()).filter(|name| !name.is_empty())
}

/// A pattern of a word in any case.
pub(super) fn any_case(word: &str) -> String {
    format!("^{}$", word.chars().map(letter).collect::<String>())
}

/// A pattern of a heading in any case, its words parted by anything but letters and figures.
fn any_spelling(heading: &str) -> String {
    let words: Vec<String> =
        heading.split(|c: char| !c.is_alphanumeric()).map(|it| it.chars().map(letter).collect()).collect();
    words.join("[\\W_]*")
}

fn letter(c: char) -> String {
    if c.is_ascii_alphabetic() {
        format!("[{}{}]", c.to_ascii_uppercase(), c.to_ascii_lowercase())
    } else if c.is_alphanumeric() || c == ' ' {
        c.to_string()
    } else {
        format!("\\{c}")
    }
}

/// The same or nothing, its description still in front.
fn or_blank(schema: &mut Value) {
    let about = schema.as_object_mut().and_then(|it| it.shift_remove("description"));
    let or_nothing = json!({ "anyOf": [schema.take(), { "type": "null" }] });
    *schema = match about {
        Some(about) => json!({ "description": about, "anyOf": or_nothing["anyOf"] }),
        None => or_nothing,
    };
}
