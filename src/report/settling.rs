//! What keeps a comment open, and which answers would settle it, in words.

use super::words::{either, lower, none_of, value};
use crate::diag::{capital, uncapital};
use crate::expr::Value;
use crate::review::{Open, Settled};
use crate::ruleset::Outcome;
use crate::units::{Show, System};
use std::sync::Arc;

/// The order in which outcomes are named.
const OUTCOMES: [Outcome; 5] =
    [Outcome::NoComment, Outcome::DoesNotApply, Outcome::Advise, Outcome::Clarify, Outcome::Revise];

/// Up to this many answers below a fact are listed one by one; beyond, only the facts that decide.
const MOST_BELOW: usize = 6;

/// What keeps a comment open and what would settle it.
pub(super) fn to_settle(open: &Open, system: System) -> String {
    let headings: Vec<Arc<str>> = open.missing.iter().map(|(_, _, heading)| heading.clone()).collect();
    if open.agreed {
        let same = same_with(&open.would_settle, system);
        return format!("Not stated: {}. {same}", lower(&headings));
    }
    let mut said = Vec::new();
    for (shown, limit) in &open.close {
        let value = value(shown, system);
        let limit = Show::usual(limit.measure).value(limit, system);
        said.push(format!(
            "Too close to call: {} is {value}, and the limit, {limit}, is within that range.",
            uncapital(&shown.heading)
        ));
    }
    for (heading, why) in &open.absent {
        if headings.contains(heading) {
            said.push(format!("{heading} is not assumed: {why}."));
        } else {
            said.push(none_of(heading, why, system));
        }
    }
    if !headings.is_empty() {
        said.push(format!("Unknown: {}.", lower(&headings)));
    }
    let those: Vec<&Settled> = open.would_settle.iter().collect();
    if !those.is_empty() {
        said.push(turns(&those, headings.len() > 1, system));
        let is_silent = |it: &&Settled| !it.outcome.is_comment();
        if !open.complete && those.iter().all(is_silent) {
            said.push("Only common answers were tried.".into());
        }
    }
    said.join(" ")
}

/// "The same with supply copper, PEX or CPVC and supply insulation none or 1 in."
fn same_with(settled: &[Settled], system: System) -> String {
    let those: Vec<&Settled> = settled.iter().collect();
    let facts = settled.first().map_or(0, |it| it.given.len());
    let part = |fact: usize| {
        format!("{} {}", settled[0].given[fact].1.to_lowercase(), answers(&those, &those, fact, system))
    };
    format!("The result is the same with {}.", (0..facts).map(part).collect::<Vec<_>>().join(" and "))
}

/// "no comment with stainless; revise with copper or brass"; empty without answers.
pub(super) fn turns_on(settled: &[Settled], system: System) -> String {
    let those: Vec<&Settled> = settled.iter().collect();
    if those.is_empty() {
        String::new()
    } else {
        uncapital(turns(&those, false, system).trim_end_matches('.'))
    }
}

/// What the outcome turns on: first the fact that settles most by itself, then, where it leaves something open, the
/// others.
/// `named` says whether a fact is named beside its answers.
fn turns(those: &[&Settled], named: bool, system: System) -> String {
    let Some(first) = telling(those) else {
        return format!("{}.", capital(&word(those[0].outcome)));
    };
    let mut sentences = Vec::new();
    let groups = by_answer(those, first);
    let (settled, left): (Vec<_>, Vec<_>) = groups.into_iter().partition(|group| is_settled(group));
    let heading =
        |it: &Settled| if named { format!("{} ", it.given[first].1.to_lowercase()) } else { String::new() };
    let parts: Vec<String> = OUTCOMES
        .iter()
        .filter_map(|outcome| {
            let with: Vec<&Settled> =
                settled.iter().filter(|it| it[0].outcome == *outcome).flatten().copied().collect();
            let one = with.first()?;
            Some(format!("{} with {}{}", word(*outcome), heading(one), answers(&with, those, first, system)))
        })
        .collect();
    if !parts.is_empty() {
        sentences.push(format!("{}.", capital(&parts.join("; "))));
    }
    let is_much = left.iter().all(|group| group.len() > MOST_BELOW && facts_that_tell(group).len() > 1);
    if settled.is_empty() && is_much {
        let heading = those[0].given[first].1.to_lowercase();
        return format!("No one answer settles it; answer {heading} first.");
    }
    // Answers that leave the same questions open are listed together.
    let mut told: Vec<(Vec<&Settled>, String)> = Vec::new();
    for group in left {
        let rest = facts_that_tell(&group);
        let below = if group.len() <= MOST_BELOW || rest.len() == 1 {
            uncapital(&turns(&group, true, system))
        } else {
            let headings: Vec<Arc<str>> = rest.iter().map(|fact| group[0].given[*fact].1.clone()).collect();
            format!("it turns on {}.", lower(&headings))
        };
        match told.iter_mut().find(|(_, known)| *known == below) {
            Some((those, _)) => those.extend(group),
            None => told.push((group, below)),
        }
    }
    for (with, below) in told {
        let answers = answers(&with, those, first, system);
        sentences.push(format!("With {} {answers}: {below}", with[0].given[first].1.to_lowercase()));
    }
    sentences.join(" ")
}

