//! Questions: each fact once, for the types of outlet that wait for it, most useful first.

use super::alike::{KeyPart, key};
use super::ledger::Marks;
use super::shown::shown;
use super::{Comment, Findings, OutletReview, OutletType, Question, Shown, Spotted, Turn};
use crate::expr::{Slot, Value};
use crate::facts::columns::{BARREL, CLOSES_AT, KIND, MODEL, NOMINAL_LENGTH};
use crate::facts::{self, Def, World};
use crate::ruleset::Outcome;
use crate::schedule::Row;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Facts that describe the type of an outlet.
const LABEL: [&Def; 5] = [KIND, MODEL, CLOSES_AT, BARREL, NOMINAL_LENGTH];

/// Whether an answer can change a comment. A general note asks for nothing by itself.
fn is_waiting(comment: &Comment) -> bool {
    comment.outcome == Outcome::Clarify && !comment.rule.once
}

/// Facts that outlets with the same findings wait for.
struct Waiting {
    /// Index of their type.
    kind: usize,
    /// Facts, each with whether it decides anything, and what depends on it.
    facts: BTreeMap<Slot, (bool, Vec<Turn>)>,
}

/// A question under construction.
#[derive(Default)]
struct Gathering {
    types: BTreeMap<usize, OutletType>,
    marks: Marks,
    settles_quantity: Option<f64>,
    choices: Vec<Value>,
}

/// All questions: those that decide most rows first, then those that most rows wait for, then in catalogue order.
pub(super) fn questions(world: &World, outlets: &[OutletReview]) -> Vec<Question> {
    let mut types: BTreeMap<Vec<KeyPart>, usize> = BTreeMap::new();
    let mut known: BTreeMap<*const Findings, Option<Waiting>> = BTreeMap::new();
    let mut asked: BTreeMap<Slot, Gathering> = BTreeMap::new();
    for (outlet, row) in outlets.iter().zip(&world.job().schedule.rows) {
        let waiting = known.entry(Arc::as_ptr(&outlet.findings)).or_insert_with(|| {
            let facts = waits_for(&outlet.findings);
            if facts.is_empty() {
                return None;
            }
            let next = types.len();
            let kind = *types.entry(type_key(world, row)).or_insert(next);
            for (slot, (_, turns)) in &facts {
                let own = asked.entry(*slot).or_default().types.entry(kind);
                gather(&mut own.or_insert_with(|| empty(world, row)).turns, turns);
            }
            Some(Waiting { kind, facts })
        });
        for waiting in waiting.iter() {
            for (slot, (settles, _)) in &waiting.facts {
                let question = asked.entry(*slot).or_default();
                question.add(outlet, row.spotted(&world.job().schedule.file), waiting.kind, *settles);
                for choice in facts::choices(row, *slot) {
                    if !question.choices.contains(&choice) {
                        question.choices.push(choice);
                    }
                }
            }
        }
    }
    let all = types.len();
    let mut questions: Vec<Question> = asked.into_iter().map(|(slot, it)| it.question(slot, all)).collect();
    questions.sort_by_key(|it| std::cmp::Reverse((it.settles, it.waits)));
    questions
}

/// The facts that findings wait for, each with whether it decides anything, and what depends on it.
fn waits_for(findings: &Findings) -> BTreeMap<Slot, (bool, Vec<Turn>)> {
    let mut facts: BTreeMap<Slot, (bool, Vec<Turn>)> = BTreeMap::new();
    for comment in findings.comments.iter().filter(|it| is_waiting(it)) {
        for (slot, ..) in comment.open.iter().flat_map(|it| &it.missing) {
            let decides = comment.open.iter().flat_map(|it| &it.decided_by).find(|(own, _)| own == slot);
            let (settles, turns) = facts.entry(*slot).or_default();
            *settles |= decides.is_some();
            let settled = decides.map(|(_, settled)| settled.clone()).unwrap_or_default();
            gather(turns, &[Turn { rules: vec![comment.rule.number.clone()], settled }]);
        }
    }
    facts
}

/// Adds to what depends on an answer; rules with the same outcomes share an entry.
fn gather(turns: &mut Vec<Turn>, more: &[Turn]) {
    for turn in more {
        match turns.iter_mut().find(|it| it.settled == turn.settled) {
            Some(known) => {
                let new: Vec<_> = turn.rules.iter().filter(|it| !known.rules.contains(it)).cloned().collect();
                known.rules.extend(new);
            }
            None => turns.push(turn.clone()),
        }
    }
}

/// What depends on an answer, for several types.
pub fn turns_of(types: &[OutletType]) -> Vec<Turn> {
    let mut turns = Vec::new();
    for it in types {
        gather(&mut turns, &it.turns);
    }
    turns
}

/// A type without any rows yet, described by one of them.
fn empty(world: &World, row: &Row) -> OutletType {
    let says = label(world, row);
    OutletType { says, outlets: Vec::new(), quantity: None, settles: 0, turns: Vec::new() }
}

impl Gathering {
    fn add(&mut self, outlet: &OutletReview, row: Spotted, kind: usize, settles: bool) {
        self.marks.add(&outlet.mark);
        if settles {
            add_to(&mut self.settles_quantity, outlet.quantity);
        }
        if let Some(own) = self.types.get_mut(&kind) {
            own.outlets.push((outlet.mark.clone(), row));
            own.settles += usize::from(settles);
            add_to(&mut own.quantity, outlet.quantity);
        }
    }

    fn question(self, slot: Slot, all_types: usize) -> Question {
        let def = facts::entry(slot).map(|entry| entry.def);
        let types: Vec<OutletType> = self.types.into_values().collect();
        Question {
            slot,
            fact: def.map_or("", |def| def.name).into(),
            heading: facts::heading(slot),
            about: def.map_or("", |def| def.about).into(),
            asked_of: self.marks.in_order,
            of_all: types.len() == all_types || facts::of_the_place().contains(&slot),
            settles: types.iter().map(|it| it.settles).sum(),
            settles_quantity: self.settles_quantity,
            choices: self.choices,
            waits: types.iter().map(|it| it.outlets.len()).sum(),
            types,
        }
    }
}

/// Adds a stated quantity. The sum stays `None` if none is stated.
fn add_to(sum: &mut Option<f64>, more: Option<f64>) {
    if let Some(more) = more {
        *sum = Some(sum.unwrap_or_default() + more);
    }
}

/// What a row states about the outlet itself, not its location.
fn type_key(world: &World, row: &Row) -> Vec<KeyPart> {
    let mut stated = world.given_facts(row);
    for slot in facts::of_the_place() {
        stated[usize::from(slot.0)] = None;
    }
    key(&stated, &BTreeSet::new())
}

/// The facts that describe the type of a row.
fn label(world: &World, row: &Row) -> Vec<Shown> {
    let stated = world.given_facts(row);
    let said = LABEL.iter().map(|def| facts::slot(def)).filter_map(|slot| {
        let fact = stated.get(usize::from(slot.0))?.as_ref().filter(|fact| fact.value.is_ok())?;
        Some(shown(slot, fact, &world.job().rules))
    });
    said.collect()
}
