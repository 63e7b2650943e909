//! What would settle an open rule: it is tried under every plausible combination of answers to what is missing.

use super::Settled;
use super::judge::{name, verdict};
use crate::expr::{Gap, Readings, Slot, Value};
use crate::facts::{self, Outlet};
use crate::ruleset::{Outcome, Rule, Rules};
use crate::units::Quantity;
use std::collections::BTreeSet;
use std::sync::Arc;

/// More combinations than this help nobody; what to answer first does.
const MOST: usize = 24;

/// A combination of answers and what comes of it.
pub(super) struct Answer<'w> {
    given: Vec<(Slot, Value)>,
    outlet: Outlet<'w>,
    outcome: Outcome,
}

impl Answer<'_> {
    /// Whether another has the same answers to every fact but one.
    fn is_as_given_but_for(&self, slot: Slot, other: &Self) -> bool {
        let others = |it: &Self| it.given.iter().filter(|(it, _)| *it != slot).cloned().collect::<Vec<_>>();
        others(self) == others(other)
    }

    pub(super) fn settled(&self, rules: &Rules) -> Settled {
        let given =
            self.given.iter().map(|(slot, value)| (name(*slot, rules), facts::heading(*slot), value.clone()));
        Settled { given: given.collect(), outcome: self.outcome }
    }
}

/// What comes of the plausible answers.
pub(super) struct Tried<'w> {
    pub answers: Vec<Answer<'w>>,
    /// The outcome on which all of them agree.
    pub agreed: Option<Outcome>,
    /// The missing facts on which the outcome turns; all of them where no list can be made, or all answers agree.
    pub deciding: BTreeSet<Slot>,
    /// Whether the answers take in everything that those facts could be.
    pub covered: bool,
}

/// Answers to a missing fact that are tried.
struct List {
    slot: Slot,
    values: Vec<Value>,
    /// Whether they take in everything it could be.
    whole: bool,
}

/// Tries every plausible combination; where something missing has no list of answers, or there are too many, the answers
/// to the one fact that by itself settles most. No answers where none settles anything.
pub(super) fn tried<'w>(rule: &Rule, outlet: &Outlet<'w>, gap: &Gap) -> Tried<'w> {
    let answer = |given: Vec<(Slot, Value)>| {
        let outlet = outlet.suppose(&given);
        let outcome = verdict(rule, &outlet).unwrap_or(Outcome::Clarify);
        Answer { given, outlet, outcome }
    };
    let named = named_by(rule, &outlet.world().job().rules);
    let lists = lists(gap, &named);
    let whole: BTreeSet<Slot> = lists.iter().flatten().filter(|it| it.whole).map(|it| it.slot).collect();
    let mut answers: Vec<Answer<'_>> =
        combinations(&lists.unwrap_or_default()).into_iter().map(answer).collect();
    if answers.is_empty() {
        let alone = gap.missing.iter().filter_map(|slot| {
            let values = list(*slot, &named, false)?.values;
            Some(values.into_iter().map(|value| answer(vec![(*slot, value)])).collect::<Vec<_>>())
        });
        let settles = |it: &Vec<Answer<'_>>| it.iter().filter(|it| it.outcome != Outcome::Clarify).count();
        // The first of those alike.
        answers = alone.reduce(|a, b| if settles(&b) > settles(&a) { b } else { a }).unwrap_or_default();
    }
    let agreed = agreed(&answers, gap.missing.is_subset(&whole));
    let mut tried = Tried { answers, agreed, deciding: gap.missing.clone(), covered: false };
    if tried.answers.iter().all(|it| it.outcome == Outcome::Clarify) {
        // None of them settles anything by itself.
        tried.answers.clear();
    } else if agreed.is_none() {
        // What else there may be is still to be asked where a list does not take in everything.
        for slot in &whole {
            tried.leave_out_if_it_decides_nothing(*slot);
        }
    }
    tried.covered = tried.deciding.is_subset(&whole);
    tried
}

/// The facts that a rule's tests, or a table they read, name: of these no answer stands for another that lies between.
fn named_by(rule: &Rule, rules: &Rules) -> BTreeSet<Slot> {
    let tests = rule.applies.iter().chain([&rule.needs]).flat_map(|it| it.slots());
    let keys = |slot: Slot| rules.table(slot).into_iter().flat_map(|it| &it.by).map(|key| key.slot);
    tests.flat_map(|slot| keys(slot).chain([slot])).collect()
}

impl Tried<'_> {
    /// A fact whose answers never make a difference, whatever the others are, need not be asked for.
    fn leave_out_if_it_decides_nothing(&mut self, slot: Slot) {
        let mut kept: Vec<usize> = Vec::new();
        for (index, answer) in self.answers.iter().enumerate() {
            let alike = |other: &usize| self.answers[*other].is_as_given_but_for(slot, answer);
            match kept.iter().find(|it| alike(it)) {
                Some(first) if self.answers[*first].outcome != answer.outcome => return,
                Some(_) => {}
                None => kept.push(index),
            }
        }
        // The last fact stays: something has to be asked.
        if self.deciding.len() < 2 {
            return;
        }
        let mut index = 0;
        self.answers.retain(|_| {
            index += 1;
            kept.contains(&(index - 1))
        });
        for answer in &mut self.answers {
            answer.given.retain(|(it, _)| *it != slot);
        }
        self.deciding.remove(&slot);
    }
}

