//! Reads sets of rules, and the rules that an amendment adds.

use super::amend::slug;
use super::error::RuleError;
use super::loader::Loader;
use super::settings::Setting;
use super::{AllNames, AmendedBy, Basis, Case, Outcome, Rule, Set};
use crate::diag::{Diagnostics, Location, Position, capital};
use crate::expr::{Condition, Names, Template, Type, Value};
use crate::input::{Fields, Kind, Node};
use crate::units::{self, ParseOptions};
use std::sync::Arc;

impl Loader<'_> {
    /// Reads a set: its settings, tables and rules.
    pub(super) fn read_set(&mut self, node: &Node) {
        if !matches!(&node.kind, Kind::Map(entries) if entries.iter().any(|(key, _)| key.text == "set")) {
            let file = Location::whole(&node.location.file);
            return self.errors.push(RuleError::NotARuleFile.at_location(&file));
        }
        let errors = &mut self.errors;
        let Some(mut fields) = Fields::of(node, "rule file", errors) else { return };
        let name_node = fields.required("set", errors);
        let name = name_node.and_then(|node| node.text("set", errors));
        let about = fields.required_text("about", errors).unwrap_or_default();
        let settings = fields.optional_map("settings", errors);
        let tables = fields.optional_map("tables", errors);
        let rules = fields.required_list("rules", errors).unwrap_or_default();
        fields.finish(errors);
        let (Some(name_node), Some(name)) = (name_node, name) else { return };
        if let Some(other) = self.rules.sets.iter().find(|set| slug(&set.name) == slug(name)) {
            return errors.push(RuleError::DuplicateSet(&other.location).at(name_node));
        }
        self.rules.sets.push(Set { name: name.into(), about: about.into(), location: node.location.clone() });
        for (key, node) in settings {
            let slot = self.next_slot();
            let setting = Setting::read(name, key, node, slot, self.facts, &mut self.errors);
            self.rules.settings.extend(setting);
        }
        self.read_tables(name, tables.iter(), None);
        self.read_rules(name, rules, None);
    }

    /// Reads the rules of a set or of an amendment.
    pub(super) fn read_rules(&mut self, set: &str, nodes: &[Node], added_by: Option<&AmendedBy>) {
        for (index, node) in nodes.iter().enumerate() {
            let Some(raw) = RawRule::read(node, &mut self.errors) else { continue };
            let names = AllNames::of(self.facts, &self.rules);
            let number = format!("{} {}", capital(set), index + 1);
            let Some(mut rule) = raw.check(set, &number, &names, &mut self.errors) else { continue };
            rule.added = added_by.map(|by| by.at(&rule.location));
            if self.rules.rule(&rule.id).is_some() {
                let error = RuleError::DuplicateRule.at_location(&rule.location);
                self.errors.push(error.text(&*rule.id));
            } else {
                self.rules.rules.push(rule);
            }
        }
    }
}

/// A rule as its file states it, its expressions and wordings not yet checked.
struct RawRule<'n> {
    node: &'n Node,
    id: Option<&'n str>,
    title: Option<&'n str>,
    basis: Option<Basis>,
    why: Option<&'n str>,
    applies: Option<&'n Node>,
    needs: Option<&'n Node>,
    outcome: Option<Outcome>,
    close: Option<Outcome>,
    once: bool,
    says: Option<&'n Node>,
    remedy: Option<&'n Node>,
    brief: Option<&'n Node>,
    action: Option<&'n Node>,
    see: Vec<Arc<str>>,
    cases: &'n [Node],
    has_errors: bool,
}

impl<'n> RawRule<'n> {
    fn read(node: &'n Node, errors: &mut Diagnostics) -> Option<Self> {
        let before = errors.len();
        let mut fields = Fields::of(node, "rule", errors)?;
        let mut raw = Self {
            node,
            id: fields.required_text("id", errors),
            title: fields.required_text("title", errors),
            why: fields.required_text("why", errors),
            basis: fields.required_choice("basis", &Basis::WORDS, errors),
            applies: fields.optional("applies"),
            needs: fields.required("needs", errors),
            outcome: fields.required_choice("outcome", &Outcome::WORDS[..3], errors),
            close: fields.optional_choice("close", &Outcome::WORDS[1..3], errors),
            once: fields.optional("once").and_then(|node| read_once(node, errors)).unwrap_or(false),
            says: fields.required("says", errors),
            remedy: fields.optional("remedy"),
            brief: fields.optional("brief"),
            action: fields.optional("do"),
            see: read_see(fields.optional_list("see", errors), errors),
            cases: fields.required_list("cases", errors).unwrap_or_default(),
            has_errors: false,
        };
        fields.finish(errors);
        raw.has_errors = errors.len() > before;
        Some(raw)
    }

