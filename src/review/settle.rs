//! What would decide an unresolved rule: tries every plausible combination of answers to what is missing.

use super::Settled;
use super::shown::name;
use super::verdict;
use crate::expr::{Gap, Slot, Value, Values};
use crate::facts::{self, Outlet};
use crate::ruleset::{Outcome, Rule, Rules};
use crate::units::Quantity;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A longer list of combinations is no help to a reader.
const MOST_COMBINATIONS: usize = 24;

/// Answers to some facts.
type Given = Vec<(Slot, Value)>;

/// A combination of answers and its outcome.
pub(super) struct Trial<'w> {
    given: Given,
    outlet: Outlet<'w>,
    outcome: Outcome,
}

impl Trial<'_> {
    fn differs_only_in(&self, slot: Slot, other: &Self) -> bool {
        let without =
            |trial: &Self| trial.given.iter().filter(|(other, _)| *other != slot).cloned().collect::<Given>();
        without(self) == without(other)
    }

    pub(super) fn settled(&self, rules: &Rules) -> Settled {
        let given = self.given.iter();
        let given = given.map(|(slot, value)| (name(*slot, rules), facts::heading(*slot), value.clone()));
        Settled { given: given.collect(), outcome: self.outcome }
    }
}

/// All trials of a rule on an outlet.
#[derive(Default)]
pub(super) struct Trials<'w> {
    pub trials: Vec<Trial<'w>>,
    /// The outcome of all of them, if they have one in common.
    pub common: Option<Outcome>,
    /// The missing facts that decide; all of them if no list can be made, or all answers agree.
    pub deciding: BTreeSet<Slot>,
    /// Whether the answers include everything that those facts could be.
    pub complete: bool,
}

/// Answers to try for a missing fact.
struct Candidates {
    slot: Slot,
    values: Vec<Value>,
    /// Whether they include everything it could be.
    complete: bool,
}

/// Tries every plausible combination. If a missing fact has no list of answers, or there are too many combinations, varies
/// one fact at a time and keeps the fact that decides most often. Returns no trials if none decides anything.
pub(super) fn try_answers<'w>(rule: &Rule, outlet: &Outlet<'w>, gap: &Gap) -> Trials<'w> {
    let attempt = |given: Given| {
        let outlet = outlet.suppose(&given);
        let outcome = verdict::outcome(rule, &outlet);
        Trial { given, outlet, outcome }
    };
    let named = named_by(rule, &outlet.world().job().rules);
    let lists = candidate_lists(gap, &named);
    let complete: BTreeSet<Slot> =
        lists.iter().flatten().filter(|list| list.complete).map(|list| list.slot).collect();
    let mut trials: Vec<Trial<'_>> =
        combinations(&lists.unwrap_or_default()).into_iter().map(attempt).collect();
    if trials.is_empty() {
        let one_at_a_time = gap.missing.iter().filter_map(|slot| {
            let values = candidates(*slot, &named, false)?.values;
            Some(values.into_iter().map(|value| attempt(vec![(*slot, value)])).collect::<Vec<_>>())
        });
        let decided =
            |trials: &Vec<Trial<'_>>| trials.iter().filter(|trial| trial.outcome != Outcome::Clarify).count();
        // The first wins a tie.
        let best =
            one_at_a_time.reduce(|best, next| if decided(&next) > decided(&best) { next } else { best });
        trials = best.unwrap_or_default();
    }
    // Only complete lists can decide that there is no comment.
    let common = common_outcome(trials.iter().map(|trial| trial.outcome))
        .filter(|outcome| gap.missing.is_subset(&complete) || outcome.is_comment());
    let mut result = Trials { trials, common, deciding: gap.missing.clone(), complete: false };
    if result.trials.iter().all(|trial| trial.outcome == Outcome::Clarify) {
        result.trials.clear();
    } else if common.is_none() {
        // A fact with an incomplete list must be asked whatever the outcome.
        for slot in &complete {
            result.drop_if_irrelevant(*slot);
        }
    }
    result.complete = result.deciding.is_subset(&complete);
    result
}

/// The facts that the tests of a rule, or a table they read, name. Of these, all values are tried.
fn named_by(rule: &Rule, rules: &Rules) -> BTreeSet<Slot> {
    let tests = rule.applies.iter().chain([&rule.needs]).flat_map(|test| test.slots());
    let keys = |slot: Slot| rules.table(slot).into_iter().flat_map(|table| &table.by).map(|key| key.slot);
    tests.flat_map(|slot| keys(slot).chain([slot])).collect()
}

