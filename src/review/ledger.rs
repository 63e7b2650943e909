//! What was assumed and what was answered: each once, however many outlets it concerns.

use super::judge::shown;
use super::{Answered, Assumption, Findings, OutletReview, Shown, Tally};
use crate::diag::{Location, Position};
use crate::expr::{Slot, Value};
use crate::facts::{self, Origin};
use crate::ruleset::Rules;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Assumptions of all outlets, in the order of the catalogue.
pub(super) fn assumed(outlets: &[OutletReview]) -> Vec<Assumption> {
    let mut assumed: Vec<(Assumption, Vec<usize>)> = Vec::new();
    let mut of_findings: BTreeMap<*const Findings, Vec<usize>> = BTreeMap::new();
    for (row, outlet) in outlets.iter().enumerate() {
        let entries = of_findings.entry(Arc::as_ptr(&outlet.findings)).or_insert_with(|| {
            let facts = outlet.findings.facts.iter();
            let assumptions = facts.filter_map(|fact| match (&fact.origin, &fact.value) {
                (Origin::Assumed(why), Ok(_)) => Some((fact, why.clone())),
                // Which end of a stated range calculations use is our assumption.
                (Origin::Stated(..) | Origin::Product(..) | Origin::Job(..), Ok(Value::Quantity(it)))
                    if it.is_banded() =>
                {
                    Some((fact, facts::range_note(&fact.name)?.into()))
                }
                _ => None,
            });
            assumptions.map(|(fact, why)| entry_of(&mut assumed, fact, &why)).collect()
        });
        for &entry in entries.iter() {
            assumed[entry].1.push(row);
        }
    }
    let mut rows_of_mark: BTreeMap<&Arc<str>, usize> = BTreeMap::new();
    for outlet in outlets {
        *rows_of_mark.entry(&outlet.mark).or_default() += 1;
    }
    let mut assumed: Vec<Assumption> = assumed
        .into_iter()
        .map(|(assumption, rows)| Assumption {
            applies_to_all: rows.len() == outlets.len(),
            applies_to: named(outlets, &rows, &rows_of_mark),
            ..assumption
        })
        .collect();
    assumed.sort_by_key(|it| facts::slot_named(&it.fact.name));
    assumed
}

fn entry_of(assumed: &mut Vec<(Assumption, Vec<usize>)>, fact: &Shown, why: &Arc<str>) -> usize {
    let known = assumed
        .iter()
        .position(|(it, _)| it.fact.name == fact.name && it.fact.value == fact.value && it.why == *why);
    known.unwrap_or_else(|| {
        let (fact, why) = (fact.clone(), why.clone());
        let assumption = Assumption { fact, why, applies_to: Vec::new(), applies_to_all: false };
        assumed.push((assumption, Vec::new()));
        assumed.len() - 1
    })
}

/// Names of some rows: marks, each once; with its row where a mark has other rows too.
fn named(
    outlets: &[OutletReview],
    rows: &[usize],
    rows_of_mark: &BTreeMap<&Arc<str>, usize>,
) -> Vec<Arc<str>> {
    let mut here: BTreeMap<&Arc<str>, usize> = BTreeMap::new();
    for &row in rows {
        *here.entry(&outlets[row].mark).or_default() += 1;
    }
    let mut names = Marks::default();
    for outlet in rows.iter().map(|row| &outlets[*row]) {
        let mark = &outlet.mark;
        match &outlet.place.position {
            _ if here.get(mark) == rows_of_mark.get(mark) => names.add(mark),
            Position::Row(row, _) => names.add(&format!("{mark} (row {row})").into()),
            Position::Line(span) => names.add(&format!("{mark} (line {})", span.line).into()),
            Position::Whole => names.add(mark),
        }
    }
    names.in_order
}

/// What answers say, in the order of the catalogue, then of the answers.
pub(super) fn answered(outlets: &[OutletReview]) -> Vec<Answered> {
    let mut answered: BTreeMap<(Slot, Location), (Answered, Marks)> = BTreeMap::new();
    for outlet in outlets {
        for fact in &outlet.stated {
            let Origin::Answered(place, _) = &fact.origin else { continue };
            let Some(slot) = facts::slot_named(&fact.name) else { continue };
            let (_, marks) = answered.entry((slot, place.clone())).or_insert_with(|| {
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