/// Every combination of the plausible answers to what is missing, whatever asks for it; none where a list does not take in
/// everything, or there are too many.
pub(super) fn whole_combinations(gap: &Gap) -> Vec<Vec<(Slot, Value)>> {
    let lists = lists(gap, &BTreeSet::new()).filter(|lists| lists.iter().all(|it| it.whole));
    combinations(&lists.unwrap_or_default())
}

/// Every combination of some answers; none of no lists.
fn combinations(lists: &[List]) -> Vec<Vec<(Slot, Value)>> {
    if lists.is_empty() {
        return Vec::new();
    }
    let mut combinations: Vec<Vec<(Slot, Value)>> = vec![Vec::new()];
    for List { slot, values, .. } in lists {
        let with = |given: &Vec<(Slot, Value)>| {
            let given = given.clone();
            values
                .clone()
                .into_iter()
                .map(move |value| given.iter().cloned().chain([(*slot, value)]).collect())
        };
        combinations = combinations.iter().flat_map(with).collect();
    }
    combinations
}

/// Plausible answers to everything missing: all of them, or the best and the worst where all would be too many. None where
/// something has no list.
fn lists(gap: &Gap, named: &BTreeSet<Slot>) -> Option<Vec<List>> {
    let within = |lists: &Vec<List>| {
        let count = lists.iter().try_fold(1_usize, |count, it| count.checked_mul(it.values.len()));
        count.is_some_and(|count| count <= MOST)
    };
    let gather = |ends| gap.missing.iter().map(|slot| list(*slot, named, ends)).collect::<Option<Vec<_>>>();
    gather(false).filter(within).or_else(|| gather(true).filter(within))
}

/// Answers to a fact. Of one that a test names every word counts; of another, what lies between the best and the worst
/// follows from them.
fn list(slot: Slot, named: &BTreeSet<Slot>, ends: bool) -> Option<List> {
    let all = facts::every(slot);
    let is_named = named.contains(&slot);
    let values = match &all {
        Some(all) if is_named && !ends => all.clone(),
        _ if ends => facts::bracket(slot)?,
        _ => facts::plausible(slot)?,
    };
    let whole = facts::covers(slot) && (!is_named || all.is_some_and(|all| all.len() == values.len()));
    Some(List { slot, values, whole })
}

/// The outcome on which all answers agree, unless they only agree that it cannot be told. That there is nothing to say
/// is decided only where the lists take in everything there is.
fn agreed(answers: &[Answer<'_>], covered: bool) -> Option<Outcome> {
    agreed_on(answers.iter().map(|it| it.outcome)).filter(|it| covered || !is_silent(*it))
}

/// The outcome on which all agree, unless they only agree that it cannot be told.
pub(super) fn agreed_on(mut outcomes: impl Iterator<Item = Outcome> + Clone) -> Option<Outcome> {
    let mut all = outcomes.clone();
    let first = outcomes.next()?;
    if outcomes.all(|it| it == first) {
        return (first != Outcome::Clarify).then_some(first);
    }
    all.all(is_silent).then_some(Outcome::NoComment)
}

/// Whether nothing is said.
fn is_silent(outcome: Outcome) -> bool {
    matches!(outcome, Outcome::NoComment | Outcome::DoesNotApply)
}

/// A value over all answers: a quantity that spans them, used at the one that prints on the safe side; any other value
/// only where all have the same.
pub(super) fn over_all(slot: Slot, answers: &[Answer<'_>]) -> Option<Value> {
    let values: Option<Vec<&Value>> = answers.iter().map(|it| it.outlet.get(slot).ok()).collect();
    let values = values?;
    let first = *values.first()?;
    let Value::Quantity(mut span) = *first else {
        return values.iter().all(|it| *it == first).then(|| first.clone());
    };
    let safe_is_high = facts::show_of(slot, span.measure).rounds_up();
    for value in &values {
        let Value::Quantity(Quantity { is, low, high, .. }) = **value else { return None };
        span.low = span.low.min(low);
        span.high = span.high.max(high);
        span.is = if safe_is_high { span.is.max(is) } else { span.is.min(is) };
    }
    Some(Value::Quantity(span))
}

/// Why a fact has no value whatever the answers, where it has none under any of them.
pub(super) fn absent_over_all(slot: Slot, answers: &[Answer<'_>]) -> Option<Arc<str>> {
    let reasons: Option<Vec<Arc<str>>> =
        answers.iter().map(|it| it.outlet.get(slot).err()?.absent.into_values().next()).collect();
    reasons?.into_iter().next()
}
