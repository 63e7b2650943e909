//! Amendments: changes to the rules by a region, a company or a job.

use super::error::{RuleError, unknown};
use super::loader::Loader;
use super::{AmendedBy, Amendment, Basis, Dropped, Figure, Level, Note, Noted, ReviseOn, Rule, RuleSource};
use crate::diag::{Diagnostic, Diagnostics};
use crate::expr::same_text;
use crate::input::{Fields, Key, Kind, Node};
use std::sync::Arc;

/// What must be known of an amendment before it is read.
pub(super) struct Header {
    /// The name used if the file states none.
    pub default_name: Option<Arc<str>>,
    /// Its level.
    pub level: Level,
}

impl Header {
    pub fn of(source: &RuleSource, errors: &mut Diagnostics) -> Self {
        let level = source.stated("level").and_then(|node| {
            let level = node.one_of("level", &Level::WORDS, errors)?;
            if source.default_name.is_some() && level != source.level {
                errors.push(RuleError::LevelInJob.at(node));
            }
            Some(level)
        });
        Self { default_name: source.default_name.clone(), level: level.unwrap_or(source.level) }
    }
}

impl Loader<'_> {
    /// Reads an amendment and applies it. An unknown name is an error.
    pub(super) fn read_amendment(&mut self, node: &Node, header: Header) {
        let errors = &mut self.errors;
        let Some(mut fields) = Fields::of(node, "amendment", errors) else { return };
        let name_node = match &header.default_name {
            Some(_) => fields.optional("amendment"),
            None => fields.required("amendment", errors),
        };
        let name = name_node.and_then(|node| node.text("amendment", errors));
        let about = fields.optional_text("about", errors).map(Into::into);
        // Read with the header, before the amendments were put in order.
        fields.optional("level");
        let revise_on = fields.optional("revise_on");
        // The job reads them, whose authority and code they are.
        let stated: Vec<(&str, &Node)> =
            ["authority", "code"].into_iter().filter_map(|key| Some((key, fields.optional(key)?))).collect();
        let settings = fields.optional_map("settings", errors);
        let tables = fields.optional_map("tables", errors);
        let changes = fields.optional_map("change", errors);
        let drops = fields.optional_map("drop", errors);
        let adds = fields.optional_list("add", errors);
        fields.finish(errors);
        let Some(name) = name.map(Arc::from).or(header.default_name) else { return };
        let location = name_node.map_or_else(|| node.location.clone(), |node| node.location.clone());
        let by = AmendedBy { name, level: header.level, location };
        self.check_name(&by);
        let maps = [settings, tables, changes, drops];
        let is_empty = maps.iter().all(|map| map.is_empty()) && adds.is_empty();
        if is_empty && revise_on.is_none() && stated.is_empty() {
            self.rules.notes.push(Note { by: by.clone(), what: Noted::Nothing });
        }
        if let Some(node) = revise_on {
            self.revise_on(node, &by);
        }
        for (key, node) in stated {
            self.rules.stated.extend(figures(key, node).into_iter().map(|(what, is)| Figure {
                what,
                is,
                by: by.at(&node.location),
            }));
        }
        for (key, node) in settings {
            match self.rules.settings.iter_mut().find(|setting| *setting.name == *key.text) {
                Some(setting) => setting.change(node, &by, &mut self.errors),
                None => {
                    let names = self.rules.settings.iter().map(|setting| &setting.name);
                    self.errors.push(unknown(key, "setting", names));
                }
            }
        }
        // A table with a slash in its name replaces another.
        let is_new = |(key, _): &&(Key, Node)| !key.text.contains('/');
        self.read_tables(&slug(&by.name), tables.iter().filter(is_new), Some(&by));
        for (key, node) in tables.iter().filter(|table| !is_new(table)) {
            self.replace_table(key, node, &by);
        }
        for (key, node) in changes {
            self.change_rule(key, node, &by);
        }
        for (key, node) in drops {
            self.drop_rule(key, node, &by);
        }
        self.read_rules(&by.name, adds, Some(&by));
        self.rules.amendments.push(Amendment {
            name: by.name,
            about,
            level: by.level,
            location: by.location,
        });
    }

    /// Reports a name that is already taken, or that cannot be the prefix of an id.
    fn check_name(&mut self, by: &AmendedBy) {
        let mut report =
            |error: RuleError<'_>| self.errors.push(error.at_location(&by.location).text(&*by.name));
        if by.name.contains('/') || by.name.trim().is_empty() {
            report(RuleError::NotAnAmendmentName);
        }
        if let Some(other) = self.rules.amendments.iter().find(|it| slug(&it.name) == slug(&by.name)) {
            report(RuleError::DuplicateAmendment(&other.location));
        }
        if let Some(set) = self.rules.sets.iter().find(|set| slug(&set.name) == slug(&by.name)) {
            report(RuleError::AmendmentNamedAsSet(&set.location));
        }
    }

    fn revise_on(&mut self, node: &Node, by: &AmendedBy) {
        let Some(bases) = bases(node, &mut self.errors) else { return };
        let by = by.at(&node.location);
        let above = self.rules.revise_on.as_ref().map(|it| &it.by).filter(|it| by.overrules(it));
        if let Some(above) = above.cloned() {
            self.rules.notes.push(Note { by: by.clone(), what: Noted::RevisesOnAfter { above } });
        }
        self.rules.revise_on = Some(ReviseOn { bases, by });
    }

    fn drop_rule(&mut self, key: &Key, node: &Node, by: &AmendedBy) {
        let reason = node.text("reason", &mut self.errors);
        if reason.is_some_and(|reason| reason.trim().is_empty()) {
            self.errors.push(RuleError::DroppedWithoutReason.at_key(key));
        }
        let Some(index) = self.rule_named(key) else {
            return self.errors.push(self.unknown_rule(key));
        };
        let Some(reason) = reason.filter(|reason| !reason.trim().is_empty()) else { return };
        let rule = self.rules.rules.remove(index);
        let by = by.at(&key.location);
        let number = rule.number.clone();
        let mut note = |what| self.rules.notes.push(Note { by: by.clone(), what });
        if let Some(above) = rule.touched_above(&by) {
            note(Noted::DropsAfter { number: number.clone(), above });
        }
        if rule.is_of_code() && by.level != Level::Code {
            note(Noted::DropsCode { number: number.clone() });
        }
        self.rules.dropped.push(Dropped { rule: rule.id, number, reason: reason.into(), by });
    }

    /// The index of a rule, by its id or its number.
    pub(super) fn rule_named(&self, key: &Key) -> Option<usize> {
        let is_named = |rule: &Rule| *rule.id == *key.text || same_text(&rule.number, &key.text);
        self.rules.rules.iter().position(is_named)
    }

    /// The error for an unknown rule. Suggests the rule probably meant.
    pub(super) fn unknown_rule(&self, key: &Key) -> Diagnostic {
        let rules = &self.rules;
        let error = unknown(key, "rule", rules.rules.iter().map(|rule| &rule.id));
        let is_dropped = |it: &&Dropped| *it.rule == *key.text || same_text(&it.number, &key.text);
        match rules.dropped.iter().find(is_dropped) {
            Some(dropped) => RuleError::AlreadyDropped(&dropped.by).at_key(key),
            None => error,
        }
    }
}

