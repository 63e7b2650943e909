//! Amendments: a region's, company's or job's changes to the rules before it.

use super::change::change_rule;
use super::read::read_rules;
use super::tables::{change_tables, is_new, read_tables};
use super::{Amended, Amendment, Basis, Brought, Dropped, Level, Note, Noted, ReviseOn, Rules};
use crate::diag::{Diagnostic, Diagnostics, nearest, shortened};
use crate::expr::{Names, same_text};
use crate::input::{Fields, Key, Kind, Node};
use std::sync::Arc;

/// What has to be known of an amendment before it is read.
pub(super) struct Header {
    /// What it is called where it does not say.
    pub called: Option<Arc<str>>,
    /// For whom it speaks.
    pub level: Level,
}

impl Header {
    pub fn of(it: &Brought, problems: &mut Diagnostics) -> Self {
        let entries: &[(Key, Node)] = if let Kind::Map(entries) = &it.node.kind { entries } else { &[] };
        let said = entries.iter().find(|(key, node)| key.text == "level" && !node.is_null());
        let level = said.and_then(|(_, node)| {
            let level = node.one_of("level", &Level::WORDS, problems)?;
            if it.called.is_some() && level != it.level {
                let problem = node.problem("is not the level of an amendment written in a job");
                problems.push(problem.expected("job, or a file of its own for who else speaks"));
            }
            Some(level)
        });
        Self { called: it.called.clone(), level: level.unwrap_or(it.level) }
    }
}

/// Reads an amendment and applies it. A name that matches nothing is a problem.
pub(super) fn read(
    node: &Node,
    header: Header,
    facts: &dyn Names,
    first: u16,
    rules: &mut Rules,
    problems: &mut Diagnostics,
) {
    let Some(mut fields) = Fields::of(node, "amendment", problems) else { return };
    let said = match &header.called {
        Some(_) => fields.take("amendment"),
        None => fields.need("amendment", problems),
    };
    let named = said.and_then(|node| node.text("amendment", problems));
    let about = fields.take("about").and_then(|node| node.text("about", problems)).map(Into::into);
    // Read with the header, before the amendments were put in order.
    fields.take("level");
    let revise_on = fields.take("revise_on");
    let entries = |key, fields: &mut Fields<'_>, problems: &mut Diagnostics| {
        fields.take(key).and_then(|node| node.map(key, problems).map(<[_]>::to_vec)).unwrap_or_default()
    };
    let settings = entries("settings", &mut fields, problems);
    let tables = entries("tables", &mut fields, problems);
    let change = entries("change", &mut fields, problems);
    let drop = entries("drop", &mut fields, problems);
    let add = fields.take("add").and_then(|node| node.list("add", problems)).unwrap_or_default();
    fields.finish(problems);
    let Some(name) = named.map(Arc::from).or(header.called) else { return };
    let place = said.map_or_else(|| node.place.clone(), |it| it.place.clone());
    let by = Amended { by: name, level: header.level, place };
    is_a_name(&by, rules, problems);
    let nothing = settings.is_empty()
        && tables.is_empty()
        && change.is_empty()
        && drop.is_empty()
        && add.is_empty()
        && revise_on.is_none();
    if nothing {
        rules.notes.push(Note { by: by.clone(), what: Noted::Nothing });
    }
    if let Some(node) = revise_on {
        revise(node, &by, rules, problems);
    }
    for (key, node) in &settings {
        let known: Vec<String> = rules.settings.iter().map(|it| it.name.to_string()).collect();
        match rules.settings.iter_mut().find(|it| *it.name == *key.text) {
            Some(setting) => setting.change(node, &by, problems),
            None => problems.push(unmatched(key, "setting", &known)),
        }
    }
    let (new, replaced): (Vec<_>, Vec<_>) = tables.into_iter().partition(|(key, _)| is_new(key));
    read_tables(&slug(&by.by), &new, Some(&by), facts, first, rules, problems);
    change_tables(&replaced, &by, facts, rules, problems);
    for (key, node) in &change {
        change_rule(key, node, facts, rules, &by, problems);
    }
    for (key, node) in &drop {
        drop_rule(key, node, rules, &by, problems);
    }
    read_rules(&by.by, add, facts, rules, Some(&by), problems);
    rules.amendments.push(Amendment { name: by.by, about, level: by.level, place: by.place });
}

