//! Reviews an outlet again with its changes: what is proven is a remedy.

use super::change::Alternative;
use super::step::{Search, Step, finished, number, order_of};
use super::table::{LONGER, MODEL};
use super::{Change, Remedy, Short};
use crate::expr::Value;
use crate::facts::columns::{NOMINAL_LENGTH, SEAT_DEPTH};
use crate::facts::{self, Edit, Origin, Outlet, slot, slot_named};
use crate::review::judge::decide;
use crate::review::orders::asked;
use crate::review::shown::shown;
use crate::review::{Piece, Shown};
use crate::ruleset::Outcome;
use crate::units::{Dim, Quantity};

impl Search<'_> {
    /// Reviews the outlet with its changes under every rule. A remedy leaves nothing to revise, and no comment that was
    /// not there before; general notes are not counted, which follow from the kind of outlet.
    pub(super) fn prove(&self, steps: &[Step]) -> Option<Remedy> {
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
                    leaves.push((rule.number.clone(), asked(after.open.as_ref(), &rule.title)));
                }
                Outcome::Advise if before.outcome == Outcome::Advise => {}
                Outcome::Revise | Outcome::Clarify | Outcome::Advise => return None,
            }
        }
        if self.targets.iter().any(|at| self.comments[*at].outcome == Outcome::Clarify) && !leaves.is_empty()
        {
            return None;
        }
        Some(Remedy {
            changes: steps.iter().map(|step| self.change(step, &outlet)).collect(),
            answers,
            leaves,
            finished: finished(steps),
            cost: self.cost(steps),
            short: self.short(steps),
            order: order_with(&outlet, steps),
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
        // A model is ordered in a length.
        let length = outlet.fact(slot(NOMINAL_LENGTH));
        if step.name() == MODEL.name && length.value.is_ok() {
            says.push(Piece::Text(", ".into()));
            says.push(Piece::Value(shown(slot(NOMINAL_LENGTH), &length, rules)));
        }
        let strikes =
            step.edits.iter().flat_map(|(slot, value)| self.outlet.words_against(*slot, value.as_ref()));
        let strikes = strikes.collect();
        let cells = step.edits.iter().filter_map(|(slot, value)| {
            // A blank that was blank is no change.
            let origin = self.outlet.fact(*slot).origin;
            if value.is_none()
                && !matches!(origin, Origin::Stated(..) | Origin::Answered(..) | Origin::Unreadable(..))
            {
                return None;
            }
            let text = value.as_ref().map(|value| facts::as_written(*slot, value).into());
            Some((facts::name(*slot)?.clone(), facts::heading(*slot), text))
        });
        let cells = cells.collect();
        let Alternative { name, is_order, is_other_product, is_of_designer, .. } = *step.change;
        Change { name, is_order, is_other_product, is_of_designer, says, cells, strikes }
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
        let all = self.settles(steps).len();
        let needed = needs.into_iter().find(|needed| {
            let edits = vec![
                (length, Some(Value::Quantity(*chosen))),
                (slot(SEAT_DEPTH), Some(facts::length(*needed))),
            ];
            self.settles(&with_seat(edits)).len() >= all
        })?;
        let [length, seat_needed, by] =
            [before, needed, needed - seat].map(|meters| Quantity::of(meters, Dim::LENGTH));
        Some(Short { length, seat_needed, by })
    }
}

/// What tells which outlet to order. A model that is not ordered as its data says is none of that model.
fn order_with(outlet: &Outlet<'_>, steps: &[Step]) -> Vec<Shown> {
    let changed = steps.iter().any(|step| step.change.is_order && step.name() != MODEL.name);
    let is_kept = |fact: &Shown| !(changed && &*fact.name == "outlet.model");
    order_of(outlet).into_iter().filter(is_kept).collect()
}
