//! Comments gathered: what is said alike of several outlets is said once.

use super::sentences::sentence;
use super::words::{either, lower};
use crate::expr::Value;
use crate::review::{Comment, Open, Review, RuleCard, Settled};
use crate::ruleset::Outcome;
use crate::units::{Show, System, figures};
use std::sync::Arc;

/// A comment and the outlets it is made of.
pub(super) struct Gathered<'r> {
    pub rule: &'r Arc<RuleCard>,
    pub outcome: Outcome,
    pub says: Option<String>,
    pub settle: Option<String>,
    pub remedy: Option<String>,
    /// Marks with their rows.
    pub outlets: Vec<(Arc<str>, u32)>,
}

/// All comments that say something, the gravest first, then in the order of the rules.
pub(super) fn gathered(review: &Review, system: System) -> Vec<Gathered<'_>> {
    let mut gathered: Vec<Gathered<'_>> = Vec::new();
    let order: Vec<&Arc<str>> = review
        .outlets
        .first()
        .map(|it| it.findings.comments.iter().map(|it| &it.rule.id).collect())
        .unwrap_or_default();
    let mut known: std::collections::BTreeMap<*const crate::review::Findings, Vec<usize>> =
        std::collections::BTreeMap::new();
    for outlet in &review.outlets {
        let who = (outlet.mark.clone(), outlet.place.row().unwrap_or(0));
        let places = known.entry(Arc::as_ptr(&outlet.findings)).or_insert_with(|| {
            let speaking = outlet.findings.comments.iter().filter(|it| speaks(it));
            speaking.map(|comment| place_of(&mut gathered, comment, system)).collect()
        });
        for &place in places.iter() {
            gathered[place].outlets.push(who.clone());
        }
    }
    gathered.sort_by_key(|it| (it.outcome, order.iter().position(|id| **id == it.rule.id)));
    gathered
}

fn place_of<'r>(gathered: &mut Vec<Gathered<'r>>, comment: &'r Comment, system: System) -> usize {
    let (says, settle) = said(comment, system);
    let remedy = remedy(comment, system);
    let alike = gathered.iter().position(|it| {
        it.rule.id == comment.rule.id
            && it.outcome == comment.outcome
            && it.says == says
            && it.settle == settle
            && it.remedy == remedy
    });
    alike.unwrap_or_else(|| {
        let (rule, outcome) = (&comment.rule, comment.outcome);
        gathered.push(Gathered { rule, outcome, says, settle, remedy, outlets: Vec::new() });
        gathered.len() - 1
    })
}

pub(super) fn speaks(comment: &Comment) -> bool {
    matches!(comment.outcome, Outcome::Revise | Outcome::Clarify | Outcome::Advise)
}

/// What a comment says, and what keeps it open. An open rule does not say what it would say if it were broken.
pub(super) fn said(comment: &Comment, system: System) -> (Option<String>, Option<String>) {
    let settle = comment.open.as_ref().map(|open| to_settle(open, system));
    let says = (!is_open(comment)).then(|| sentence(&comment.says, system));
    (says, settle)
}

/// The remedy, where there is something to mend or where only the figures are too close.
pub(super) fn remedy(comment: &Comment, system: System) -> Option<String> {
    let waits = comment.open.as_ref().is_some_and(|open| !open.agreed && !open.missing.is_empty());
    comment.remedy.as_ref().filter(|_| !waits).map(|it| sentence(it, system))
}

fn is_open(comment: &Comment) -> bool {
    comment.open.as_ref().is_some_and(|open| !open.agreed)
}