/// A name of its own that can stand before the slash of an id.
fn is_a_name(by: &Amended, rules: &Rules, problems: &mut Diagnostics) {
    if by.by.contains('/') || by.by.trim().is_empty() {
        let problem = Diagnostic::new(by.place.clone(), "is not a name an amendment can have").text(&*by.by);
        problems.push(problem.expected("words without a slash"));
    }
    if let Some(other) = rules.amendments.iter().find(|it| slug(&it.name) == slug(&by.by)) {
        let what = format!("is the name of another amendment ({})", other.place);
        let problem = Diagnostic::new(by.place.clone(), what).text(&*by.by);
        problems.push(problem.expected("a name of its own, so that reports can tell the two apart"));
    }
    if let Some(set) = rules.sets.iter().find(|it| slug(&it.name) == slug(&by.by)) {
        let what = format!("is the name of a set of rules ({})", set.place);
        let problem = Diagnostic::new(by.place.clone(), what).text(&*by.by);
        problems.push(problem.expected("a name of its own, so that each rule has its own number"));
    }
}

/// The bases of `revise_on`: at least one, or no rule could ask for a revision.
pub(crate) fn bases(node: &Node, problems: &mut Diagnostics) -> Option<Vec<Basis>> {
    let list = node.list("revise_on", problems)?;
    if list.is_empty() {
        let words: Vec<&str> = Basis::WORDS.iter().map(|(word, _)| *word).collect();
        let problem = Diagnostic::new(node.place.clone(), "revise_on names no basis");
        problems.push(problem.expected(format!("at least one of {}", words.join(", "))));
        return None;
    }
    Some(list.iter().filter_map(|node| node.one_of("basis", &Basis::WORDS, problems)).collect())
}

fn revise(node: &Node, by: &Amended, rules: &mut Rules, problems: &mut Diagnostics) {
    let Some(bases) = bases(node, problems) else { return };
    let by = by.at(&node.place);
    let above = rules.revise_on.as_ref().map(|it| &it.by).filter(|it| by.overrules(it));
    if let Some(above) = above.cloned() {
        rules.notes.push(Note { by: by.clone(), what: Noted::RevisesOnAfter { above } });
    }
    rules.revise_on = Some(ReviseOn { bases, by });
}

fn drop_rule(key: &Key, node: &Node, rules: &mut Rules, by: &Amended, problems: &mut Diagnostics) {
    let reason = node.text("reason", problems).filter(|it| {
        let told = !it.trim().is_empty();
        if !told {
            problems.push(Diagnostic::new(key.place.clone(), "is dropped without a reason").text(&key.text));
        }
        told
    });
    let Some(index) = rules.rules.iter().position(|it| *it.id == *key.text) else {
        problems.push(no_rule(key, rules));
        return;
    };
    let Some(reason) = reason else { return };
    let rule = rules.rules.remove(index);
    let by = by.at(&key.place);
    let number = rule.number.clone();
    let mut note = |what| rules.notes.push(Note { by: by.clone(), what });
    if let Some(above) = rule.touched_above(&by) {
        note(Noted::DropsAfter { number: number.clone(), above });
    }
    if rule.basis == Basis::AdoptedCode && rule.is_of_base() {
        note(Noted::DropsCode { number: number.clone() });
    }
    rules.dropped.push(Dropped { rule: rule.id, number, reason: reason.into(), by });
}

/// A rule that there is not, with the one that may be meant: by its id without its set, or by its number.
pub(super) fn no_rule(key: &Key, rules: &Rules) -> Diagnostic {
    let ids: Vec<String> = rules.rules.iter().map(|it| it.id.to_string()).collect();
    let wanted = key.text.trim();
    let mut problem = unmatched(key, "rule", &ids);
    if let Some(rule) = rules.rules.iter().find(|it| same_text(&it.number, wanted)) {
        problem.nearest = Some(rule.id.to_string());
    } else if let Some(gone) = rules.dropped.iter().find(|it| *it.rule == *key.text) {
        let what = format!("is no longer there: {} has dropped it ({})", gone.by.by, gone.by.place);
        problem = Diagnostic::new(key.place.clone(), what).text(wanted);
    }
    problem
}

/// A name that there is not, with the nearest: as a whole, or by what stands behind its slash.
pub(super) fn unmatched(key: &Key, what: &str, names: &[String]) -> Diagnostic {
    let wanted = key.text.trim();
    let problem = Diagnostic::new(key.place.clone(), format!("there is no {what} \"{}\"", shortened(wanted)));
    let mut problem = problem.nearest(wanted, names.iter().map(String::as_str));
    let tail = |name: &str| name.rsplit_once('/').map(|(_, tail)| tail.to_owned());
    let tails: Vec<String> = names.iter().filter_map(|it| tail(it)).collect();
    let exact = tails.iter().find(|it| same_text(it, wanted));
    let close = || {
        let alone = problem.nearest.is_none() && !wanted.contains('/');
        alone.then(|| nearest(wanted, tails.iter().map(String::as_str)))?.map(str::to_owned)
    };
    if let Some(meant) = exact.cloned().or_else(close) {
        problem.nearest = names.iter().find(|it| tail(it).as_deref() == Some(&*meant)).cloned();
    }
    problem
}

/// The name of an amendment as expressions write it before a slash: `North County` is `north_county`.
pub(super) fn slug(name: &str) -> String {
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
