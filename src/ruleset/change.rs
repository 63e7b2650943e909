//! What an amendment changes in a rule: what it says and how grave it is, not what it checks.

use super::amend::no_rule;
use super::layers::{Amended, Change, Note, Noted, Part};
use super::read::template;
use super::{AllNames, Basis, Outcome, Rule, Rules};
use crate::diag::{Diagnostic, Diagnostics};
use crate::expr::{Names, Template};
use crate::input::{Fields, Key, Kind, Node};
use std::sync::Arc;

/// Keys that say what a rule checks: a rule that checks something else is another rule.
const CHECKED: [&str; 5] = ["id", "basis", "applies", "needs", "cases"];

/// New parts of a rule, each with its node.
struct Parts<'n> {
    outcome: Option<(&'n Node, Outcome)>,
    says: Option<(&'n Node, Template)>,
    remedy: Option<(&'n Node, Template)>,
    title: Option<(&'n Node, Arc<str>)>,
    why: Option<(&'n Node, Arc<str>)>,
    see: Option<(&'n Node, Vec<Arc<str>>)>,
    once: Option<(&'n Node, bool)>,
}

/// Changes a rule as an entry of `change:` says.
pub(super) fn change_rule(
    key: &Key,
    node: &Node,
    facts: &dyn Names,
    rules: &mut Rules,
    by: &Amended,
    problems: &mut Diagnostics,
) {
    let Some(index) = rules.rules.iter().position(|it| *it.id == *key.text) else {
        problems.push(no_rule(key, rules));
        return;
    };
    let before = problems.len();
    let Some(parts) = Parts::read(node, &AllNames::of(facts, rules), problems) else { return };
    let rule = &mut rules.rules[index];
    let (number, from, known) = (rule.number.clone(), rule.outcome, rule.changes.len());
    let above = rule.touched_above(by);
    parts.put(rule, by);
    let to = rule.outcome;
    if problems.len() == before && rule.changes.len() == known {
        let problem = Diagnostic::new(key.place.clone(), "is changed in nothing").text(&key.text);
        problems.push(problem.expected("outcome, says, remedy, title, why, see or once"));
        return;
    }
    let lowers_code = rule.basis == Basis::AdoptedCode && rule.is_of_base() && to > from;
    let by = by.at(&key.place);
    if let Some(above) = above {
        rules
            .notes
            .push(Note { by: by.clone(), what: Noted::ChangesAfter { number: number.clone(), above } });
    }
    if lowers_code {
        rules.notes.push(Note { by, what: Noted::LowersCode { number, from, to } });
    }
}

impl<'n> Parts<'n> {
    fn read(node: &'n Node, names: &dyn Names, problems: &mut Diagnostics) -> Option<Self> {
        let mut fields = Fields::of(node, "change", problems)?;
        let text = |key, fields: &mut Fields<'n>, problems: &mut Diagnostics| {
            let node = fields.take(key)?;
            Some((node, Arc::from(node.text(key, problems)?)))
        };
        let wording = |key, fields: &mut Fields<'n>, problems: &mut Diagnostics| {
            let node = fields.take(key)?;
            Some((node, template(node, names, problems)?))
        };
        let outcome = fields
            .take("outcome")
            .and_then(|node| Some((node, node.one_of("outcome", &Outcome::WORDS[..3], problems)?)));
        let parts = Self {
            outcome,
            says: wording("says", &mut fields, problems),
            remedy: wording("remedy", &mut fields, problems),
            title: text("title", &mut fields, problems),
            why: text("why", &mut fields, problems),
            see: fields.take("see").and_then(|node| {
                let list = node.list("see", problems)?;
                let see = list.iter().filter_map(|it| it.text("see", problems)).map(Arc::from);
                Some((node, see.collect()))
            }),
            once: fields
                .take("once")
                .and_then(|node| Some((node, node.yes_no("it is one note for the job", problems)?))),
        };
        let Kind::Map(entries) = &node.kind else { return Some(parts) };
        for (key, _) in entries.iter().filter(|(key, _)| CHECKED.contains(&key.text.as_str())) {
            fields.take(CHECKED.into_iter().find(|it| *it == key.text).unwrap_or_default());
            let what = "cannot be changed: a rule that checks something else is another rule";
            let problem = Diagnostic::new(key.place.clone(), what).text(&key.text);
            problems.push(
                problem.expected("the rule under `drop:` with a reason, and one of your own under `add:`"),
            );
        }
        fields.finish(problems);
        Some(parts)
    }

    /// Takes the place of the parts of a rule, and remembers what they were.
    fn put(self, rule: &mut Rule, by: &Amended) {
        let mut changed = |part, was: &str, is: &str, node: &Node| {
            rule.changes.push(Change { part, was: was.into(), is: is.into(), by: by.at(&node.place) });
        };
        let yes_no = |it: bool| if it { "yes" } else { "no" };
        if let Some((node, outcome)) = self.outcome {
            changed(Part::Outcome, rule.outcome.word(), outcome.word(), node);
            rule.outcome = outcome;
        }
        if let Some((node, says)) = self.says {
            changed(Part::Says, rule.says.text(), says.text(), node);
            rule.says = says;
        }
        if let Some((node, remedy)) = self.remedy {
            changed(Part::Remedy, rule.remedy.as_ref().map_or("", |it| it.text()), remedy.text(), node);
            rule.remedy = Some(remedy);
        }
        if let Some((node, title)) = self.title {
            changed(Part::Title, &rule.title, &title, node);
            rule.title = title;
        }
        if let Some((node, why)) = self.why {
            changed(Part::Why, &rule.why, &why, node);
            rule.why = why;
        }
        if let Some((node, see)) = self.see {
            changed(Part::See, &rule.see.join("; "), &see.join("; "), node);
            rule.see = see;
        }
        if let Some((node, once)) = self.once {
            changed(Part::Once, yes_no(rule.once), yes_no(once), node);
            rule.once = once;
        }
    }
}

impl Rule {
    /// Whether it comes from the sets and not from an amendment.
    pub(super) fn is_of_base(&self) -> bool {
        self.added.is_none()
    }

    /// The last amendment above this one that added or changed it.
    pub(super) fn touched_above(&self, by: &Amended) -> Option<Amended> {
        let mut touched = self.added.iter().chain(self.changes.iter().map(|it| &it.by));
        touched.rfind(|it| by.overrules(it)).cloned()
    }
}
