//! Reads a set of rules, and the rules that an amendment adds.

use super::amend::slug;
use super::settings::Setting;
use super::tables::read_tables;
use super::{AllNames, Amended, Basis, Case, Outcome, Rule, Rules, Set};
use crate::diag::{Diagnostic, Diagnostics, Location, Position, capital};
use crate::expr::{Names, Program, Template, Type, Value};
use crate::input::{Fields, Kind, Node};
use crate::units::{self, Written};
use std::sync::Arc;

pub(super) fn read_set(
    node: &Node,
    facts: &dyn Names,
    first: u16,
    rules: &mut Rules,
    problems: &mut Diagnostics,
) {
    if !matches!(&node.kind, Kind::Map(entries) if entries.iter().any(|(key, _)| key.text == "set")) {
        let problem = Diagnostic::new(Location::whole(&node.place.file), "is not a rule file");
        problems.push(problem.expected("`set:` with `rules:`, or `amendment:` with what it changes"));
        return;
    }
    let Some(mut fields) = Fields::of(node, "rule file", problems) else { return };
    let named = fields.need("set", problems);
    let set = named.and_then(|node| node.text("set", problems));
    let about = fields.need("about", problems).and_then(|node| node.text("about", problems));
    let settings =
        fields.take("settings").and_then(|node| node.map("settings", problems)).unwrap_or_default();
    let tables = fields.take("tables").and_then(|node| node.map("tables", problems)).unwrap_or_default();
    let listed =
        fields.need("rules", problems).and_then(|node| node.list("rules", problems)).unwrap_or_default();
    fields.finish(problems);
    let (Some(named), Some(set)) = (named, set) else { return };
    if let Some(other) = rules.sets.iter().find(|it| slug(&it.name) == slug(set)) {
        let problem = named.problem(format!("is the name of another set of rules ({})", other.place));
        problems.push(problem.expected("a name of its own, so that each rule has its own number"));
        return;
    }
    let about = about.unwrap_or_default().into();
    rules.sets.push(Set { name: set.into(), about, place: node.place.clone() });
    for (key, node) in settings {
        let slot = rules.next_slot(first);
        rules.settings.extend(Setting::read(set, key, node, slot, facts, problems));
    }
    read_tables(set, tables, None, facts, first, rules, problems);
    read_rules(set, listed, facts, rules, None, problems);
}

/// Reads the rules of a set or of an amendment and adds them.
pub(super) fn read_rules(
    set: &str,
    listed: &[Node],
    facts: &dyn Names,
    rules: &mut Rules,
    added_by: Option<&Amended>,
    problems: &mut Diagnostics,
) {
    for (index, node) in listed.iter().enumerate() {
        let names = AllNames::of(facts, rules);
        let number = format!("{} {}", capital(set), index + 1);
        let Some(mut rule) = read_rule(set, &number, node, &names, problems) else { continue };
        rule.added = added_by.map(|it| it.at(&rule.place));
        if rules.rule(&rule.id).is_some() {
            problems
                .push(Diagnostic::new(rule.place.clone(), "is an id that another rule has").text(&*rule.id));
        } else {
            rules.rules.push(rule);
        }
    }
}

