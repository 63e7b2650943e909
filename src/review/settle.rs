//! What would settle an open rule: it is tried under every plausible combination of answers to what is missing.

use super::Settled;
use super::judge::{name, verdict};
use crate::expr::{Gap, Readings, Slot, Value};
use crate::facts::{self, Outlet};
use crate::ruleset::{Outcome, Rule, Rules};
use crate::units::Quantity;
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
    pub(super) fn settled(&self, rules: &Rules) -> Settled {
        let given =
            self.given.iter().map(|(slot, value)| (name(*slot, rules), facts::heading(*slot), value.clone()));
        Settled { given: given.collect(), outcome: self.outcome }
    }
}

/// Tries every plausible combination. None where something missing has no list of answers, or there are too many.
pub(super) fn answers<'w>(rule: &Rule, outlet: &Outlet<'w>, gap: &Gap) -> Vec<Answer<'w>> {
    let tried = combinations(gap).into_iter().map(|given| {
        let outlet = outlet.suppose(&given);
        let outcome = verdict(rule, &outlet).unwrap_or(Outcome::Clarify);
        Answer { given, outlet, outcome }
    });
    tried.collect()
}

/// Every plausible combination of answers to what is missing; none where something missing has no list of answers, or
/// there are too many.
pub(super) fn combinations(gap: &Gap) -> Vec<Vec<(Slot, Value)>> {
    let Some(lists) = lists(gap) else { return Vec::new() };
    let mut combinations: Vec<Vec<(Slot, Value)>> = vec![Vec::new()];
    for (slot, values) in &lists {
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

/// Plausible answers to everything missing: all of them, or the best and the worst where all would be too many.
fn lists(gap: &Gap) -> Option<Vec<(Slot, Vec<Value>)>> {
    let within =
        |lists: &Vec<(Slot, Vec<Value>)>| lists.iter().map(|(_, it)| it.len()).product::<usize>() <= MOST;
    let gather = |list: fn(Slot) -> Option<Vec<Value>>| {
        gap.missing.iter().map(|slot| Some((*slot, list(*slot)?))).collect::<Option<Vec<_>>>()
    };
    if gap.missing.is_empty() {
        return None;
    }
    gather(facts::plausible).filter(within).or_else(|| gather(facts::bracket).filter(within))
}

/// The outcome on which all answers agree, unless they only agree that it cannot be told.
pub(super) fn agreed(answers: &[Answer<'_>]) -> Option<Outcome> {
    agreed_on(answers.iter().map(|it| it.outcome))
}

/// The same of outcomes.
pub(super) fn agreed_on(mut outcomes: impl Iterator<Item = Outcome> + Clone) -> Option<Outcome> {
    let mut all = outcomes.clone();
    let first = outcomes.next()?;
    if outcomes.all(|it| it == first) {
        return (first != Outcome::Clarify).then_some(first);
    }
    // Nothing is said either way.
    let silent = |outcome| matches!(outcome, Outcome::NoComment | Outcome::DoesNotApply);
    all.all(silent).then_some(Outcome::NoComment)
}

/// A value over all answers: a quantity that spans them, used at the one that prints on the safe side; any other value
/// only where all have the same.
pub(super) fn over_all(slot: Slot, answers: &[Answer<'_>]) -> Option<Value> {
    let values: Option<Vec<Value>> = answers.iter().map(|it| it.outlet.get(slot).ok()).collect();
    let values = values?;
    let first = values.first()?.clone();
    let Value::Quantity(mut span) = first else {
        return values.iter().all(|it| *it == first).then_some(first);
    };
    let safe_is_high = facts::show_of(slot, span.measure).rounds_up();
    for value in &values {
        let Value::Quantity(Quantity { is, low, high, .. }) = *value else { return None };
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
