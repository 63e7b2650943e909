//! What was assumed, and what to ask: each once, however many outlets it concerns.

use super::judge::shown;
use super::{Assumption, Comment, Findings, OutletReview, Question, Shown, Tally};
use crate::expr::{Slot, Value};
use crate::facts::{self, Origin};
use crate::ruleset::{Outcome, Rules};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Assumptions of all outlets, in the order of the catalogue.
pub(super) fn assumed(outlets: &[OutletReview]) -> Vec<Assumption> {
    let mut assumed: Vec<Assumption> = Vec::new();
    let mut marks: Vec<Marks> = Vec::new();
    let mut of_findings: BTreeMap<*const Findings, Vec<usize>> = BTreeMap::new();
    for outlet in outlets {
        let entries = of_findings.entry(Arc::as_ptr(&outlet.findings)).or_insert_with(|| {
            let facts = outlet.findings.facts.iter();
            let taken = facts.filter_map(|fact| match (&fact.origin, &fact.value) {
                (Origin::Assumed(why), Ok(_)) => Some((fact, why.clone())),
                // A range that is stated: which end of it is taken is nobody's word but ours.
                (Origin::Stated(..) | Origin::Product(..) | Origin::Job(..), Ok(Value::Quantity(it)))
                    if it.is_banded() =>
                {
                    Some((fact, facts::worse_end(&fact.name)?.into()))
                }
                _ => None,
            });
            taken.map(|(fact, why)| entry_of(&mut assumed, &mut marks, fact, &why)).collect()
        });
        for &entry in entries.iter() {
            marks[entry].add(&outlet.mark);
        }
    }
    for (entry, marks) in assumed.iter_mut().zip(marks) {
        entry.applies_to = marks.in_order;
    }
    assumed.sort_by_key(|it| facts::CATALOGUE.iter().position(|entry| entry.def.name == &*it.fact.name));
    assumed
}

fn entry_of(assumed: &mut Vec<Assumption>, marks: &mut Vec<Marks>, fact: &Shown, why: &Arc<str>) -> usize {
    let known = assumed
        .iter()
        .position(|it| it.fact.name == fact.name && it.fact.value == fact.value && it.why == *why);
    known.unwrap_or_else(|| {
        assumed.push(Assumption { fact: fact.clone(), why: why.clone(), applies_to: Vec::new() });
        marks.push(Marks::default());
        assumed.len() - 1
    })
}

/// Questions, the one that settles most first, then in the order of the catalogue.
pub(super) fn questions(outlets: &[OutletReview]) -> Vec<Question> {
    let mut asked: BTreeMap<Slot, (Question, Marks)> = BTreeMap::new();
    for outlet in outlets {
        let waiting = outlet.findings.comments.iter().filter(|it| is_waiting(it));
        let missing = waiting.flat_map(|it| &it.open).flat_map(|it| &it.missing);
        let waits: BTreeMap<Slot, _> =
            missing.map(|(slot, name, heading)| (*slot, (name, heading))).collect();
        for (slot, (name, heading)) in waits {
            let (question, marks) = asked.entry(slot).or_insert_with(|| {
                let about = facts::entry(slot).map_or("", |entry| entry.def.about).into();
                let (fact, heading) = (name.clone(), heading.clone());
                (Question { fact, heading, about, asked_of: Vec::new(), settles: 0 }, Marks::default())
            });
            question.settles += 1;
            marks.add(&outlet.mark);
        }
    }
    let with_marks =
        asked.into_values().map(|(question, marks)| Question { asked_of: marks.in_order, ..question });
    let mut questions: Vec<Question> = with_marks.collect();
    questions.sort_by_key(|it| std::cmp::Reverse(it.settles));
    questions
}

/// Marks, each once, in the order they come.
#[derive(Default)]
struct Marks {
    in_order: Vec<Arc<str>>,
    seen: BTreeSet<Arc<str>>,
}

impl Marks {
    fn add(&mut self, mark: &Arc<str>) {
        if self.seen.insert(mark.clone()) {
            self.in_order.push(mark.clone());
        }
    }
}

/// A comment that an answer would move; a general note asks for nothing by itself.
fn is_waiting(comment: &Comment) -> bool {
    comment.outcome == Outcome::Clarify && !comment.rule.once
}

pub(super) fn tally(outlets: &[OutletReview]) -> Tally {
    let mut tally = Tally::default();
    for comment in outlets.iter().flat_map(|it| &it.findings.comments) {
        tally.add(comment.outcome);
    }
    tally
}

/// Facts for printing, from those worked out so far.
pub(super) fn facts_of(outlet: &facts::Outlet<'_>, rules: &Rules) -> Vec<Shown> {
    outlet.known_so_far().iter().map(|(slot, fact)| shown(*slot, fact, rules)).collect()
}
