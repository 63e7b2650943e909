//! Reviews a job: outlets alike in every fact a rule can read are judged once.

use super::judge::{card, comment};
use super::{Comment, Findings, OutletReview, Progress, Review, judge, ledger, questions};
use crate::expr::{Slot, Value};
use crate::facts::columns::{BACKFLOW_DEVICE, KIND, LOCATION, MARK, QUANTITY};
use crate::facts::{self, Def, Fact, Origin, World};
use crate::ruleset::{Outcome, Rule};
use crate::schedule::Row;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};

/// Reviews every outlet of a job against every rule in force.
pub fn run(world: &World) -> Review {
    run_with(world, &|_, _| ())
}

/// The same, with word of how far it is.
pub fn run_with(world: &World, progress: &Progress<'_>) -> Review {
    let job = world.job();
    let apart = told_apart_by(world);
    let mut alike: BTreeMap<Vec<KeyPart>, usize> = BTreeMap::new();
    let mut kinds: Vec<&Row> = Vec::new();
    let mut kind_of = Vec::with_capacity(job.schedule.rows.len());
    for row in &job.schedule.rows {
        let kind = *alike.entry(key(&world.stated(row), &apart)).or_insert_with(|| {
            kinds.push(row);
            kinds.len() - 1
        });
        kind_of.push(kind);
    }
    let cards: Vec<_> = job.rules.rules.iter().map(card).collect();
    let begun = AtomicUsize::new(0);
    let findings: Vec<Arc<Findings>> = kinds
        .par_iter()
        .map(|row| {
            progress(begun.fetch_add(1, Relaxed) + 1, kinds.len());
            let outlet = world.outlet(row);
            let rules = job.rules.rules.iter().zip(&cards);
            let comments = rules.map(|(rule, card)| comment(rule, card, &outlet, &job.revise_on)).collect();
            let comments: Vec<Comment> = comments;
            let speaks = |it: &Comment| it.outcome < Outcome::NoComment;
            let goes_by_it =
                job.rules.rules.iter().zip(&comments).any(|(rule, it)| rule.close.is_some() && speaks(it));
            let moves = if goes_by_it { facts::moves(&outlet).unwrap_or_default() } else { Vec::new() };
            let known = outlet.known_so_far();
            let known = known.iter().filter(|(slot, _)| !is_identity(*slot, &apart));
            let facts = known.map(|(slot, fact)| judge::shown(*slot, fact, &job.rules)).collect();
            Arc::new(Findings { first: row.place(&job.schedule.file), facts, comments, moves })
        })
        .collect();
    let outlets: Vec<OutletReview> = job
        .schedule
        .rows
        .iter()
        .zip(kind_of)
        .map(|(row, kind)| outlet_review(world, row, &findings[kind]))
        .collect();
    Review {
        job: job.name.clone(),
        job_file: job.file.clone(),
        schedule: job.schedule.file.clone(),
        climate: job.climate.clone(),
        design: job.design.clone(),
        climate_overridden: job.climate_overridden.clone(),
        code: job.code.clone(),
        authority: job.authority.clone(),
        revise_on: job.revise_on.clone(),
        revise_on_by: job.revise_on_by.clone(),
        amendments: job.rules.amendments.iter().map(|it| it.name.clone()).collect(),
        told: job.rules.told(&job.revise_on),
        questions: questions::questions(world, &outlets),
        answers: job.answers.clone(),
        answered: ledger::answered(&outlets),
        assumed: ledger::assumed(&outlets, &job.schedule.file),
        notes: job.schedule.notes.clone(),
        unused: job.schedule.unused.clone(),
        aside: job.schedule.aside.clone(),
        problems: job.schedule.problems.clone(),
        tally: ledger::tally(&outlets),
        order_turns_on: ledger::order_turns_on(&outlets),
        solves: world.solves(),
        outlets,
    }
}

/// A stated fact as a key: its slot, and its value or the fact that it cannot be read.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum KeyPart {
    /// With its band: alike in the value used is not alike.
    Number(u16, [u64; 3]),
    Text(u16, Arc<str>),
    YesNo(u16, bool),
    Unreadable(u16),
}

