//! Amendments: a region's, company's or job's changes to the rules before it.

use super::read::{read_rules, template};
use super::{AllNames, Dropped, Outcome, Rules};
use crate::diag::Problem;
use crate::expr::Names;
use crate::input::{Fields, Key, Node};
use std::sync::Arc;

/// Reads `amendment: name` with `settings`, `change`, `drop` and `add`, and applies it. A name that matches nothing is
/// a problem.
pub(super) fn read(node: &Node, facts: &dyn Names, rules: &mut Rules, problems: &mut Vec<Problem>) {
    let Some(mut fields) = Fields::of(node, "amendment", problems) else { return };
    let name = fields.need("amendment", problems).and_then(|node| node.text("amendment", problems));
    fields.take("about").and_then(|node| node.text("about", problems));
    let entries = |key, fields: &mut Fields<'_>, problems: &mut Vec<Problem>| {
        fields.take(key).and_then(|node| node.map(key, problems).map(<[_]>::to_vec)).unwrap_or_default()
    };
    let settings = entries("settings", &mut fields, problems);
    let change = entries("change", &mut fields, problems);
    let drop = entries("drop", &mut fields, problems);
    let add = fields.take("add").and_then(|node| node.list("add", problems)).unwrap_or_default();
    fields.finish(problems);
    let Some(name) = name else { return };
    let by: Arc<str> = name.into();
    for (key, node) in &settings {
        let known: Vec<String> = rules.settings.iter().map(|it| it.name.to_string()).collect();
        match rules.settings.iter_mut().find(|it| *it.name == *key.text) {
            Some(setting) => setting.change(node, &by, problems),
            None => problems.push(unmatched(key, "setting", &known)),
        }
    }
    let ids: Vec<String> = rules.rules.iter().map(|it| it.id.to_string()).collect();
    for (key, node) in &change {
        change_rule(key, node, facts, rules, &ids, &by, problems);
    }
    for (key, node) in &drop {
        let reason = node.text("reason", problems).filter(|it| {
            let told = !it.trim().is_empty();
            if !told {
                problems.push(Problem::new(key.place.clone(), "is dropped without a reason").text(&key.text));
            }
            told
        });
        match (rules.rules.iter().position(|it| *it.id == *key.text), reason) {
            (Some(index), Some(reason)) => {
                let rule = rules.rules.remove(index);
                let dropped =
                    Dropped { rule: rule.id, number: rule.number, reason: reason.into(), by: by.clone() };
                rules.dropped.push(dropped);
            }
            (None, _) => problems.push(unmatched(key, "rule", &ids)),
            (_, None) => {}
        }
    }
    read_rules(name, add, facts, rules, Some(&by), problems);
    rules.amendments.push(by);
}

fn change_rule(
    key: &Key,
    node: &Node,
    facts: &dyn Names,
    rules: &mut Rules,
    ids: &[String],
    by: &Arc<str>,
    problems: &mut Vec<Problem>,
) {
    let Some(index) = rules.rules.iter().position(|it| *it.id == *key.text) else {
        problems.push(unmatched(key, "rule", ids));
        return;
    };
    let before = problems.len();
    let Some(mut fields) = Fields::of(node, "change", problems) else { return };
    let names = AllNames { facts, settings: &rules.settings };
    let outcome =
        fields.take("outcome").and_then(|node| node.one_of("outcome", &Outcome::WORDS[..3], problems));
    let says = fields.take("says").and_then(|node| template(node, &names, problems));
    let remedy = fields.take("remedy").and_then(|node| template(node, &names, problems));
    fields.finish(problems);
    if problems.len() == before && outcome.is_none() && says.is_none() && remedy.is_none() {
        problems.push(
            Problem::new(key.place.clone(), "is changed in nothing")
                .text(&key.text)
                .expected("outcome, says or remedy"),
        );
        return;
    }
    let rule = &mut rules.rules[index];
    rule.outcome = outcome.unwrap_or(rule.outcome);
    if let Some(says) = says {
        rule.says = says;
    }
    if remedy.is_some() {
        rule.remedy = remedy;
    }
    rule.changed_by = Some(by.clone());
}

fn unmatched(key: &Key, what: &str, names: &[String]) -> Problem {
    let problem = Problem::new(key.place.clone(), format!("is no {what} there is")).text(&key.text);
    problem.nearest(&key.text, names.iter().map(String::as_str))
}