impl Trials<'_> {
    /// Drops a fact whose answers never change the outcome, for any answers to the others.
    fn drop_if_irrelevant(&mut self, slot: Slot) {
        let mut kept: Vec<usize> = Vec::new();
        for (index, trial) in self.trials.iter().enumerate() {
            match kept.iter().find(|other| self.trials[**other].differs_only_in(slot, trial)) {
                Some(first) if self.trials[*first].outcome != trial.outcome => return,
                Some(_) => {}
                None => kept.push(index),
            }
        }
        // At least one fact has to be asked.
        if self.deciding.len() < 2 {
            return;
        }
        let mut index = 0..;
        self.trials.retain(|_| index.next().is_some_and(|index| kept.contains(&index)));
        for trial in &mut self.trials {
            trial.given.retain(|(other, _)| *other != slot);
        }
        self.deciding.remove(&slot);
    }
}

/// Every combination of the plausible answers to what is missing; none if a list is incomplete or there are too many.
pub(super) fn complete_combinations(gap: &Gap) -> Vec<Given> {
    let lists = candidate_lists(gap, &BTreeSet::new());
    combinations(&lists.filter(|lists| lists.iter().all(|list| list.complete)).unwrap_or_default())
}

/// Every combination of answers, one of each list; none if there are no lists.
fn combinations(lists: &[Candidates]) -> Vec<Given> {
    if lists.is_empty() {
        return Vec::new();
    }
    let mut combinations: Vec<Given> = vec![Vec::new()];
    for Candidates { slot, values, .. } in lists {
        let extended = combinations.iter().flat_map(|given| {
            values.iter().map(move |value| given.iter().cloned().chain([(*slot, value.clone())]).collect())
        });
        combinations = extended.collect();
    }
    combinations
}

/// Plausible answers to everything missing: all of them, or the best and the worst if all would be too many. `None` if
/// a fact has no list.
fn candidate_lists(gap: &Gap, named: &BTreeSet<Slot>) -> Option<Vec<Candidates>> {
    let is_short = |lists: &Vec<Candidates>| {
        let count = lists.iter().try_fold(1_usize, |count, list| count.checked_mul(list.values.len()));
        count.is_some_and(|count| count <= MOST_COMBINATIONS)
    };
    let gather = |extremes| {
        gap.missing.iter().map(|slot| candidates(*slot, named, extremes)).collect::<Option<Vec<_>>>()
    };
    gather(false).filter(is_short).or_else(|| gather(true).filter(is_short))
}

/// Answers to try for a fact: all words if a test names it; of another, the outcomes of values between the best and the
/// worst lie between theirs.
fn candidates(slot: Slot, named: &BTreeSet<Slot>, extremes: bool) -> Option<Candidates> {
    let all = facts::every(slot);
    let is_named = named.contains(&slot);
    let values = match &all {
        Some(all) if is_named && !extremes => all.clone(),
        _ if extremes => facts::bracket(slot)?,
        _ => facts::plausible(slot)?,
    };
    let complete = facts::covers(slot) && (!is_named || all.is_some_and(|all| all.len() == values.len()));
    Some(Candidates { slot, values, complete })
}

/// The outcome that all have in common: *no comment* if none makes a comment; `None` if they differ or all are *clarify*.
pub(super) fn common_outcome(mut outcomes: impl Iterator<Item = Outcome> + Clone) -> Option<Outcome> {
    let mut all = outcomes.clone();
    let first = outcomes.next()?;
    if outcomes.all(|outcome| outcome == first) {
        return (first != Outcome::Clarify).then_some(first);
    }
    all.all(|outcome| !outcome.is_comment()).then_some(Outcome::NoComment)
}

/// A value over all trials: a quantity that spans them, with the used value that prints on the safe side; any other
/// value only if all have the same.
pub(super) fn envelope(slot: Slot, trials: &[Trial<'_>]) -> Option<Value> {
    let values = trials.iter().map(|trial| trial.outlet.get(slot).ok()).collect::<Option<Vec<&Value>>>()?;
    let first = *values.first()?;
    let Value::Quantity(mut span) = *first else {
        return values.iter().all(|value| *value == first).then(|| first.clone());
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

/// Why a fact has no value in any trial.
pub(super) fn common_absence(slot: Slot, trials: &[Trial<'_>]) -> Option<Arc<str>> {
    let reasons = trials.iter().map(|trial| trial.outlet.get(slot).err()?.absent.into_values().next());
    reasons.collect::<Option<Vec<_>>>()?.into_iter().next()
}
