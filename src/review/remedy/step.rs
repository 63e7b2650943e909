//! Changes tried on an outlet: which rules they settle, and what they are ranked by.

use super::change::{Alternative, Finished, Put};
use super::table::{ALTERNATIVES, LONGER, MODEL};
use crate::expr::{Slot, Value, Values};
use crate::facts::columns::{NOMINAL_LENGTH, PRICE, SEAT_DEPTH, SEAT_OFFSET};
use crate::facts::{Edit, Origin, Outlet, World, length, slot, slot_named};
use crate::review::judge::decide;
use crate::review::shown::shown;
use crate::review::verdict::verdict_of_trial;
use crate::review::{Comment, Shown};
use crate::ruleset::{Outcome, Rule};
use crate::schedule::Row;
use crate::units::{Dim, INCH, Quantity};
use std::collections::BTreeSet;

const SIZE: &str = "outlet.supply_size";
const DRAINS: &str = "outlet.drains_to_soil";
const FINISH: &str = "outlet.finish";
const HANDLE: &str = "outlet.handle";
/// Facts that tell which outlet to order.
const ORDERED_BY: [&str; 13] = [
    "outlet.model",
    SIZE,
    "outlet.inlet",
    "outlet.kind",
    "outlet.closes",
    "outlet.nominal_length",
    "outlet.barrel",
    "outlet.backflow_device",
    "outlet.backflow_standard",
    "outlet.bury_depth",
    DRAINS,
    FINISH,
    HANDLE,
];

/// What tells which outlet to order.
pub(in crate::review) fn order_of(outlet: &Outlet<'_>) -> Vec<Shown> {
    let known = ORDERED_BY.iter().filter_map(|name| {
        let slot = slot_named(name)?;
        let fact = outlet.fact(slot);
        // A size is ordered only as stated of the outlet: that of the job is of the pipe.
        let is_guess = *name == SIZE && matches!(fact.origin, Origin::Assumed(_) | Origin::Job(..));
        // A finish that is stated as open is open in the order too.
        let is_open = [FINISH, HANDLE].contains(name) && matches!(fact.origin, Origin::Unreadable(..));
        (fact.value.is_ok() && !is_guess || is_open).then(|| shown(slot, &fact, &outlet.world().job().rules))
    });
    known.collect()
}

/// A change with its values.
#[derive(Clone)]
pub(super) struct Step {
    pub change: &'static Alternative,
    pub edits: Vec<Edit>,
}

/// Changes that together settle some of the rules.
pub(super) struct Choice {
    pub steps: Vec<Step>,
    /// Which of the targets, by index.
    pub settles: BTreeSet<usize>,
}

/// What sets of changes are ranked by: cost, where an unknown one is last; changes; whether the wall stays closed; facts;
/// and their places in the table.
pub(super) struct Rank(f64, pub usize, Finished, usize, usize);

impl Rank {
    pub(super) fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0
            .total_cmp(&other.0)
            .then((self.1, self.2, self.3, self.4).cmp(&(other.1, other.2, other.3, other.4)))
    }
}

impl Step {
    pub(super) fn name(&self) -> &'static str {
        self.change.name
    }

    pub(super) fn facts(&self) -> impl Iterator<Item = Slot> {
        self.edits.iter().map(|(slot, _)| *slot)
    }
}

pub(super) fn steps_of(set: &[usize], choices: &[Choice]) -> Vec<Step> {
    set.iter().flat_map(|at| choices[*at].steps.iter().cloned()).collect()
}

/// Whether all of some changes can be made in a finished wall.
pub(super) fn finished(steps: &[Step]) -> Finished {
    steps.iter().map(|step| step.change.finished).max().unwrap_or(Finished::Yes)
}

pub(super) fn edits_of(steps: &[Step]) -> Vec<Edit> {
    steps.iter().flat_map(|step| step.edits.iter().cloned()).collect()
}

