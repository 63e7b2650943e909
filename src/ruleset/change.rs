//! Changes of a rule by an amendment: its wording, outcome and basis, not what it checks.

use super::error::RuleError;
use super::layers::{AmendedBy, Change, Note, Noted, Part};
use super::loader::Loader;
use super::read::{read_once, read_see, read_wording};
use super::{AllNames, Basis, Level, Outcome, Rule};
use crate::diag::Diagnostics;
use crate::expr::{Names, Template};
use crate::input::{Fields, Key, Kind, Node};
use std::sync::Arc;

/// Keys of what a rule checks: a rule that checks something else is another rule.
const CHECKED: [&str; 4] = ["id", "applies", "needs", "cases"];

impl Loader<'_> {
    /// Changes a rule as an entry of `change:` says.
    pub(super) fn change_rule(&mut self, key: &Key, node: &Node, by: &AmendedBy) {
        let Some(index) = self.rule_named(key) else {
            return self.errors.push(self.unknown_rule(key));
        };
        let before = self.errors.len();
        let mut rule = self.rules.rules[index].clone();
        let names = AllNames::of(self.facts, &self.rules);
        if rule.change(node, by, &names, &mut self.errors).is_none() {
            return;
        }
        let old = std::mem::replace(&mut self.rules.rules[index], rule);
        let rule = &self.rules.rules[index];
        if self.errors.len() == before && rule.changes.len() == old.changes.len() {
            return self.errors.push(RuleError::RuleUnchanged.at_key(key));
        }
        let lowers_code = by.level != Level::Code && rule.is_of_code() && rule.outcome > old.outcome;
        let leaves_code = by.level != Level::Code && old.is_of_code() && !rule.is_of_code();
        let (number, from, to) = (rule.number.clone(), old.outcome, rule.outcome);
        let by = by.at(&key.location);
        if let Some(above) = old.touched_above(&by) {
            let what = Noted::ChangesAfter { number: number.clone(), above };
            self.rules.notes.push(Note { by: by.clone(), what });
        }
        if lowers_code {
            self.rules.notes.push(Note { by, what: Noted::LowersCode { number, from, to } });
        } else if leaves_code {
            self.rules.notes.push(Note { by, what: Noted::LeavesCode { number } });
        }
    }
}

impl Rule {
    /// Replaces the parts that a node states and records what they were. `None` if the node is not a mapping.
    fn change(
        &mut self,
        node: &Node,
        by: &AmendedBy,
        names: &dyn Names,
        errors: &mut Diagnostics,
    ) -> Option<()> {
        let mut fields = Fields::of(node, "change", errors)?;
        if let Some(node) = fields.optional("outcome")
            && let Some(outcome) = node.one_of("outcome", &Outcome::WORDS[..3], errors)
        {
            let was = std::mem::replace(&mut self.outcome, outcome).word().into();
            self.record(Part::Outcome, was, outcome.word().into(), by, node);
        }
        if let Some(node) = fields.optional("basis")
            && let Some(basis) = node.one_of("basis", &Basis::WORDS, errors)
        {
            let was = std::mem::replace(&mut self.basis, basis).word().into();
            self.record(Part::Basis, was, basis.word().into(), by, node);
        }
        let wording = |template: &Template| Arc::from(template.text());
        if let Some(node) = fields.optional("says")
            && let Some(says) = read_wording(node, names, errors)
        {
            let is = wording(&says);
            // The summary would say what no longer holds.
            self.brief = None;
            let was = wording(&std::mem::replace(&mut self.says, says));
            self.record(Part::Says, was, is, by, node);
        }
        if let Some(node) = fields.optional("remedy")
            && let Some(remedy) = read_wording(node, names, errors)
        {
            let is = wording(&remedy);
            self.action = None;
            let was = self.remedy.replace(remedy).as_ref().map(wording).unwrap_or_default();
            self.record(Part::Remedy, was, is, by, node);
        }
        if let Some(node) = fields.optional("title")
            && let Some(title) = node.text("title", errors)
        {
            let was = std::mem::replace(&mut self.title, title.into());
            self.record(Part::Title, was, title.into(), by, node);
        }
        if let Some(node) = fields.optional("why")
            && let Some(why) = node.text("why", errors)
        {
            let was = std::mem::replace(&mut self.why, why.into());
            self.record(Part::Why, was, why.into(), by, node);
        }
        if let Some(node) = fields.optional("see")
            && let Some(nodes) = node.list("see", errors)
        {
            let was = std::mem::replace(&mut self.see, read_see(nodes, errors)).join("; ").into();
            self.record(Part::See, was, self.see.join("; ").into(), by, node);
        }
        if let Some(node) = fields.optional("once")
            && let Some(once) = read_once(node, errors)
        {
            let word = |once| Arc::from(if once { "yes" } else { "no" });
            let was = std::mem::replace(&mut self.once, once);
            self.record(Part::Once, word(was), word(once), by, node);
        }
        let Kind::Map(entries) = &node.kind else { return Some(()) };
        for (key, _) in entries {
            if let Some(checked) = CHECKED.into_iter().find(|checked| *checked == key.text) {
                fields.optional(checked);
                errors.push(RuleError::CheckCannotChange.at_key(key));
            }
        }
        fields.finish(errors);
        Some(())
    }

    fn record(&mut self, part: Part, was: Arc<str>, is: Arc<str>, by: &AmendedBy, node: &Node) {
        self.changes.push(Change { part, was, is, by: by.at(&node.location) });
    }

    /// The last amendment above this one that added or changed it.
    pub(super) fn touched_above(&self, by: &AmendedBy) -> Option<AmendedBy> {
        let mut touched = self.added.iter().chain(self.changes.iter().map(|change| &change.by));
        touched.rfind(|other| by.overrules(other)).cloned()
    }
}