/// The facts whose answers differ among combinations that come out differently.
fn facts_that_tell(those: &[&Settled]) -> Vec<usize> {
    let facts = those.first().map_or(0, |it| it.given.len());
    (0..facts).filter(|fact| by_answer(those, *fact).len() > 1).collect()
}

/// The fact that settles most combinations by itself, or else comes nearest to it; the first of those alike.
fn telling(those: &[&Settled]) -> Option<usize> {
    let settles = |fact: &usize| {
        let groups = by_answer(those, *fact);
        let settled: usize = groups.iter().filter(|it| is_settled(it)).map(Vec::len).sum();
        let most_alike = |it: &Vec<&Settled>| {
            let of = |outcome| it.iter().filter(|it| it.outcome == outcome).count();
            OUTCOMES.iter().map(|outcome| of(*outcome)).max().unwrap_or(0)
        };
        (settled, groups.iter().map(most_alike).sum::<usize>())
    };
    facts_that_tell(those).into_iter().rev().max_by_key(settles)
}

fn is_settled(those: &[&Settled]) -> bool {
    those.iter().all(|it| it.outcome == those[0].outcome)
}

/// Combinations by their answer to a fact, in the order the answers come.
fn by_answer<'s>(those: &[&'s Settled], fact: usize) -> Vec<Vec<&'s Settled>> {
    let mut groups: Vec<Vec<&Settled>> = Vec::new();
    for it in those {
        match groups.iter_mut().find(|group| group[0].given[fact].2 == it.given[fact].2) {
            Some(group) => group.push(it),
            None => groups.push(vec![it]),
        }
    }
    groups
}

/// The answers to a fact among some of all combinations: quantities that follow one another as a range.
fn answers(those: &[&Settled], all: &[&Settled], fact: usize, system: System) -> String {
    let of = |those: &[&Settled]| -> Vec<Value> {
        by_answer(those, fact).iter().map(|group| group[0].given[fact].2.clone()).collect()
    };
    let (mine, every) = (of(those), of(all));
    let texts: Vec<Arc<str>> = mine.iter().map(|it| answer(it, system)).collect();
    let is_run = every.windows(mine.len()).any(|it| *it == mine);
    match mine.as_slice() {
        [Value::Quantity(_), _, .., Value::Quantity(_)] if is_run => {
            format!("{} to {}", texts[0], texts[texts.len() - 1])
        }
        _ => either(&texts),
    }
}

pub(super) fn answer(value: &Value, system: System) -> Arc<str> {
    match value {
        Value::Text(text) => text.clone(),
        Value::List(words) => either(words).into(),
        Value::YesNo(yes) => if *yes { "yes" } else { "no" }.into(),
        Value::Quantity(quantity) if quantity.is == 0.0 => "none".into(),
        Value::Quantity(quantity) => Show::usual(quantity.measure).value(quantity, system).into(),
    }
}

fn word(outcome: Outcome) -> String {
    if outcome == Outcome::Clarify { "unresolved".into() } else { outcome.word().into() }
}
