//! Searches for remedies. Changes come from a table, and only those are tried that bear on a rule that asks for
//! something; what is found is reviewed again as a whole.

use super::Remedy;
use super::step::{Choice, Rank, Search, Step, number, steps_of};
use super::table::{ALTERNATIVES, LONGER, MODEL};
use crate::expr::{Slot, Value, Values};
use crate::facts::columns::{CLOSES_AT, NOMINAL_LENGTH, SEAT_DEPTH};
use crate::facts::heat::{NEXT_LENGTH, SEAT_TEMPERATURE};
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
    let with =
        |outcome| (0..comments.len()).filter(|at| comments[*at].outcome == outcome).collect::<Vec<_>>();
    let revise = with(Outcome::Revise);
    let targets = if revise.is_empty() { with(Outcome::Clarify) } else { revise };
    if targets.is_empty() {
        return Vec::new();
    }
    let search = Search::new(world, row, outlet, comments, targets);
    let options = search.options();
    let mut sets = Vec::new();
    search.combine(&options, &mut Vec::new(), &mut sets);
    let mut ranked: Vec<(Rank, Vec<Step>)> = sets
        .into_iter()
        .map(|set| {
            let steps = steps_of(&set, &options);
            (search.rank(&steps), steps)
        })
        .collect();
    ranked.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    let most = match detail {
        Detail::Whole => MOST_LISTED,
        Detail::Brief => 1,
        Detail::Outcomes => return Vec::new(),
    };
    let mut found: Vec<(Vec<Step>, Remedy)> = Vec::new();
    for (_, steps) in ranked.into_iter().take(MOST_REVIEWED) {
        if found.len() == most {
            break;
        }
        // More than one of those found already needs.
        let has =
            |known: &Vec<Step>| known.iter().all(|step| steps.iter().any(|own| own.name() == step.name()));
        if !found.iter().any(|(known, _)| has(known))
            && let Some(remedy) = search.prove(&steps)
        {
            found.push((steps, remedy));
        }
    }
    found.into_iter().map(|(_, remedy)| remedy).collect()
}