pub(super) struct Search<'s> {
    pub world: &'s World,
    pub row: &'s Row,
    pub outlet: &'s Outlet<'s>,
    pub comments: &'s [Comment],
    /// The rules to be settled: those to revise, or else those to clarify.
    pub targets: Vec<usize>,
    /// Every fact that each rule goes by.
    reads: Vec<BTreeSet<Slot>>,
}

impl<'s> Search<'s> {
    pub(super) fn new(
        world: &'s World,
        row: &'s Row,
        outlet: &'s Outlet<'s>,
        comments: &'s [Comment],
        targets: Vec<usize>,
    ) -> Self {
        let reads = reads(outlet);
        Self { world, row, outlet, comments, targets, reads }
    }

    /// Every fact that a rule to be settled goes by.
    pub(super) fn relevant(&self) -> BTreeSet<Slot> {
        self.targets.iter().flat_map(|at| self.reads[*at].iter().copied()).collect()
    }

    pub(super) fn rules(&self) -> &'s [Rule] {
        &self.world.job().rules.rules
    }

    pub(super) fn with(&self, steps: &[Step]) -> Outlet<'s> {
        self.world.outlet(&self.world.edited(self.row, &edits_of(steps)))
    }

    /// The targets that changes settle; none if they give another rule something to revise or to ask.
    pub(super) fn settles(&self, steps: &[Step]) -> BTreeSet<usize> {
        let outlet = self.with(steps);
        // A rule that goes by none of the facts says what it said.
        let edited: BTreeSet<Slot> = steps.iter().flat_map(Step::facts).collect();
        let is_touched = |at: usize| !self.reads[at].is_disjoint(&edited);
        // Where something is not stated, the usual answers may all leave nothing to say.
        let is_silent = |rule: &Rule| {
            let outcome = match verdict_of_trial(rule, &outlet) {
                Ok(outcome) => outcome,
                Err(gap) if gap.missing.is_empty() => return false,
                Err(_) => decide(rule, &outlet, &self.world.job().revise_on).outcome,
            };
            matches!(outcome, Outcome::NoComment | Outcome::DoesNotApply)
        };
        let solved: BTreeSet<usize> = self
            .targets
            .iter()
            .copied()
            .filter(|at| is_touched(*at) && is_silent(&self.rules()[*at]))
            .collect();
        let revise_on = &self.world.job().revise_on;
        let breaks = |(at, rule): (usize, &Rule)| {
            let before = &self.comments[at];
            rule.outcome == Outcome::Revise
                && before.outcome != Outcome::Revise
                && is_touched(at)
                && revise_on.contains(&rule.basis)
                && match verdict_of_trial(rule, &outlet) {
                    Ok(outcome) => outcome == Outcome::Revise,
                    Err(gap) => before.open.is_none() && !gap.missing.is_empty(),
                }
        };
        if solved.is_empty() || self.rules().iter().enumerate().any(|(at, rule)| breaks((at, rule))) {
            return BTreeSet::new();
        }
        solved
    }

    /// Another length; its seat is as far from its end as before.
    pub(super) fn longer(&self, nominal: f64) -> Step {
        let [own_length, seat, offset] = [NOMINAL_LENGTH, SEAT_DEPTH, SEAT_OFFSET].map(slot);
        let mut edits = vec![(own_length, Some(length(nominal)))];
        if self.outlet.is_stated(seat) {
            let known = (number(self.outlet, own_length), number(self.outlet, seat));
            let own = self.outlet.is_stated(offset);
            let kept = match known {
                (Some(before), Some(seat)) if !own && seat > 0.0 && seat < before => {
                    Some(length(nominal - (before - seat)))
                }
                _ => None,
            };
            edits.push((seat, kept));
        }
        Step { change: &LONGER, edits }
    }

    /// Whether a change is for such an outlet.
    pub(super) fn can_be(&self, change: &Alternative) -> bool {
        change.only.iter().all(|(fact, words)| {
            let value = slot_named(fact).map(|slot| self.outlet.get(slot).cloned());
            matches!(value, Some(Ok(Value::Text(word))) if words.contains(&&*word))
        })
    }

    /// The values of a change that differ from what the outlet is.
    pub(super) fn tries(&self, change: &Alternative) -> Vec<Vec<Edit>> {
        let put = |(fact, put): &(&str, Put)| {
            let value = match put {
                Put::Word(word) => Some(Value::Text((*word).into())),
                Put::YesNo(yes) => Some(Value::YesNo(*yes)),
                Put::Inches(inches) => Some(length(inches * INCH)),
                Put::PerFoot(inches) => Some(Value::Quantity(Quantity::of(inches / 12.0, Dim::NONE))),
                Put::Of(other) => Some(self.outlet.get(slot_named(other)?).ok()?.clone()),
                Put::Blank => None,
            };
            Some((slot_named(fact)?, value))
        };
        let mut all: Vec<Vec<Edit>> = Vec::new();
        for puts in change.tries {
            let Some(edits) = puts.iter().map(put).collect::<Option<Vec<Edit>>>() else { continue };
            match change.steps {
                None => all.push(edits),
                Some((fact, values)) => all.extend(values.iter().filter_map(|value| {
                    let step = put(&(fact, Put::Inches(*value)))?;
                    Some(edits.iter().cloned().chain([step]).collect())
                })),
            }
        }
        let is_change = |(slot, value): &Edit| match value {
            Some(value) => self.outlet.get(*slot).ok() != Some(value),
            None => self.outlet.is_stated(*slot),
        };
        // What stays as it is need not be written.
        for edits in &mut all {
            edits.retain(is_change);
        }
        all.retain(|edits| !edits.is_empty());
        all
    }

    pub(super) fn rank(&self, steps: &[Step]) -> Rank {
        let orders = steps.iter().any(|step| step.change.is_order);
        let others = steps.iter().filter(|step| !step.change.is_order).count();
        let facts = steps.iter().flat_map(|step| &step.edits).filter(|(_, value)| value.is_some()).count();
        let place =
            |step: &Step| ALTERNATIVES.iter().position(|it| it.name == step.name()).map_or(0, |at| at + 1);
        let cost = self.cost(steps).unwrap_or(f64::INFINITY);
        let changes = usize::from(orders) + others;
        Rank(cost, changes, finished(steps), facts, steps.iter().map(place).sum())
    }

    /// What changes add to the cost of the outlet; `None` if the cost of one of them is not stated.
    pub(super) fn cost(&self, steps: &[Step]) -> Option<f64> {
        let costs = &self.world.job().costs;
        let price = |outlet: &Outlet<'_>| number(outlet, slot(PRICE));
        let nominal = |outlet: &Outlet<'_>| number(outlet, slot(NOMINAL_LENGTH));
        let of = |step: &Step| match step.name() {
            name if name == MODEL.name => {
                Some(price(&self.with(std::slice::from_ref(step)))? - price(self.outlet)?)
            }
            name if name == LONGER.name => {
                let inches =
                    (nominal(&self.with(std::slice::from_ref(step)))? - nominal(self.outlet)?) / INCH;
                Some(costs.get(name)? * inches)
            }
            name => costs.get(name).copied(),
        };
        steps.iter().map(of).sum()
    }
}

/// Every fact that each rule goes by, directly or through others. One that was never computed is of no account, as nothing
/// of what led there changes.
fn reads(outlet: &Outlet<'_>) -> Vec<BTreeSet<Slot>> {
    let of_rule = |rule: &Rule| {
        let tests = rule.applies.iter().chain([&rule.needs]);
        let mut open: Vec<Slot> = tests.flat_map(|test| test.slots()).collect();
        let mut all = BTreeSet::new();
        while let Some(slot) = open.pop() {
            if all.insert(slot) {
                open.extend(outlet.read_for(slot));
            }
        }
        all
    };
    outlet.world().job().rules.rules.iter().map(of_rule).collect()
}

pub(super) fn number(outlet: &Outlet<'_>, slot: Slot) -> Option<f64> {
    outlet.known_quantity(slot).map(|quantity| quantity.is)
}
