//! What to ask: each fact once, of the types of outlet that wait for it, the one that settles most first.

use super::judge::{name, shown, verdict};
use super::ledger::Marks;
use super::run::{Part, key};
use super::settle::agreed_on;
use super::{Comment, Findings, Open, OutletReview, OutletType, Question, Settled, Shown, Turn};
use crate::expr::{Gap, Slot, Value};
use crate::facts::{self, Outlet, World};
use crate::ruleset::{Outcome, Rule};
use crate::schedule::Row;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// What tells people the type of an outlet.
const LABEL: [&str; 5] =
    ["outlet.kind", "outlet.model", "outlet.closes", "outlet.barrel", "outlet.nominal_length"];

/// A comment that an answer would move; a general note asks for nothing by itself.
fn is_waiting(comment: &Comment) -> bool {
    comment.outcome == Outcome::Clarify && !comment.rule.once
}

/// The missing facts of which one answer alone decides a comment. Where all plausible answers were tried together, one
/// decides that leaves the same outcome whatever the others are; else each is tried by itself.
pub(super) fn decided_by(rule: &Rule, outlet: &Outlet<'_>, gap: &Gap, would_settle: &[Settled]) -> Vec<Slot> {
    let is_alone = gap.missing.len() == 1 && gap.absent.is_empty() && gap.close.is_empty();
    let decides = |slot: &Slot| {
        if !would_settle.is_empty() {
            return !alone(*slot, &name(*slot, &outlet.world().job().rules), would_settle).is_empty();
        }
        match facts::plausible(*slot) {
            Some(values) => {
                values.into_iter().any(|value| verdict(rule, &outlet.suppose(&[(*slot, value)])).is_ok())
            }
            None => is_alone,
        }
    };
    gap.missing.iter().copied().filter(decides).collect()
}

/// What comes of each answer to one fact whatever the answers to the others; without those that decide nothing.
fn alone(slot: Slot, name: &Arc<str>, would_settle: &[Settled]) -> Vec<Settled> {
    let given = |it: &Settled| it.given.iter().find(|(own, ..)| own == name).map(|(.., value)| value.clone());
    let mut values: Vec<Value> = Vec::new();
    for value in would_settle.iter().filter_map(given) {
        if !values.contains(&value) {
            values.push(value);
        }
    }
    let settled = values.into_iter().filter_map(|value| {
        let those = would_settle.iter().filter(|it| given(it).as_ref() == Some(&value));
        let outcome = agreed_on(those.map(|it| it.outcome))?;
        Some(Settled { given: vec![(name.clone(), facts::heading(slot), value)], outcome })
    });
    settled.collect()
}

/// What outlets alike in every fact wait for.
struct Waiting {
    /// Their type, by its place in the list of types.
    kind: usize,
    /// Facts, and whether one settles anything.
    facts: Vec<(Slot, bool)>,
}

/// A question as it is gathered.
struct Gathering {
    types: BTreeMap<usize, OutletType>,
    marks: Marks,
    turns: Vec<Turn>,
    settles: usize,
    settles_quantity: Option<f64>,
    waits: usize,
}

/// Questions, the one that settles most first, then the one most wait for, then in the order of the catalogue.
pub(super) fn questions(world: &World, outlets: &[OutletReview]) -> Vec<Question> {
    let mut types: BTreeMap<Vec<Part>, usize> = BTreeMap::new();
    let mut known: BTreeMap<*const Findings, Option<Waiting>> = BTreeMap::new();
    let mut asked: BTreeMap<Slot, Gathering> = BTreeMap::new();
    for (outlet, row) in outlets.iter().zip(&world.job().schedule.rows) {
        let waiting = known.entry(Arc::as_ptr(&outlet.findings)).or_insert_with(|| {
            let facts = waits_for(&outlet.findings, &mut asked);
            let next = types.len();
            (!facts.is_empty())
                .then(|| Waiting { kind: *types.entry(type_key(world, row)).or_insert(next), facts })
        });
        let Some(waiting) = waiting else { continue };
        for (slot, settles) in &waiting.facts {
            let Some(question) = asked.get_mut(slot) else { continue };
            question.add(outlet, row, *settles, waiting.kind, || label(world, row));
        }
    }
    let all = types.len();
    let mut questions: Vec<Question> = asked.into_iter().map(|(slot, it)| it.question(slot, all)).collect();
    questions.sort_by_key(|it| std::cmp::Reverse((it.settles, it.waits)));
    questions
}

