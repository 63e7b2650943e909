//! Changes tried on an outlet: which rules they settle, and what they are ranked by.

use super::change::{ChangeKind, Finished, Put};
use super::table::{CHANGES, LONGER, MODEL};
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
/// Facts that identify the outlet to order.
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

/// The facts that identify the outlet to order, as far as they are known.
pub(in crate::review) fn order_of(outlet: &Outlet<'_>) -> Vec<Shown> {
    let known = ORDERED_BY.iter().filter_map(|name| {
        let slot = slot_named(name)?;
        let fact = outlet.fact(slot);
        // A size is ordered only if it is stated for the outlet: the job's is that of the pipe.
        let is_guess = *name == SIZE && matches!(fact.origin, Origin::Assumed(_) | Origin::Job(..));
        // A finish or handle left open in the schedule is open in the order too.
        let is_open = [FINISH, HANDLE].contains(name) && matches!(fact.origin, Origin::Unreadable(..));
        (fact.value.is_ok() && !is_guess || is_open).then(|| shown(slot, &fact, &outlet.world().job().rules))
    });
    known.collect()
}

/// A change with the values it sets.
#[derive(Clone)]
pub(super) struct TriedChange {
    pub kind: &'static ChangeKind,
    pub edits: Vec<Edit>,
}

/// Changes that together settle some of the targets.
pub(super) struct PartialRemedy {
    pub changes: Vec<TriedChange>,
    /// The targets they settle.
    pub settles: BTreeSet<usize>,
}

/// What sets of changes are ranked by, lowest first, in the order of the fields.
pub(super) struct Rank {
    /// Infinite if it is not known.
    cost: f64,
    /// Other outlets to order count as one.
    pub changes: usize,
    finished: Finished,
    /// Facts that are set.
    facts: usize,
    /// The sum of the positions in the table.
    positions: usize,
}

impl Rank {
    pub(super) fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
        let rest = |rank: &Self| (rank.changes, rank.finished, rank.facts, rank.positions);
        self.cost.total_cmp(&other.cost).then(rest(self).cmp(&rest(other)))
    }
}

impl TriedChange {
    pub(super) fn name(&self) -> &'static str {
        self.kind.name
    }

    pub(super) fn facts(&self) -> impl Iterator<Item = Slot> {
        self.edits.iter().map(|(slot, _)| *slot)
    }

    /// Whether both set one fact, so that they cannot be combined.
    pub(super) fn has_fact_of(&self, other: &Self) -> bool {
        self.facts().any(|fact| other.facts().any(|own| own == fact))
    }
}

/// The changes of a set of partial remedies, by index.
pub(super) fn changes_of(set: &[usize], partials: &[PartialRemedy]) -> Vec<TriedChange> {
    set.iter().flat_map(|index| partials[*index].changes.iter().cloned()).collect()
}

/// Whether all of the changes can be made in a finished wall.
pub(super) fn finished(changes: &[TriedChange]) -> Finished {
    changes.iter().map(|change| change.kind.finished).max().unwrap_or(Finished::Yes)
}

pub(super) fn edits_of(changes: &[TriedChange]) -> Vec<Edit> {
    changes.iter().flat_map(|change| change.edits.iter().cloned()).collect()
}