impl KeyPart {
    /// A value of a fact.
    pub(super) fn of(slot: Slot, value: &Value) -> Self {
        match value {
            Value::Quantity(it) => Self::Number(slot.0, [it.is, it.low, it.high].map(f64::to_bits)),
            Value::Text(text) => Self::Text(slot.0, text.clone()),
            Value::YesNo(yes) => Self::YesNo(slot.0, *yes),
            Value::List(words) => Self::Text(slot.0, words.join("\n").into()),
        }
    }
}

/// The identity facts that some rule reads after all.
fn told_apart_by(world: &World) -> BTreeSet<Slot> {
    let rules = &world.job().rules;
    let of_tables = rules.tables.iter().flat_map(|table| table.by.iter().map(|key| key.slot));
    let read: BTreeSet<Slot> = rules.rules.iter().flat_map(Rule::slots).chain(of_tables).collect();
    facts::identity().filter(|slot| read.contains(slot)).collect()
}

fn is_identity(slot: Slot, apart: &BTreeSet<Slot>) -> bool {
    facts::is_identity(slot) && !apart.contains(&slot)
}

/// What an outlet is as far as any fact goes, but for the identity facts not named in `apart`.
pub(super) fn key(stated: &[Option<Fact>], apart: &BTreeSet<Slot>) -> Vec<KeyPart> {
    let numbered = stated.iter().zip(0..);
    let parts = numbered.filter_map(|(fact, number): (_, u16)| {
        let fact = fact.as_ref()?;
        let slot = Slot(number);
        if is_identity(slot, apart) {
            return None;
        }
        Some(match &fact.value {
            // What a kind is called tells where it closes, and a device's words tell its standard: these count.
            Ok(Value::Text(_)) if [KIND, BACKFLOW_DEVICE].map(facts::slot).contains(&slot) => {
                KeyPart::Text(number, written(fact))
            }
            Ok(value) => KeyPart::of(slot, value),
            // Words that leave a fact open are quoted.
            Err(gap) => match gap.absent.get(&slot) {
                Some(why) => KeyPart::Text(number, why.clone()),
                None => KeyPart::Unreadable(number),
            },
        })
    });
    parts.collect()
}

fn written(fact: &Fact) -> Arc<str> {
    fact.origin.written().cloned().unwrap_or_default()
}

/// Which outlet a row is.
pub(super) struct Identity {
    /// Its mark, or `row 7`.
    pub mark: Arc<str>,
    /// How many; `None` where not stated.
    pub quantity: Option<f64>,
    /// Where it is.
    pub location: Option<Arc<str>>,
}

impl Identity {
    pub(super) fn of(row: &Row, stated: &[Option<Fact>]) -> Self {
        let own = |def: &Def| {
            stated[usize::from(facts::slot(def).0)].as_ref().and_then(|it| it.value.as_ref().ok())
        };
        let text = |def| match own(def) {
            Some(Value::Text(text)) => Some(text.clone()),
            _ => None,
        };
        let quantity = match own(QUANTITY) {
            Some(Value::Quantity(quantity)) => Some(quantity.is),
            _ => None,
        };
        Self {
            mark: text(MARK).unwrap_or_else(|| format!("row {}", row.number).into()),
            quantity,
            location: text(LOCATION),
        }
    }
}

fn outlet_review(world: &World, row: &Row, findings: &Arc<Findings>) -> OutletReview {
    let rules = &world.job().rules;
    let place = row.place(&world.job().schedule.file);
    let stated = world.stated(row);
    let own = stated.iter().zip(0..).filter_map(|(fact, number)| {
        let fact = fact.as_ref()?;
        let of_row =
            matches!(&fact.origin, Origin::Stated(..) | Origin::Answered(..) | Origin::Unreadable(..));
        let own = of_row.then(|| judge::shown(Slot(number), fact, rules))?;
        let shared = findings.facts.iter().find(|fact| fact.name == own.name);
        let is_shared = shared.is_some_and(|fact| findings.at_row(fact, &place) == own);
        (!is_shared).then_some(own)
    });
    let Identity { mark, quantity, location } = Identity::of(row, &stated);
    OutletReview { mark, quantity, location, stated: own.collect(), place, findings: findings.clone() }
}
