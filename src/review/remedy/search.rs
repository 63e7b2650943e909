//! Searches for remedies: tries the changes of a table that bear on a rule with something to revise or clarify, and reviews
//! the outlet again with each of the best sets that settle all targets.

use super::Remedy;
use super::table::{CHANGES, LONGER, MODEL};
use super::tried::{PartialRemedy, Rank, Search, TriedChange, changes_of, number};
use crate::expr::{Slot, Value, Values};
use crate::facts::columns::{CLOSES_AT, NOMINAL_LENGTH, SEAT_DEPTH};
use crate::facts::heat::{ENOUGH_LENGTH, SEAT_TEMPERATURE};
use crate::facts::{self, Edit, Outlet, World, slot};
use crate::review::{Comment, Detail};
use crate::ruleset::Outcome;
use crate::schedule::Row;
use std::collections::BTreeSet;

/// Remedies listed for an outlet; a summary prints the first.
const MOST_LISTED: usize = 3;
/// Sets of changes that are reviewed as a whole.
const MOST_REVIEWED: usize = 12;
/// Sets of changes put together before they are ranked.
const MOST_COMBINED: usize = 200;

/// Sets of changes that settle every comment to revise, or if there is none every comment to clarify, the cheapest first.
pub(in crate::review) fn remedies(
    world: &World,
    row: &Row,
    outlet: &Outlet<'_>,
    comments: &[Comment],
    detail: Detail,
) -> Vec<Remedy> {
    let most = match detail {
        Detail::Whole => MOST_LISTED,
        Detail::Brief => 1,
        Detail::Outcomes => return Vec::new(),
    };
    let with =
        |outcome| (0..comments.len()).filter(|at| comments[*at].outcome == outcome).collect::<Vec<_>>();
    let revise = with(Outcome::Revise);
    let targets = if revise.is_empty() { with(Outcome::Clarify) } else { revise };
    if targets.is_empty() {
        return Vec::new();
    }
    let search = Search::new(world, row, outlet, comments, targets);
    let partials = search.partials();
    let sets = search.sets(&partials).into_iter().map(|set| changes_of(&set, &partials));
    let mut ranked: Vec<(Rank, Vec<TriedChange>)> =
        sets.map(|changes| (search.rank(&changes), changes)).collect();
    ranked.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    let mut found: Vec<(Vec<TriedChange>, Remedy)> = Vec::new();
    for (_, changes) in ranked.into_iter().take(MOST_REVIEWED) {
        if found.len() == most {
            break;
        }
        // Skip a set that has every change of a remedy already found.
        let contains = |known: &[TriedChange]| {
            known.iter().all(|change| changes.iter().any(|own| own.name() == change.name()))
        };
        if !found.iter().any(|(known, _)| contains(known))
            && let Some(remedy) = search.prove(&changes)
        {
            found.push((changes, remedy));
        }
    }
    found.into_iter().map(|(_, remedy)| remedy).collect()
}