/// An outlet with the rules that a remedy must settle.
pub(super) struct Search<'s> {
    pub world: &'s World,
    pub row: &'s Row,
    pub outlet: &'s Outlet<'s>,
    pub comments: &'s [Comment],
    /// The rules to settle, by index: those with something to revise, or if there is none to clarify.
    pub targets: Vec<usize>,
    /// Every fact that each rule depends on.
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
        let reads = facts_of_rules(outlet);
        Self { world, row, outlet, comments, targets, reads }
    }

    /// Every fact that a target depends on.
    pub(super) fn relevant(&self) -> BTreeSet<Slot> {
        self.targets.iter().flat_map(|at| self.reads[*at].iter().copied()).collect()
    }

    pub(super) fn rules(&self) -> &'s [Rule] {
        &self.world.job().rules.rules
    }

    /// The outlet with these changes made.
    pub(super) fn with(&self, changes: &[TriedChange]) -> Outlet<'s> {
        self.world.outlet(&self.world.edited(self.row, &edits_of(changes)))
    }

    /// The targets that changes settle; none if they give another rule something to revise or to clarify.
    pub(super) fn settles(&self, changes: &[TriedChange]) -> BTreeSet<usize> {
        let outlet = self.with(changes);
        // A rule that depends on none of the edited facts keeps its outcome.
        let edited: BTreeSet<Slot> = changes.iter().flat_map(TriedChange::facts).collect();
        let is_touched = |at: usize| !self.reads[at].is_disjoint(&edited);
        // If a fact is missing, every usual answer may still lead to no comment.
        let is_silent = |rule: &Rule| {
            let outcome = match verdict_of_trial(rule, &outlet) {
                Ok(outcome) => outcome,
                Err(gap) if gap.missing.is_empty() => return false,
                Err(_) => decide(rule, &outlet, &self.world.job().revise_on).outcome,
            };
            !outcome.is_comment()
        };
        let settled: BTreeSet<usize> = self
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
        if settled.is_empty() || self.rules().iter().enumerate().any(|(at, rule)| breaks((at, rule))) {
            return BTreeSet::new();
        }
        settled
    }

    /// Another length. Its seat keeps its distance from the end.
    pub(super) fn longer(&self, nominal: f64) -> TriedChange {
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
        TriedChange { kind: &LONGER, edits }
    }

    /// Whether a change is possible for this outlet.
    pub(super) fn suits(&self, kind: &ChangeKind) -> bool {
        kind.only.iter().all(|(fact, words)| {
            let value = slot_named(fact).map(|slot| self.outlet.get(slot).cloned());
            matches!(value, Some(Ok(Value::Text(word))) if words.contains(&&*word))
        })
    }

    /// The values of a change to try: those that differ from the outlet's own.
    pub(super) fn tries(&self, kind: &ChangeKind) -> Vec<Vec<Edit>> {
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
        for puts in kind.tries {
            let Some(edits) = puts.iter().map(put).collect::<Option<Vec<Edit>>>() else { continue };
            match kind.sizes {
                None => all.push(edits),
                Some((fact, values)) => all.extend(values.iter().filter_map(|value| {
                    let size = put(&(fact, Put::Inches(*value)))?;
                    Some(edits.iter().cloned().chain([size]).collect())
                })),
            }
        }
        let is_change = |(slot, value): &Edit| match value {
            Some(value) => self.outlet.get(*slot).ok() != Some(value),
            None => self.outlet.is_stated(*slot),
        };
        // Leave out values that stay the same.
        for edits in &mut all {
            edits.retain(is_change);
        }
        all.retain(|edits| !edits.is_empty());
        all
    }

    pub(super) fn rank(&self, changes: &[TriedChange]) -> Rank {
        let orders = changes.iter().any(|change| change.kind.is_order);
        let others = changes.iter().filter(|change| !change.kind.is_order).count();
        let facts =
            changes.iter().flat_map(|change| &change.edits).filter(|(_, value)| value.is_some()).count();
        let position = |change: &TriedChange| {
            CHANGES.iter().position(|it| it.name == change.name()).map_or(0, |at| at + 1)
        };
        Rank {
            cost: self.cost(changes).unwrap_or(f64::INFINITY),
            changes: usize::from(orders) + others,
            finished: finished(changes),
            facts,
            positions: changes.iter().map(position).sum(),
        }
    }

    /// What changes add to the cost of the outlet, in dollars; `None` if the cost of one of them is not stated.
    pub(super) fn cost(&self, changes: &[TriedChange]) -> Option<f64> {
        let costs = &self.world.job().costs;
        let price = |outlet: &Outlet<'_>| number(outlet, slot(PRICE));
        let nominal = |outlet: &Outlet<'_>| number(outlet, slot(NOMINAL_LENGTH));
        let of = |change: &TriedChange| match change.name() {
            name if name == MODEL.name => {
                Some(price(&self.with(std::slice::from_ref(change)))? - price(self.outlet)?)
            }
            name if name == LONGER.name => {
                let inches =
                    (nominal(&self.with(std::slice::from_ref(change)))? - nominal(self.outlet)?) / INCH;
                Some(costs.get(name)? * inches)
            }
            name => costs.get(name).copied(),
        };
        changes.iter().map(of).sum()
    }
}

/// Every fact that each rule depends on, directly or through others. A fact that was never computed is left out, as no rule
/// needed it.
fn facts_of_rules(outlet: &Outlet<'_>) -> Vec<BTreeSet<Slot>> {
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

/// The best estimate of a quantity that is known.
pub(super) fn number(outlet: &Outlet<'_>, slot: Slot) -> Option<f64> {
    outlet.known_quantity(slot).map(|quantity| quantity.is)
}
