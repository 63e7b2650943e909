//! What was assumed and what was answered: each once, however many outlets it concerns.

use super::shown::shown;
use super::{Findings, OutletReview, Shown, Spotted};
use crate::diag::Location;
use crate::expr::{Slot, Value};
use crate::facts::{self, Origin};
use crate::ruleset::{Outcome, Rules};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// How many comments of each outcome, over all outlets and rules.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// To revise.
    pub revise: usize,
    /// To clarify.
    pub clarify: usize,
    /// Advisory.
    pub advise: usize,
    /// Nothing to say.
    pub no_comment: usize,
    /// Does not apply to the outlet.
    pub does_not_apply: usize,
}

/// A fact taken from an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Answered {
    /// The fact, with its answer's place.
    pub fact: Shown,
    /// Marks it applies to, each once.
    pub applies_to: Vec<Arc<str>>,
}

/// An assumption.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumption {
    /// The fact, with the value assumed.
    pub fact: Shown,
    /// Why.
    pub why: Arc<str>,
    /// Marks it applies to, each once.
    pub applies_to: Vec<Arc<str>>,
    /// Marks and rows it applies to.
    pub outlets: Vec<(Arc<str>, Spotted)>,
}

impl Tally {
    fn add(&mut self, outcome: Outcome) {
        *match outcome {
            Outcome::Revise => &mut self.revise,
            Outcome::Clarify => &mut self.clarify,
            Outcome::Advise => &mut self.advise,
            Outcome::NoComment => &mut self.no_comment,
            Outcome::DoesNotApply => &mut self.does_not_apply,
        } += 1;
    }
}

/// Assumptions of all outlets, in the order of the catalogue.
pub(super) fn assumed(outlets: &[OutletReview], schedule: &str) -> Vec<Assumption> {
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
                    Some((fact, facts::range_note(&fact.name)?.into()))
                }
                _ => None,
            });
            taken.map(|(fact, why)| entry_of(&mut assumed, &mut marks, fact, &why)).collect()
        });
        for &entry in entries.iter() {
            marks[entry].add(&outlet.mark);
            assumed[entry].outlets.push((outlet.mark.clone(), Spotted::at(&outlet.location, schedule)));
        }
    }
    for (entry, marks) in assumed.iter_mut().zip(marks) {
        entry.applies_to = marks.in_order;
    }
    assumed.sort_by_key(|it| facts::slot_named(&it.fact.name));
    assumed
}

fn entry_of(assumed: &mut Vec<Assumption>, marks: &mut Vec<Marks>, fact: &Shown, why: &Arc<str>) -> usize {
    let known = assumed
        .iter()
        .position(|it| it.fact.name == fact.name && it.fact.value == fact.value && it.why == *why);
    known.unwrap_or_else(|| {
        assumed.push(Assumption {
            fact: fact.clone(),
            why: why.clone(),
            applies_to: Vec::new(),
            outlets: Vec::new(),
        });
        marks.push(Marks::default());
        assumed.len() - 1
    })
}

/// What answers say, in the order of the catalogue, then of the answers.
pub(super) fn answered(outlets: &[OutletReview]) -> Vec<Answered> {
    let mut answered: BTreeMap<(Slot, Location), (Answered, Marks)> = BTreeMap::new();
    for outlet in outlets {
        let shared = outlet.findings.facts.iter();
        let shared = shared.filter(|fact| outlet.own_facts.iter().all(|own| own.name != fact.name));
        for fact in outlet.own_facts.iter().chain(shared) {
            let Origin::Answered(location, _) = &fact.origin else { continue };
            let Some(slot) = facts::slot_named(&fact.name) else { continue };
            let (_, marks) = answered.entry((slot, location.clone())).or_insert_with(|| {
                (Answered { fact: fact.clone(), applies_to: Vec::new() }, Marks::default())
            });
            marks.add(&outlet.mark);
        }
    }
    let with_marks = answered.into_values().map(|(it, marks)| Answered { applies_to: marks.in_order, ..it });
    with_marks.collect()
}

/// Marks, each once, in the order they come.
#[derive(Default)]
pub(super) struct Marks {
    pub in_order: Vec<Arc<str>>,
    seen: BTreeSet<Arc<str>>,
}

impl Marks {
    pub fn add(&mut self, mark: &Arc<str>) {
        if self.seen.insert(mark.clone()) {
            self.in_order.push(mark.clone());
        }
    }
}

/// The unstated facts that change which length to order, with their rows: most rows first, then in catalogue order.
pub(super) fn order_turns_on(outlets: &[OutletReview]) -> Vec<(Slot, usize)> {
    let mut rows: BTreeMap<Slot, usize> = BTreeMap::new();
    for it in outlets.iter().flat_map(|it| &it.findings.moves).filter(|it| it.changes_order == Some(true)) {
        if let Some(fact) = it.fact {
            *rows.entry(fact).or_default() += 1;
        }
    }
    let mut rows: Vec<(Slot, usize)> = rows.into_iter().collect();
    rows.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    rows
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