    /// The checked rule, unless it has an error.
    fn check(self, set: &str, number: &str, names: &dyn Names, errors: &mut Diagnostics) -> Option<Rule> {
        let before = errors.len();
        let applies = self.applies.and_then(|node| read_condition(node, names, errors));
        let needs = self.needs.and_then(|node| read_condition(node, names, errors));
        let says = self.says.and_then(|node| read_wording(node, names, errors));
        let mut wording = |node: Option<&Node>| node.and_then(|node| read_wording(node, names, errors));
        let [remedy, brief, action] = [self.remedy, self.brief, self.action].map(&mut wording);
        let cases = self.cases.iter().filter_map(|node| Case::read(node, names, errors)).collect();
        if self.has_errors || errors.len() > before {
            return None;
        }
        let rule = Rule {
            id: format!("{set}/{}", self.id?).into(),
            number: number.into(),
            title: self.title?.into(),
            basis: self.basis?,
            why: self.why?.into(),
            applies,
            needs: needs?,
            outcome: self.outcome?,
            close: self.close,
            once: self.once,
            says: says?,
            remedy,
            brief,
            action,
            see: self.see,
            cases,
            location: self.node.location.clone(),
            added: None,
            changes: Vec::new(),
        };
        rule.has_its_cases(errors).then_some(rule)
    }
}

impl Rule {
    /// Reports each outcome without a case: no comment, and the rule's own.
    fn has_its_cases(&self, errors: &mut Diagnostics) -> bool {
        let mut outcomes = vec![Outcome::NoComment, self.outcome];
        outcomes.retain(|outcome| !self.cases.iter().any(|case| case.gives == *outcome));
        errors.extend(
            outcomes.iter().map(|outcome| RuleError::MissingCase(*outcome).at_location(&self.location)),
        );
        outcomes.is_empty()
    }
}

impl Case {
    fn read(node: &Node, names: &dyn Names, errors: &mut Diagnostics) -> Option<Self> {
        let before = errors.len();
        let mut fields = Fields::of(node, "case", errors)?;
        let name = fields.required_text("name", errors);
        let given = fields.required_map("given", errors).unwrap_or_default();
        let gives = fields.required("gives", errors);
        let gives = gives.and_then(|node| node.one_of("outcome", &Outcome::WORDS, errors));
        fields.finish(errors);
        let mut values = Vec::new();
        for (key, node) in given {
            match names.find(&key.text) {
                Some((slot, ty)) => values.extend(read_value(node, &ty, errors).map(|value| (slot, value))),
                None => {
                    let all = names.all();
                    let error = RuleError::UnknownName.at_key(key);
                    errors.push(error.nearest(&key.text, all.iter().map(String::as_str)));
                }
            }
        }
        (errors.len() == before).then_some(())?;
        Some(Self { name: name?.into(), given: values, gives: gives?, location: node.location.clone() })
    }
}

/// Reads a value of a type. `16 °F to 20 °F` is a quantity with a band.
fn read_value(node: &Node, ty: &Type, errors: &mut Diagnostics) -> Option<Value> {
    let text = node.text("value", errors)?;
    match ty {
        Type::Quantity(measure) => {
            let how = ParseOptions { band: true, ..ParseOptions::default() };
            let quantity = units::parse_with(text, *measure, how);
            errors.ok(quantity.map_err(|error| error.at(node.location.clone(), text))).map(Value::Quantity)
        }
        Type::YesNo => node.yes_no("it is so", errors).map(Value::YesNo),
        Type::Text => Some(Value::Text(text.into())),
        Type::OneOf(words) => {
            let words: Vec<(&str, &str)> = words.iter().map(|word| (*word, *word)).collect();
            node.one_of("value", &words, errors).map(|word| Value::Text(word.into()))
        }
        Type::List(_) => {
            errors.push(RuleError::ListInCase.at(node));
            None
        }
    }
}

pub(super) fn read_once(node: &Node, errors: &mut Diagnostics) -> Option<bool> {
    node.yes_no("it is one note for the job", errors)
}

pub(super) fn read_see(nodes: &[Node], errors: &mut Diagnostics) -> Vec<Arc<str>> {
    nodes.iter().filter_map(|node| node.text("see", errors)).map(Into::into).collect()
}

fn read_condition(node: &Node, names: &dyn Names, errors: &mut Diagnostics) -> Option<Condition> {
    let text = node.text("expression", errors)?;
    Condition::check(text, &inside(node), names).map_err(|found| errors.extend(found)).ok()
}

/// Reads a wording: a text of any number of sentences, or a list of sentences.
pub(super) fn read_wording(node: &Node, names: &dyn Names, errors: &mut Diagnostics) -> Option<Template> {
    let Kind::List(nodes) = &node.kind else {
        let text = node.text("wording", errors)?;
        return Template::check(text, &inside(node), names).map_err(|found| errors.extend(found)).ok();
    };
    if nodes.is_empty() {
        errors.push(RuleError::NoSentence.at(node));
        return None;
    }
    let sentences = nodes.iter().map(|node| {
        let text = node.text("sentence", errors)?;
        Template::check_sentence(text, &inside(node), names).map_err(|found| errors.extend(found)).ok()
    });
    // Every sentence, to find the errors of each.
    let sentences: Vec<Option<Template>> = sentences.collect();
    Some(Template::join(sentences.into_iter().collect::<Option<_>>()?))
}

/// The location of a scalar's text: without its quotes.
fn inside(node: &Node) -> Location {
    let mut location = node.location.clone();
    if let (Position::Line(span), true) = (&mut location.position, node.quoted) {
        span.start += 1;
        span.end = span.end.saturating_sub(1).max(span.start);
    }
    location
}