/// What keeps a comment open and what would settle it.
fn to_settle(open: &Open, system: System) -> String {
    let headings: Vec<Arc<str>> = open.missing.iter().map(|(_, _, heading)| heading.clone()).collect();
    if open.agreed {
        return format!("Not known: {}. {}", lower(&headings), tried(&open.would_settle, system));
    }
    let mut said = Vec::new();
    for (shown, limit) in &open.close {
        let value = super::words::value(shown, system);
        let limit = Show::usual(limit.measure).value(limit, system);
        said.push(format!(
            "Too close to call: {} is {value}, and the limit, {limit}, lies within that.",
            shown.heading.to_lowercase()
        ));
    }
    for (heading, why) in &open.absent {
        said.push(format!("No {}: {}.", heading.to_lowercase(), figures(why, system)));
    }
    if !headings.is_empty() {
        said.push(format!("Not known: {}.", lower(&headings)));
    }
    let outcomes = grouped(&open.would_settle, system);
    if !outcomes.is_empty() {
        let sentence = outcomes.join("; ");
        let mut letters = sentence.chars();
        said.extend(letters.next().map(|first| format!("{}{}.", first.to_uppercase(), letters.as_str())));
    }
    said.join(" ")
}

/// "The same with supply copper, PEX or CPVC and supply insulation none or 0.5 in."
fn tried(settled: &[Settled], system: System) -> String {
    let facts = settled.first().map_or(0, |it| it.given.len());
    let parts = (0..facts).map(|fact| {
        let mut answers: Vec<Arc<str>> = Vec::new();
        for it in settled {
            let text = answer(&it.given[fact].2, system);
            if !answers.contains(&text) {
                answers.push(text);
            }
        }
        format!("{} {}", settled[0].given[fact].1.to_lowercase(), either(&answers))
    });
    format!("The same with {}.", parts.collect::<Vec<_>>().join(" and "))
}

/// "no comment with stainless; revise with copper or brass".
fn grouped(settled: &[Settled], system: System) -> Vec<String> {
    let mut said = Vec::new();
    for outcome in
        [Outcome::NoComment, Outcome::DoesNotApply, Outcome::Advise, Outcome::Clarify, Outcome::Revise]
    {
        let those: Vec<&Settled> = settled.iter().filter(|it| it.outcome == outcome).collect();
        if !those.is_empty() {
            let word = if outcome == Outcome::Clarify { "still open" } else { outcome.word() };
            said.push(format!("{word} with {}", described(&those, settled, system)));
        }
    }
    said
}

/// Answers in words: per fact where the facts do not depend on one another, else combination by combination.
fn described(those: &[&Settled], all: &[Settled], system: System) -> String {
    /// Combinations printed before the rest is only counted.
    const MOST: usize = 4;
    let facts = those.first().map_or(0, |it| it.given.len());
    let values = |among: &mut dyn Iterator<Item = &Settled>, fact: usize| -> Vec<Arc<str>> {
        let mut values: Vec<Arc<str>> = Vec::new();
        for settled in among {
            let text = answer(&settled.given[fact].2, system);
            if !values.contains(&text) {
                values.push(text);
            }
        }
        values
    };
    let heading = |it: &Settled, fact: usize| {
        if facts == 1 { String::new() } else { format!("{} ", it.given[fact].1.to_lowercase()) }
    };
    let mine: Vec<Vec<Arc<str>>> = (0..facts).map(|fact| values(&mut those.iter().copied(), fact)).collect();
    if mine.iter().map(Vec::len).product::<usize>() == those.len() {
        let telling = (0..facts).filter(|fact| mine[*fact].len() < values(&mut all.iter(), *fact).len());
        let parts: Vec<String> =
            telling.map(|fact| format!("{}{}", heading(those[0], fact), either(&mine[fact]))).collect();
        if !parts.is_empty() {
            return parts.join(" and ");
        }
    }
    let combination = |it: &&Settled| {
        let parts =
            (0..facts).map(|fact| format!("{}{}", heading(it, fact), answer(&it.given[fact].2, system)));
        parts.collect::<Vec<_>>().join(" and ")
    };
    let mut parts: Vec<String> = those.iter().take(MOST).map(combination).collect();
    if those.len() > MOST {
        parts.push(format!("{} more combinations", those.len() - MOST));
    }
    parts.join(", or ")
}

fn answer(value: &Value, system: System) -> Arc<str> {
    match value {
        Value::Text(text) => text.clone(),
        Value::YesNo(yes) => if *yes { "yes" } else { "no" }.into(),
        Value::Quantity(quantity) if quantity.is == 0.0 => "none".into(),
        Value::Quantity(quantity) => Show::usual(quantity.measure).value(quantity, system).into(),
    }
}