/// The bases of `revise_on`: at least one, or no rule could require a revision.
pub(crate) fn bases(node: &Node, errors: &mut Diagnostics) -> Option<Vec<Basis>> {
    let list = node.list("revise_on", errors)?;
    if list.is_empty() {
        errors.push(RuleError::NoBasis.at(node));
        return None;
    }
    Some(list.iter().filter_map(|node| node.one_of("basis", &Basis::WORDS, errors)).collect())
}

/// The figures under a key, each as it is written: `frost depth`, `42 in`. A code's name goes by the key.
fn figures(key: &str, node: &Node) -> Vec<(Arc<str>, Arc<str>)> {
    let all: Vec<(&str, &Node)> = match &node.kind {
        Kind::Map(entries) => entries.iter().map(|(own, node)| (&*own.text, node)).collect(),
        _ => vec![("name", node)],
    };
    let written = all.into_iter().filter_map(|(what, node)| match &node.kind {
        Kind::Scalar { text, .. } => {
            let what = if what == "name" { key } else { what };
            Some((what.replace('_', " ").into(), text.as_str().into()))
        }
        _ => None,
    });
    written.collect()
}

/// The name of an amendment as expressions write it before a slash: `North County` is `north_county`.
pub(crate) fn slug(name: &str) -> String {
    let mut slug = String::new();
    for letter in name.chars() {
        if letter.is_alphanumeric() || letter == '_' {
            slug.extend(letter.to_lowercase());
        } else if !slug.is_empty() && !slug.ends_with('_') {
            slug.push('_');
        }
    }
    slug.trim_end_matches('_').to_owned()
}
