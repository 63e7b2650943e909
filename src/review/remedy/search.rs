//! Searches for remedies. Changes come from a table, and only those are tried that bear on a rule that asks for
//! something; what is found is reviewed again as a whole.

use super::table::{ALTERNATIVES, Alternative, Finished, LONGER, MODEL, Put};
use super::{Change, Remedy, Short};
use crate::expr::{Readings, Slot, Value};
use crate::facts::columns::{CLOSES_AT, NOMINAL_LENGTH, SEAT_DEPTH, SEAT_OFFSET};
use crate::facts::heat::{NEXT_LENGTH, SEAT_TEMPERATURE};
use crate::facts::{self, Edit, Origin, Outlet, World, slot, slot_named};
use crate::review::judge::decide;
use crate::review::shown::shown;
use crate::review::verdict::verdict;
use crate::review::{Comment, Piece};
use crate::ruleset::{Outcome, Rule};
use crate::schedule::Row;
use crate::units::{Dim, INCH, Quantity};
use std::collections::BTreeSet;

/// Remedies listed for an outlet.
const MOST_LISTED: usize = 3;
/// Sets of changes that are reviewed as a whole.
const MOST_REVIEWED: usize = 12;
/// Sets of changes put together before they are ranked.
const MOST_COMBINED: usize = 200;
/// Facts that tell which outlet to order.
const ORDERED_BY: [&str; 8] = [
    "outlet.model",
    "outlet.kind",
    "outlet.closes",
    "outlet.nominal_length",
    "outlet.barrel",
    "outlet.backflow_device",
    "outlet.backflow_standard",
    "outlet.bury_depth",
];

/// The least changes to a row's outlet that leave nothing to revise, the best first.
pub(in crate::review) fn remedies(
    world: &World,
    row: &Row,
    outlet: &Outlet<'_>,
    comments: &[Comment],
) -> Vec<Remedy> {
    let with =
        |outcome| (0..comments.len()).filter(|at| comments[*at].outcome == outcome).collect::<Vec<_>>();
    let revise = with(Outcome::Revise);
    let targets = if revise.is_empty() { with(Outcome::Clarify) } else { revise };
    if targets.is_empty() {
        return Vec::new();
    }
    let search = Search { world, row, outlet, comments, targets };
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
    let mut found: Vec<(Vec<Step>, Remedy)> = Vec::new();
    for (_, steps) in ranked.into_iter().take(MOST_REVIEWED) {
        if found.len() == MOST_LISTED {
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

/// A change with its values.
#[derive(Clone)]
struct Step {
    change: &'static Alternative,
    edits: Vec<Edit>,
}

/// Changes that together settle some of the rules.
struct Choice {
    steps: Vec<Step>,
    /// Which of the targets, by index.
    solves: BTreeSet<usize>,
}

/// What sets of changes are ranked by: unknown cost last, cost, changes, facts, and their places in the table.
struct Rank(f64, usize, usize, usize);

impl Rank {
    fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0).then((self.1, self.2, self.3).cmp(&(other.1, other.2, other.3)))
    }
}

impl Step {
    fn name(&self) -> &'static str {
        self.change.name
    }

    fn facts(&self) -> impl Iterator<Item = Slot> {
        self.edits.iter().map(|(slot, _)| *slot)
    }
}

fn steps_of(set: &[usize], choices: &[Choice]) -> Vec<Step> {
    set.iter().flat_map(|at| choices[*at].steps.iter().cloned()).collect()
}

fn edits_of(steps: &[Step]) -> Vec<Edit> {
    steps.iter().flat_map(|step| step.edits.iter().cloned()).collect()
}

struct Search<'s> {
    world: &'s World,
    row: &'s Row,
    outlet: &'s Outlet<'s>,
    comments: &'s [Comment],
    /// The rules to be settled: those to revise, or else those to clarify.
    targets: Vec<usize>,
}