impl Search<'_> {
    /// Changes that settle some of the targets:
    ///
    /// 1. of each kind of change the try that settles most, and another length or model alone;
    /// 2. a change that warms the seat together with another length or model, unless one change settles all targets and
    ///    the job states no costs;
    /// 3. two changes that warm the seat, alone if they settle all targets, and with another length or model, unless at
    ///    most two changes settle all targets.
    fn partials(&self) -> Vec<PartialRemedy> {
        let relevant = self.relevant();
        let bears = |edits: &[Edit]| edits.iter().any(|(slot, _)| relevant.contains(slot));
        let orders = self.orders(&relevant);
        let has_models = orders.iter().any(|order| order.name() == MODEL.name);
        let mut partials: Vec<PartialRemedy> = Vec::new();
        let mut warming: Vec<TriedChange> = Vec::new();
        for kind in CHANGES.iter().filter(|kind| self.suits(kind) && !(has_models && kind.is_of_model)) {
            let tries: Vec<Vec<Edit>> = self.tries(kind).into_iter().filter(|edits| bears(edits)).collect();
            // Of a change with several tries only the middle one goes into combinations, to keep the number of sets small;
            // of one that orders, all do.
            let middle = tries.len() / 2;
            let is_combined = |index: usize| kind.warms && (kind.is_order || index == middle);
            let combined = tries.iter().enumerate().filter(|(index, _)| is_combined(*index));
            warming.extend(combined.map(|(_, edits)| TriedChange { kind, edits: edits.clone() }));
            let singles = tries.into_iter().map(|edits| vec![TriedChange { kind, edits }]);
            partials.extend(self.best(singles, 0));
        }
        partials.extend(self.with_length_or_model(&[], &orders));
        let has_costs = !self.world.job().costs.is_empty();
        if has_costs || self.fewest_changes(&partials).is_none_or(|fewest| fewest > 1) {
            for change in &warming {
                partials.extend(self.with_length_or_model(std::slice::from_ref(change), &orders));
            }
        }
        if self.fewest_changes(&partials).is_none_or(|fewest| fewest > 2) {
            for (index, one) in warming.iter().enumerate() {
                for other in &warming[index + 1..] {
                    if one.name() == other.name() || one.has_fact_of(other) {
                        continue;
                    }
                    let both = [one.clone(), other.clone()];
                    let pair = self.partial(both.to_vec());
                    let settles_all = pair.settles.len() == self.targets.len();
                    partials.extend(settles_all.then_some(pair));
                    partials.extend(self.with_length_or_model(&both, &orders));
                }
            }
        }
        partials
    }

    fn partial(&self, changes: Vec<TriedChange>) -> PartialRemedy {
        let settles = self.settles(&changes);
        PartialRemedy { changes, settles }
    }

    /// Of sets of changes the one that settles most targets and more than `least`, the first of equals. Stops at one that
    /// settles all.
    fn best(&self, sets: impl Iterator<Item = Vec<TriedChange>>, least: usize) -> Option<PartialRemedy> {
        let mut best: Option<PartialRemedy> = None;
        for changes in sets {
            let partial = self.partial(changes);
            if partial.settles.len() > best.as_ref().map_or(least, |best| best.settles.len()) {
                best = Some(partial);
            }
            if best.as_ref().is_some_and(|best| best.settles.len() == self.targets.len()) {
                break;
            }
        }
        best
    }

    /// The fewest changes among the sets that [`Self::sets`] puts together from these partial remedies.
    fn fewest_changes(&self, partials: &[PartialRemedy]) -> Option<usize> {
        let sets = self.sets(partials);
        sets.iter().map(|set| self.rank(&changes_of(set, partials)).changes).min()
    }

    /// What can be ordered instead: the models of the product data, by name, whatever the rules read; or if there are none
    /// and a rule reads a length, the longer stock lengths, the shortest first.
    fn orders(&self, relevant: &BTreeSet<Slot>) -> Vec<TriedChange> {
        let models = self.world.models();
        if !models.is_empty() {
            return models.into_iter().map(|(_, edits)| TriedChange { kind: &MODEL, edits }).collect();
        }
        if ![NOMINAL_LENGTH, SEAT_DEPTH, CLOSES_AT].iter().any(|def| relevant.contains(&slot(def))) {
            return Vec::new();
        }
        let now = number(self.outlet, slot(NOMINAL_LENGTH));
        let longer = facts::nominal_lengths().filter(|nominal| now.is_none_or(|now| *nominal > now + 1e-6));
        longer.map(|nominal| self.longer(nominal)).collect()
    }

    /// `context` with the length or model that settles most, the first of equals. `None` if none settles more than
    /// `context` alone; of lengths also if the outlet of `context` does not close inside, or if none is long enough for a
    /// target that depends on the seat temperature.
    fn with_length_or_model(&self, context: &[TriedChange], orders: &[TriedChange]) -> Option<PartialRemedy> {
        let alone = if context.is_empty() { 0 } else { self.settles(context).len() };
        if alone == self.targets.len() {
            return None;
        }
        let outlet = self.with(context);
        let is_longer = orders.first()?.name() == LONGER.name;
        if is_longer && outlet.get(slot(CLOSES_AT)) != Ok(&Value::Text("inside".into())) {
            return None;
        }
        // Skip lengths below `heat.next_length`, which would freeze, if a target depends on the seat temperature or if
        // `context` itself makes the outlet close inside.
        let by_heat =
            self.targets.iter().any(|at| self.rules()[*at].needs.slots().contains(&slot(SEAT_TEMPERATURE)));
        let becomes_frostproof =
            context.iter().flat_map(TriedChange::facts).any(|fact| fact == slot(CLOSES_AT));
        let mut shortest = 0.0;
        if is_longer && (by_heat || becomes_frostproof) {
            match outlet.get(slot(ENOUGH_LENGTH)) {
                Ok(Value::Quantity(length)) => shortest = length.is,
                // Not known for want of a fact: try every length.
                Err(gap) if !gap.missing.is_empty() => {}
                // No length is enough.
                Err(_) if by_heat => return None,
                _ => {}
            }
        }
        let is_too_short = |order: &TriedChange| {
            let length = order.edits.iter().find(|(fact, _)| *fact == slot(NOMINAL_LENGTH));
            is_longer && matches!(length, Some((_, Some(Value::Quantity(own)))) if own.is < shortest - 1e-6)
        };
        let orders = orders
            .iter()
            .filter(|order| !is_too_short(order) && !context.iter().any(|change| change.has_fact_of(order)));
        self.best(orders.map(|order| context.iter().chain([order]).cloned().collect()), alone)
    }

    /// Sets of compatible partial remedies, by index, that together settle every target; at most [`MOST_COMBINED`].
    fn sets(&self, partials: &[PartialRemedy]) -> Vec<Vec<usize>> {
        let mut sets = Vec::new();
        self.extend_sets(partials, &mut Vec::new(), &mut sets);
        sets
    }

    /// Adds to `sets` those that start with the `chosen` partial remedies.
    fn extend_sets(&self, partials: &[PartialRemedy], chosen: &mut Vec<usize>, sets: &mut Vec<Vec<usize>>) {
        let is_settled = |target: &usize| chosen.iter().any(|own| partials[*own].settles.contains(target));
        let Some(unsettled) = self.targets.iter().find(|target| !is_settled(target)) else {
            let mut set = chosen.clone();
            set.sort_unstable();
            if !sets.contains(&set) {
                sets.push(set);
            }
            return;
        };
        for (index, partial) in partials.iter().enumerate() {
            if !partial.settles.contains(unsettled) {
                continue;
            }
            if sets.len() >= MOST_COMBINED {
                return;
            }
            let mut others = chosen.iter().flat_map(|own| &partials[*own].changes);
            if !others.any(|other| partial.changes.iter().any(|change| change.has_fact_of(other))) {
                chosen.push(index);
                self.extend_sets(partials, chosen, sets);
                chosen.pop();
            }
        }
    }
}