/// The facts that findings wait for, with what turns on each added to the questions.
fn waits_for(findings: &Findings, asked: &mut BTreeMap<Slot, Gathering>) -> Vec<(Slot, bool)> {
    let mut facts: BTreeMap<Slot, bool> = BTreeMap::new();
    for comment in findings.comments.iter().filter(|it| is_waiting(it)) {
        let Some(open) = &comment.open else { continue };
        for (slot, name, _) in &open.missing {
            *facts.entry(*slot).or_default() |= open.decided_by.contains(slot);
            let question = asked.entry(*slot).or_insert_with(Gathering::new);
            question.turns_on(*slot, name, open, &comment.rule.number);
        }
    }
    facts.into_iter().collect()
}

impl Gathering {
    fn new() -> Self {
        Self {
            types: BTreeMap::new(),
            marks: Marks::default(),
            turns: Vec::new(),
            settles: 0,
            settles_quantity: None,
            waits: 0,
        }
    }

    fn turns_on(&mut self, slot: Slot, name: &Arc<str>, open: &Open, rule: &Arc<str>) {
        let settled = alone(slot, name, &open.would_settle);
        match self.turns.iter_mut().find(|it| it.settled == settled) {
            Some(turn) if turn.rules.contains(rule) => {}
            Some(turn) => turn.rules.push(rule.clone()),
            None => self.turns.push(Turn { rules: vec![rule.clone()], settled }),
        }
    }

    fn add(
        &mut self,
        outlet: &OutletReview,
        row: &Row,
        settles: bool,
        kind: usize,
        label: impl FnOnce() -> Vec<Shown>,
    ) {
        let own = self.types.entry(kind).or_insert_with(|| OutletType {
            says: label(),
            outlets: Vec::new(),
            quantity: None,
            settles: 0,
        });
        own.outlets.push((outlet.mark.clone(), row.number));
        own.settles += usize::from(settles);
        add_to(&mut own.quantity, outlet.quantity);
        if settles {
            self.settles += 1;
            add_to(&mut self.settles_quantity, outlet.quantity);
        }
        self.waits += 1;
        self.marks.add(&outlet.mark);
    }

    fn question(self, slot: Slot, all_types: usize) -> Question {
        let def = facts::entry(slot).map(|entry| entry.def);
        Question {
            slot,
            fact: def.map_or("", |def| def.name).into(),
            heading: facts::heading(slot),
            about: def.map_or("", |def| def.about).into(),
            asked_of: self.marks.in_order,
            of_all: self.types.len() == all_types || facts::of_the_place().contains(&slot),
            types: self.types.into_values().collect(),
            settles: self.settles,
            settles_quantity: self.settles_quantity,
            waits: self.waits,
            turns: self.turns,
        }
    }
}

/// A sum of what is stated; what is not stated adds nothing, and makes no sum by itself.
fn add_to(sum: &mut Option<f64>, more: Option<f64>) {
    if let Some(more) = more {
        *sum = Some(sum.unwrap_or_default() + more);
    }
}

/// What a row states of the outlet itself.
fn type_key(world: &World, row: &Row) -> Vec<Part> {
    let mut stated = world.stated(row);
    for slot in facts::of_the_place() {
        stated[usize::from(slot.0)] = None;
    }
    key(&stated, &BTreeSet::new())
}

/// What tells people the type of a row.
fn label(world: &World, row: &Row) -> Vec<Shown> {
    let stated = world.stated(row);
    let said = LABEL.iter().map(|name| facts::slot(name)).filter_map(|slot| {
        let fact = stated.get(usize::from(slot.0))?.as_ref().filter(|fact| fact.value.is_ok())?;
        Some(shown(slot, fact, &world.job().rules))
    });
    said.collect()
}