impl<'s> Search<'s> {
    fn rules(&self) -> &'s [Rule] {
        &self.world.job().rules.rules
    }

    fn with(&self, steps: &[Step]) -> Outlet<'s> {
        self.world.outlet(&self.world.edited(self.row, &edits_of(steps)))
    }

    /// The targets that changes settle; none if they give another rule something to revise or to ask.
    fn solves(&self, steps: &[Step]) -> BTreeSet<usize> {
        let outlet = self.with(steps);
        let is_silent =
            |rule| matches!(verdict(rule, &outlet), Ok(Outcome::NoComment | Outcome::DoesNotApply));
        let solved: BTreeSet<usize> =
            self.targets.iter().copied().filter(|at| is_silent(&self.rules()[*at])).collect();
        let revise_on = &self.world.job().revise_on;
        let breaks = |(at, rule): (usize, &Rule)| {
            let before = &self.comments[at];
            rule.outcome == Outcome::Revise
                && before.outcome != Outcome::Revise
                && revise_on.contains(&rule.basis)
                && match verdict(rule, &outlet) {
                    Ok(outcome) => outcome == Outcome::Revise,
                    Err(gap) => before.open.is_none() && !gap.missing.is_empty(),
                }
        };
        if solved.is_empty() || self.rules().iter().enumerate().any(|(at, rule)| breaks((at, rule))) {
            return BTreeSet::new();
        }
        solved
    }

    /// Every fact that a rule to be settled goes by.
    fn relevant(&self) -> BTreeSet<Slot> {
        let known = self.outlet.known_so_far();
        let mut open: Vec<Slot> = self.targets.iter().flat_map(|at| self.rules()[*at].slots()).collect();
        let mut relevant = BTreeSet::new();
        while let Some(slot) = open.pop() {
            if !relevant.insert(slot) {
                continue;
            }
            match known.iter().find(|(own, _)| *own == slot).map(|(_, fact)| &fact.origin) {
                Some(Origin::Computed(reads)) => open.extend(reads),
                Some(_) => open.extend(self.outlet.reads(slot)),
                None => {}
            }
        }
        relevant
    }

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
                if choice.solves.len() > best.as_ref().map_or(0, |best| best.solves.len()) {
                    best = Some(choice);
                }
                if best.as_ref().is_some_and(|best| best.solves.len() == self.targets.len()) {
                    break;
                }
            }
            choices.extend(best);
        }
        choices.extend(self.with_another_outlet(&[], &orders));
        if self.least_changes(&choices).is_none_or(|least| least > 1) {
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
                        let is_more = alone.solves.len() == self.targets.len();
                        choices.extend(is_more.then_some(alone));
                        choices.extend(self.with_another_outlet(&both, &orders));
                    }
                }
            }
        }
        choices
    }

    fn choice(&self, steps: Vec<Step>) -> Choice {
        let solves = self.solves(&steps);
        Choice { steps, solves }
    }

    /// The fewest changes that settle every target.
    fn least_changes(&self, choices: &[Choice]) -> Option<usize> {
        let mut sets = Vec::new();
        self.combine(choices, &mut Vec::new(), &mut sets);
        sets.iter().map(|set| self.rank(&steps_of(set, choices)).1).min()
    }

    /// Other outlets to order, the shortest first: models of the product data, or else the longer listed lengths.
    fn orders(&self, relevant: &BTreeSet<Slot>) -> Vec<Step> {
        let models = self.world.models();
        if !models.is_empty() {
            return models.into_iter().map(|(_, edits)| Step { change: &MODEL, edits }).collect();
        }
        if !relevant.contains(&slot(NOMINAL_LENGTH)) && !relevant.contains(&slot(SEAT_DEPTH)) {
            return Vec::new();
        }
        let now = number(self.outlet, slot(NOMINAL_LENGTH));
        let longer = facts::nominal_lengths().filter(|nominal| now.is_none_or(|now| *nominal > now + 1e-6));
        longer.map(|nominal| self.longer(nominal)).collect()
    }

    /// Changes with the first other outlet that settles more than they do alone.
    fn with_another_outlet(&self, context: &[Step], orders: &[Step]) -> Option<Choice> {
        let alone = if context.is_empty() { BTreeSet::new() } else { self.solves(context) };
        if alone.len() == self.targets.len() {
            return None;
        }
        let outlet = self.with(context);
        let is_longer = orders.first()?.name() == LONGER.name;
        if is_longer && outlet.get(slot(CLOSES_AT)) != Ok(&Value::Text("inside".into())) {
            return None;
        }
        // No shorter one keeps the seat warm, where that is to be settled.
        let by_heat =
            self.targets.iter().any(|at| self.rules()[*at].needs.slots().contains(&slot(SEAT_TEMPERATURE)));
        let least = match outlet.get(slot(NEXT_LENGTH)) {
            Ok(Value::Quantity(least)) => least.is,
            _ if by_heat && is_longer => return None,
            _ => 0.0,
        };
        let mut best: Option<Choice> = None;
        for order in orders {
            let length = order.edits.iter().find(|(fact, _)| *fact == slot(NOMINAL_LENGTH));
            let is_short = matches!(length, Some((_, Some(Value::Quantity(own)))) if own.is < least - 1e-6);
            if (is_longer && by_heat && is_short)
                || order.facts().any(|fact| context.iter().any(|step| step.facts().any(|own| own == fact)))
            {
                continue;
            }
            let choice = self.choice(context.iter().cloned().chain([order.clone()]).collect());
            if choice.solves.len() > best.as_ref().map_or(alone.len(), |best| best.solves.len()) {
                best = Some(choice);
            }
            if best.as_ref().is_some_and(|best| best.solves.len() == self.targets.len()) {
                break;
            }
        }
        best
    }

    /// Another length; its seat is as far from its end as before.
    fn longer(&self, nominal: f64) -> Step {
        let [length, seat, offset] = [NOMINAL_LENGTH, SEAT_DEPTH, SEAT_OFFSET].map(slot);
        let mut edits = vec![(length, Some(meters(nominal)))];
        if self.outlet.stated(seat) {
            let known = (number(self.outlet, length), number(self.outlet, seat));
            let own = self.outlet.stated(offset);
            let kept = match known {
                (Some(before), Some(seat)) if !own && seat > 0.0 && seat < before => {
                    Some(meters(nominal - (before - seat)))
                }
                _ => None,
            };
            edits.push((seat, kept));
        }
        Step { change: &LONGER, edits }
    }

    /// Whether a change is for such an outlet.
    fn can_be(&self, change: &Alternative) -> bool {
        change.only.iter().all(|(fact, words)| {
            let value = slot_named(fact).map(|slot| self.outlet.get(slot).cloned());
            matches!(value, Some(Ok(Value::Text(word))) if words.contains(&&*word))
        })
    }

    /// The values of a change that differ from what the outlet is.
    fn tries(&self, change: &Alternative) -> Vec<Vec<Edit>> {
        let put = |(fact, put): &(&str, Put)| {
            let value = match put {
                Put::Word(word) => Some(Value::Text((*word).into())),
                Put::YesNo(yes) => Some(Value::YesNo(*yes)),
                Put::Inches(inches) => Some(meters(inches * INCH)),
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
            None => self.outlet.stated(*slot),
        };
        // What stays as it is need not be written.
        for edits in &mut all {
            edits.retain(is_change);
        }
        all.retain(|edits| !edits.is_empty());
        all
    }

    /// Sets of compatible choices that settle every target between them.
    fn combine(&self, options: &[Choice], chosen: &mut Vec<usize>, sets: &mut Vec<Vec<usize>>) {
        let open = self.targets.iter().find(|at| !chosen.iter().any(|own| options[*own].solves.contains(at)));
        let Some(open) = open else {
            let mut set = chosen.clone();
            set.sort_unstable();
            if !sets.contains(&set) {
                sets.push(set);
            }
            return;
        };
        for (at, option) in options.iter().enumerate().filter(|(_, option)| option.solves.contains(open)) {
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

    fn rank(&self, steps: &[Step]) -> Rank {
        let orders = steps.iter().any(|step| step.change.is_order);
        let others = steps.iter().filter(|step| !step.change.is_order).count();
        let facts = steps.iter().flat_map(|step| &step.edits).filter(|(_, value)| value.is_some()).count();
        let place =
            |step: &Step| ALTERNATIVES.iter().position(|it| it.name == step.name()).map_or(0, |at| at + 1);
        let cost = self.cost(steps).unwrap_or(f64::INFINITY);
        Rank(cost, usize::from(orders) + others, facts, steps.iter().map(place).sum())
    }

    fn cost(&self, _: &[Step]) -> Option<f64> {
        None
    }

    /// Reviews the outlet with its changes under every rule. A remedy leaves nothing to revise, and no comment that was
    /// not there before; general notes are not counted, which follow from the kind of outlet.
    fn prove(&self, steps: &[Step]) -> Option<Remedy> {
        let outlet = self.with(steps);
        let job = self.world.job();
        let (mut answers, mut leaves) = (Vec::new(), Vec::new());
        for (rule, before) in self.rules().iter().zip(self.comments) {
            if rule.once && rule.outcome == Outcome::Advise {
                continue;
            }
            let after = decide(rule, &outlet, &job.revise_on);
            match after.outcome {
                Outcome::NoComment | Outcome::DoesNotApply => {
                    if matches!(before.outcome, Outcome::Revise | Outcome::Clarify) {
                        answers.push(rule.number.clone());
                    }
                }
                Outcome::Clarify if before.outcome == Outcome::Clarify => {
                    let missing = after.open.into_iter().flat_map(|open| open.missing);
                    leaves.push((rule.number.clone(), missing.map(|(_, _, heading)| heading).collect()));
                }
                Outcome::Advise if before.outcome == Outcome::Advise => {}
                Outcome::Revise | Outcome::Clarify | Outcome::Advise => return None,
            }
        }
        if self.targets.iter().any(|at| self.comments[*at].outcome == Outcome::Clarify) && !leaves.is_empty()
        {
            return None;
        }
        let order = ORDERED_BY.iter().filter_map(|name| {
            let slot = slot_named(name)?;
            let fact = outlet.fact(slot);
            fact.value.is_ok().then(|| shown(slot, &fact, &job.rules))
        });
        Some(Remedy {
            changes: steps.iter().map(|step| self.change(step, &outlet)).collect(),
            answers,
            leaves,
            finished: steps.iter().map(|step| step.change.finished).max().unwrap_or(Finished::Yes),
            cost: self.cost(steps),
            short: self.short(steps),
            order: order.collect(),
        })
    }

    fn change(&self, step: &Step, outlet: &Outlet<'_>) -> Change {
        let rules = &self.world.job().rules;
        let mut says = Vec::new();
        for (at, part) in step.change.says.split(['{', '}']).enumerate() {
            match slot_named(part) {
                Some(slot) if at % 2 == 1 => says.push(Piece::Value(shown(slot, &outlet.fact(slot), rules))),
                _ => says.push(Piece::Text(part.into())),
            }
        }
        let cells = step.edits.iter().filter_map(|(slot, value)| {
            // A blank that was blank is no change.
            if value.is_none() && !self.outlet.stated(*slot) {
                return None;
            }
            let text = value.as_ref().map(|value| facts::as_written(*slot, value).into());
            Some((facts::name(*slot)?.clone(), facts::heading(*slot), text))
        });
        let cells = cells.collect();
        Change { name: step.name(), is_order: step.change.is_order, says, cells }
    }

    /// By how much the listed length before falls short: the least seat depth that settles as much, by calculation or
    /// past the insulation, against the seat of that length.
    fn short(&self, steps: &[Step]) -> Option<Short> {
        let length = slot(NOMINAL_LENGTH);
        let chosen = steps.iter().find(|step| step.name() == LONGER.name)?;
        let Some((_, Some(Value::Quantity(chosen)))) = chosen.edits.iter().find(|(slot, _)| *slot == length)
        else {
            return None;
        };
        let before = facts::nominal_lengths().filter(|nominal| *nominal < chosen.is - 1e-6).last()?;
        let with_seat = |edits: Vec<Edit>| -> Vec<Step> {
            let others = steps.iter().filter(|step| step.name() != LONGER.name).cloned();
            others.chain([Step { change: &LONGER, edits }]).collect()
        };
        let shorter = self.with(&with_seat(self.longer(before).edits));
        let seat = number(&shorter, slot(SEAT_DEPTH))?;
        let needs = ["heat.least_seat_depth", "wall.inside_face_of_insulation"];
        let mut needs: Vec<f64> =
            needs.iter().filter_map(|name| number(&shorter, slot_named(name)?)).collect();
        needs.sort_by(f64::total_cmp);
        let all = self.solves(steps).len();
        let needed = needs.into_iter().find(|needed| {
            let edits =
                vec![(length, Some(*chosen).map(Value::Quantity)), (slot(SEAT_DEPTH), Some(meters(*needed)))];
            self.solves(&with_seat(edits)).len() >= all
        })?;
        let [length, seat_needed, by] =
            [before, needed, needed - seat].map(|meters| Quantity::of(meters, Dim::LENGTH));
        Some(Short { length, seat_needed, by })
    }
}

fn meters(meters: f64) -> Value {
    Value::Quantity(Quantity::of(meters, Dim::LENGTH))
}

fn number(outlet: &Outlet<'_>, slot: Slot) -> Option<f64> {
    match outlet.get(slot) {
        Ok(Value::Quantity(quantity)) => Some(quantity.is),
        _ => None,
    }
}
