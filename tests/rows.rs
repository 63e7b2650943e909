//! A review's JSON with an entry for each row, joined from the findings as another program would.

use serde_json::Value;
use std::collections::BTreeMap;

/// The review with `outlets` in the order of the schedule, in place of `rules` and `findings`. Other forms stay as they are.
pub(crate) fn by_row(mut form: Value) -> Value {
    let Some(review) = form.as_object_mut().filter(|form| form.contains_key("findings")) else { return form };
    let rules = review.remove("rules").unwrap_or_default();
    let rules: BTreeMap<String, Value> = list(rules)
        .into_iter()
        .map(|rule| (rule["rule"].as_str().unwrap_or_default().to_owned(), rule))
        .collect();
    let sets = list(review.remove("findings").unwrap_or_default());
    let mut outlets: Vec<Value> = sets.iter().flat_map(|findings| rows(findings, &rules)).collect();
    outlets.sort_by_key(|outlet| ["row", "line"].map(|key| outlet["at"][key].as_u64()));
    review.insert("outlets".into(), outlets.into());
    form
}

fn rows(findings: &Value, rules: &BTreeMap<String, Value>) -> Vec<Value> {
    let first = &findings["rows"][0]["at"];
    let comments: Vec<Value> = list(findings["comments"].clone())
        .into_iter()
        .map(|mut comment| {
            let names = list(comment["facts"].take());
            let names = names.iter().filter_map(Value::as_str);
            let mut values: serde_json::Map<String, Value> =
                names.map(|name| (name.to_owned(), findings["facts"][name].clone())).collect();
            values.extend(entries(comment["values"].take()));
            comment["values"] = values.into();
            let rule = entries(rules[comment["rule"].as_str().unwrap_or_default()].clone());
            comment.as_object_mut().into_iter().for_each(|comment| comment.extend(rule.clone()));
            comment
        })
        .collect();
    let row = |mut row: Value| {
        let mut facts = findings["facts"].clone();
        for fact in facts.as_object_mut().into_iter().flat_map(|facts| facts.values_mut()) {
            let at = &mut fact["at"];
            if at["file"] == first["file"] && at.get("row").is_some() && at["row"] == first["row"] {
                at["row"] = row["at"]["row"].clone();
            }
            // Looking for a place adds an empty one.
            if fact["at"].is_null() {
                fact.as_object_mut().map(|fact| fact.remove("at"));
            }
        }
        facts.as_object_mut().into_iter().for_each(|facts| facts.extend(entries(row["facts"].take())));
        row["facts"] = facts;
        row["comments"] = comments.clone().into();
        row
    };
    list(findings["rows"].clone()).into_iter().map(row).collect()
}

fn list(value: Value) -> Vec<Value> {
    if let Value::Array(list) = value { list } else { Vec::new() }
}

fn entries(value: Value) -> serde_json::Map<String, Value> {
    if let Value::Object(entries) = value { entries } else { serde_json::Map::new() }
}