impl Search<'_> {
    /// Changes that settle something: single ones, and those that warm the seat with another outlet, or two of them
    /// where that takes fewer changes.
    fn options(&self) -> Vec<Choice> {
        let relevant = self.relevant();
        let bears = |edits: &[Edit]| edits.iter().any(|(slot, _)| relevant.contains(slot));
        let orders = self.orders(&relevant);
        let has_models = orders.iter().any(|order| order.name() == MODEL.name);
        let mut choices: Vec<Choice> = Vec::new();
        let mut warming: Vec<Step> = Vec::new();
        for change in
            ALTERNATIVES.iter().filter(|change| self.can_be(change) && !(has_models && change.is_of_model))
        {
            let tries: Vec<Vec<Edit>> = self.tries(change).into_iter().filter(|edits| bears(edits)).collect();
            // One of several lengths of pipe, the usual one, goes with another outlet.
            let usual = tries.len() / 2;
            let with_order = |at: &usize| change.warms && (change.is_order || *at == usual);
            let numbered = tries.iter().enumerate().filter(|(at, _)| with_order(at));
            warming.extend(numbered.map(|(_, edits)| Step { change, edits: edits.clone() }));
            // The first that settles most.
            let mut best: Option<Choice> = None;
            for edits in tries {
                let choice = self.choice(vec![Step { change, edits }]);
                if choice.settles.len() > best.as_ref().map_or(0, |best| best.settles.len()) {
                    best = Some(choice);
                }
                if best.as_ref().is_some_and(|best| best.settles.len() == self.targets.len()) {
                    break;
                }
            }
            choices.extend(best);
        }
        choices.extend(self.with_another_outlet(&[], &orders));
        let has_costs = !self.world.job().costs.is_empty();
        if has_costs || self.least_changes(&choices).is_none_or(|least| least > 1) {
            for step in &warming {
                choices.extend(self.with_another_outlet(std::slice::from_ref(step), &orders));
            }
        }
        if self.least_changes(&choices).is_none_or(|least| least > 2) {
            for (at, one) in warming.iter().enumerate() {
                for other in &warming[at + 1..] {
                    if one.name() != other.name()
                        && !other.facts().any(|slot| one.facts().any(|own| own == slot))
                    {
                        let both = [one.clone(), other.clone()];
                        let alone = self.choice(both.to_vec());
                        let is_more = alone.settles.len() == self.targets.len();
                        choices.extend(is_more.then_some(alone));
                        choices.extend(self.with_another_outlet(&both, &orders));
                    }
                }
            }
        }
        choices
    }

    fn choice(&self, steps: Vec<Step>) -> Choice {
        let settles = self.settles(&steps);
        Choice { steps, settles }
    }

    /// The fewest changes that settle every target.
    fn least_changes(&self, choices: &[Choice]) -> Option<usize> {
        let mut sets = Vec::new();
        self.combine(choices, &mut Vec::new(), &mut sets);
        sets.iter().map(|set| self.rank(&steps_of(set, choices)).1).min()
    }

    /// Other outlets to order: the models of the product data, by name, or if there are none the longer listed lengths, the
    /// shortest first.
    fn orders(&self, relevant: &BTreeSet<Slot>) -> Vec<Step> {
        let models = self.world.models();
        if !models.is_empty() {
            return models.into_iter().map(|(_, edits)| Step { change: &MODEL, edits }).collect();
        }
        if ![NOMINAL_LENGTH, SEAT_DEPTH, CLOSES_AT].iter().any(|def| relevant.contains(&slot(def))) {
            return Vec::new();
        }
        let now = number(self.outlet, slot(NOMINAL_LENGTH));
        let longer = facts::nominal_lengths().filter(|nominal| now.is_none_or(|now| *nominal > now + 1e-6));
        longer.map(|nominal| self.longer(nominal)).collect()
    }

    /// `context` with the other outlet that settles most, the first of equals; `None` if none settles more than `context` alone.
    fn with_another_outlet(&self, context: &[Step], orders: &[Step]) -> Option<Choice> {
        let alone = if context.is_empty() { BTreeSet::new() } else { self.settles(context) };
        if alone.len() == self.targets.len() {
            return None;
        }
        let outlet = self.with(context);
        let is_longer = orders.first()?.name() == LONGER.name;
        if is_longer && outlet.get(slot(CLOSES_AT)) != Ok(&Value::Text("inside".into())) {
            return None;
        }
        // A length below `heat.next_length` would freeze: where a target depends on the seat temperature, or where the change
        // itself makes the outlet close inside.
        let by_heat =
            self.targets.iter().any(|at| self.rules()[*at].needs.slots().contains(&slot(SEAT_TEMPERATURE)));
        let becomes_frostproof = context.iter().flat_map(Step::facts).any(|fact| fact == slot(CLOSES_AT));
        let mut least = 0.0;
        if is_longer && (by_heat || becomes_frostproof) {
            match outlet.get(slot(NEXT_LENGTH)) {
                Ok(Value::Quantity(length)) => least = length.is,
                // Something is not stated that the lengths to try may do without.
                Err(gap) if !gap.missing.is_empty() => {}
                _ if by_heat => return None,
                _ => {}
            }
        }
        let mut best: Option<Choice> = None;
        for order in orders {
            let length = order.edits.iter().find(|(fact, _)| *fact == slot(NOMINAL_LENGTH));
            let is_short = matches!(length, Some((_, Some(Value::Quantity(own)))) if own.is < least - 1e-6);
            if (is_longer && is_short)
                || order.facts().any(|fact| context.iter().any(|step| step.facts().any(|own| own == fact)))
            {
                continue;
            }
            let choice = self.choice(context.iter().cloned().chain([order.clone()]).collect());
            if choice.settles.len() > best.as_ref().map_or(alone.len(), |best| best.settles.len()) {
                best = Some(choice);
            }
            if best.as_ref().is_some_and(|best| best.settles.len() == self.targets.len()) {
                break;
            }
        }
        best
    }

    /// Sets of compatible choices that settle every target between them.
    fn combine(&self, options: &[Choice], chosen: &mut Vec<usize>, sets: &mut Vec<Vec<usize>>) {
        let open =
            self.targets.iter().find(|at| !chosen.iter().any(|own| options[*own].settles.contains(at)));
        let Some(open) = open else {
            let mut set = chosen.clone();
            set.sort_unstable();
            if !sets.contains(&set) {
                sets.push(set);
            }
            return;
        };
        for (at, option) in options.iter().enumerate().filter(|(_, option)| option.settles.contains(open)) {
            if sets.len() >= MOST_COMBINED {
                return;
            }
            let facts: BTreeSet<Slot> = option.steps.iter().flat_map(Step::facts).collect();
            let mut others = chosen.iter().flat_map(|own| &options[*own].steps);
            if !others.any(|step| step.facts().any(|slot| facts.contains(&slot))) {
                chosen.push(at);
                self.combine(options, chosen, sets);
                chosen.pop();
            }
        }
    }
}