fn read_rule(
    set: &str,
    number: &str,
    node: &Node,
    names: &AllNames<'_>,
    problems: &mut Diagnostics,
) -> Option<Rule> {
    let before = problems.len();
    let mut fields = Fields::of(node, "rule", problems)?;
    let id = fields.need("id", problems).and_then(|node| node.text("id", problems));
    let line = |key, fields: &mut Fields<'_>, problems: &mut Diagnostics| -> Option<Arc<str>> {
        fields.need(key, problems).and_then(|node| node.text(key, problems)).map(Into::into)
    };
    let title = line("title", &mut fields, problems);
    let why = line("why", &mut fields, problems);
    let basis = fields.need("basis", problems).and_then(|node| node.one_of("basis", &Basis::WORDS, problems));
    let applies = fields.take("applies").map(|node| program(node, names, problems));
    let needs = fields.need("needs", problems).and_then(|node| program(node, names, problems));
    let outcome = fields
        .need("outcome", problems)
        .and_then(|node| node.one_of("outcome", &Outcome::WORDS[..3], problems));
    let once = fields
        .take("once")
        .and_then(|node| node.yes_no("it is one note for the job", problems))
        .unwrap_or(false);
    let says = fields.need("says", problems).and_then(|node| template(node, names, problems));
    let remedy = fields.take("remedy").map(|node| template(node, names, problems));
    let see = fields.take("see").and_then(|node| node.list("see", problems)).unwrap_or_default();
    let see: Vec<Arc<str>> =
        see.iter().filter_map(|node| node.text("see", problems)).map(Into::into).collect();
    let cases =
        fields.need("cases", problems).and_then(|node| node.list("cases", problems)).unwrap_or_default();
    let cases: Vec<Case> = cases.iter().filter_map(|node| read_case(node, names, problems)).collect();
    fields.finish(problems);
    let outcome = outcome?;
    if problems.len() == before {
        for wanted in [Outcome::NoComment, outcome] {
            if !cases.iter().any(|case| case.gives == wanted) {
                let what = format!("the rule has no case that gives \"{}\"", wanted.word());
                let expected = "one that says so below `cases:`, so that the rule can be tried";
                problems.push(Diagnostic::new(node.place.clone(), what).expected(expected));
            }
        }
    }
    if problems.len() > before {
        return None;
    }
    Some(Rule {
        id: format!("{set}/{}", id?).into(),
        number: number.into(),
        title: title?,
        basis: basis?,
        why: why?,
        applies: applies.flatten(),
        needs: needs?,
        outcome,
        once,
        says: says?,
        remedy: remedy.flatten(),
        see,
        cases,
        place: node.place.clone(),
        added: None,
        changes: Vec::new(),
    })
}

fn read_case(node: &Node, names: &AllNames<'_>, problems: &mut Diagnostics) -> Option<Case> {
    let mut fields = Fields::of(node, "case", problems)?;
    let name = fields.need("name", problems).and_then(|node| node.text("name", problems));
    let given = fields.need("given", problems).and_then(|node| node.map("given", problems));
    let gives =
        fields.need("gives", problems).and_then(|node| node.one_of("outcome", &Outcome::WORDS, problems));
    fields.finish(problems);
    let before = problems.len();
    let mut values = Vec::new();
    for (key, node) in given? {
        match names.find(&key.text) {
            Some((slot, ty)) => values.extend(value(node, &ty, problems).map(|value| (slot, value))),
            None => {
                let all = names.all();
                let problem = Diagnostic::new(key.place.clone(), "is not a known name").text(&key.text);
                problems.push(problem.nearest(&key.text, all.iter().map(String::as_str)));
            }
        }
    }
    (problems.len() == before).then_some(())?;
    Some(Case { name: name?.into(), given: values, gives: gives?, place: node.place.clone() })
}

/// Reads a value of a type as a rule file writes it. `16 °F to 20 °F` gives a quantity with a band.
fn value(node: &Node, ty: &Type, problems: &mut Diagnostics) -> Option<Value> {
    let text = node.text("value", problems)?;
    match ty {
        Type::Quantity(measure) => {
            let how = Written { band: true, ..Written::default() };
            let read = units::parse_as(text, *measure, how).map(Value::Quantity);
            read.map_err(|refused| problems.push(refused.at(node.place.clone(), text))).ok()
        }
        Type::YesNo => node.yes_no("it is so", problems).map(Value::YesNo),
        Type::Text => Some(Value::Text(text.into())),
        Type::OneOf(words) => {
            let words: Vec<(&str, &str)> = words.iter().map(|it| (*it, *it)).collect();
            node.one_of("value", &words, problems).map(|it| Value::Text(it.into()))
        }
        Type::List(_) => {
            problems.push(node.problem("is given for a list, which a case cannot set"));
            None
        }
    }
}

fn program(node: &Node, names: &dyn Names, problems: &mut Diagnostics) -> Option<Program> {
    let text = node.text("expression", problems)?;
    Program::check(text, &inside(node), names).map_err(|found| problems.extend(found)).ok()
}

pub(super) fn template(node: &Node, names: &dyn Names, problems: &mut Diagnostics) -> Option<Template> {
    let text = node.text("wording", problems)?;
    Template::check(text, &inside(node), names).map_err(|found| problems.extend(found)).ok()
}

/// Where the text of a scalar starts: after its quote.
fn inside(node: &Node) -> Location {
    let mut place = node.place.clone();
    if let (Position::Line(_, column), true) = (&mut place.spot, node.quoted) {
        *column += 1;
    }
    place
}
