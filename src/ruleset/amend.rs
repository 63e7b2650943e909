//! Amendments: a region's, company's or job's changes to the rules before it.

use super::change::change_rule;
use super::read::read_rules;
use super::tables::{change_tables, is_new, read_tables};
use super::{Amended, Amendment, Basis, Brought, Dropped, Level, Note, Noted, ReviseOn, Rules};
use crate::diag::Problem;
use crate::expr::Names;
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
    pub fn of(it: &Brought, problems: &mut Vec<Problem>) -> Self {
        let entries: &[(Key, Node)] = if let Kind::Map(entries) = &it.node.kind { entries } else { &[] };
        let said = entries.iter().find(|(key, node)| key.text == "level" && !node.is_null());
        let level = said.and_then(|(_, node)| node.one_of("level", &Level::WORDS, problems));
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
    problems: &mut Vec<Problem>,
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
    let entries = |key, fields: &mut Fields<'_>, problems: &mut Vec<Problem>| {
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
fn is_a_name(by: &Amended, rules: &Rules, problems: &mut Vec<Problem>) {
    if by.by.contains('/') || by.by.trim().is_empty() {
        let problem = Problem::new(by.place.clone(), "is not a name an amendment can have").text(&*by.by);
        problems.push(problem.expected("words without a slash"));
    }
    if let Some(other) = rules.amendments.iter().find(|it| it.name.eq_ignore_ascii_case(&by.by)) {
        let what = format!("is the name of another amendment ({})", other.place);
        let problem = Problem::new(by.place.clone(), what).text(&*by.by);
        problems.push(problem.expected("a name of its own, so that reports can tell the two apart"));
    }
}

fn revise(node: &Node, by: &Amended, rules: &mut Rules, problems: &mut Vec<Problem>) {
    let Some(list) = node.list("revise_on", problems) else { return };
    let bases = list.iter().filter_map(|node| node.one_of("basis", &Basis::WORDS, problems)).collect();
    let by = by.at(&node.place);
    let above = rules.revise_on.as_ref().map(|it| &it.by).filter(|it| by.overrules(it));
    if let Some(above) = above.cloned() {
        rules.notes.push(Note { by: by.clone(), what: Noted::RevisesOnAfter { above } });
    }
    rules.revise_on = Some(ReviseOn { bases, by });
}

fn drop_rule(key: &Key, node: &Node, rules: &mut Rules, by: &Amended, problems: &mut Vec<Problem>) {
    let reason = node.text("reason", problems).filter(|it| {
        let told = !it.trim().is_empty();
        if !told {
            problems.push(Problem::new(key.place.clone(), "is dropped without a reason").text(&key.text));
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
    if rule.basis == Basis::AdoptedCode && rule.is_of_base() && by.level > Level::Region {
        note(Noted::DropsCode { number: number.clone() });
    }
    rules.dropped.push(Dropped { rule: rule.id, number, reason: reason.into(), by });
}

/// A rule that there is not, with the one that may be meant: by its id without its set, or by its number.
pub(super) fn no_rule(key: &Key, rules: &Rules) -> Problem {
    let ids: Vec<String> = rules.rules.iter().map(|it| it.id.to_string()).collect();
    let mut problem = unmatched(key, "rule", &ids);
    let wanted = key.text.trim();
    let meant = rules.rules.iter().find(|it| {
        let tail = it.id.rsplit_once('/').map_or("", |(_, tail)| tail);
        tail.eq_ignore_ascii_case(wanted) || it.number.eq_ignore_ascii_case(wanted)
    });
    if let Some(rule) = meant {
        problem.nearest = Some(rule.id.to_string());
    } else if let Some(gone) = rules.dropped.iter().find(|it| *it.rule == *key.text) {
        problem.what = format!("is no longer there: {} has dropped it ({})", gone.by.by, gone.by.place);
        problem.nearest = None;
    } else if problem.nearest.is_none() && !wanted.contains('/') {
        let tails = rules.rules.iter().filter_map(|it| it.id.rsplit_once('/').map(|(_, tail)| tail));
        let near = Problem::new(key.place.clone(), "").nearest(wanted, tails).nearest;
        let rule = near.and_then(|near| rules.rules.iter().find(|it| it.id.ends_with(&format!("/{near}"))));
        problem.nearest = rule.map(|it| it.id.to_string());
    }
    problem
}

pub(super) fn unmatched(key: &Key, what: &str, names: &[String]) -> Problem {
    let problem = Problem::new(key.place.clone(), format!("is no {what} there is")).text(&key.text);
    problem.nearest(&key.text, names.iter().map(String::as_str))
}

/// The name of an amendment as expressions write it before a slash: `North County` is `north_county`.
fn slug(name: &str) -> String {
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
