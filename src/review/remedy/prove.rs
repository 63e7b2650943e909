//! Reviews an outlet again with its changes: those that pass are a remedy.

use super::change::ChangeKind;
use super::table::{LONGER, MODEL};
use super::tried::{Search, TriedChange, finished, number, order_of};
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
    /// Reviews the outlet with its changes under every rule. A remedy leaves nothing to revise and makes no new comment;
    /// general notes, which follow from the kind of outlet, are not counted.
    pub(super) fn prove(&self, changes: &[TriedChange]) -> Option<Remedy> {
        let outlet = self.with(changes);
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
            changes: changes.iter().map(|change| self.described(change, &outlet)).collect(),
            answers,
            leaves,
            finished: finished(changes),
            cost: self.cost(changes),
            short: self.short(changes),
            order: order_with(&outlet, changes),
        })
    }

    /// A change as a report lists it.
    fn described(&self, change: &TriedChange, outlet: &Outlet<'_>) -> Change {
        let rules = &self.world.job().rules;
        let mut says = Vec::new();
        for (at, part) in change.kind.says.split(['{', '}']).enumerate() {
            match slot_named(part) {
                Some(slot) if at % 2 == 1 => says.push(Piece::Value(shown(slot, &outlet.fact(slot), rules))),
                _ => says.push(Piece::Text(part.into())),
            }
        }
        // A model is ordered in a length.
        let length = outlet.fact(slot(NOMINAL_LENGTH));
        if change.name() == MODEL.name && length.value.is_ok() {
            says.push(Piece::Text(", ".into()));
            says.push(Piece::Value(shown(slot(NOMINAL_LENGTH), &length, rules)));
        }
        let strikes =
            change.edits.iter().flat_map(|(slot, value)| self.outlet.words_against(*slot, value.as_ref()));
        let strikes = strikes.collect();
        let cells = change.edits.iter().filter_map(|(slot, value)| {
            // Leave out a blank cell that was blank before.
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
        let ChangeKind { name, is_order, is_other_product, is_of_designer, .. } = *change.kind;
        Change { name, is_order, is_other_product, is_of_designer, says, cells, strikes }
    }

    /// By how much the next shorter stock length falls short: the least seat depth that settles as much, by calculation or
    /// past the insulation, less the seat depth of that length.
    fn short(&self, changes: &[TriedChange]) -> Option<Short> {
        let length = slot(NOMINAL_LENGTH);
        let chosen = changes.iter().find(|change| change.name() == LONGER.name)?;
        let Some((_, Some(Value::Quantity(chosen)))) = chosen.edits.iter().find(|(slot, _)| *slot == length)
        else {
            return None;
        };
        let before = facts::nominal_lengths().filter(|nominal| *nominal < chosen.is - 1e-6).last()?;
        let with_seat = |edits: Vec<Edit>| -> Vec<TriedChange> {
            let others = changes.iter().filter(|change| change.name() != LONGER.name).cloned();
            others.chain([TriedChange { kind: &LONGER, edits }]).collect()
        };
        let shorter = self.with(&with_seat(self.longer(before).edits));
        let seat = number(&shorter, slot(SEAT_DEPTH))?;
        let needs = ["heat.least_seat_depth", "wall.inside_face_of_insulation"];
        let mut needs: Vec<f64> =
            needs.iter().filter_map(|name| number(&shorter, slot_named(name)?)).collect();
        needs.sort_by(f64::total_cmp);
        let all = self.settles(changes).len();
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

/// The facts that identify the outlet to order. The model is left out if the changes differ from its product data.
fn order_with(outlet: &Outlet<'_>, changes: &[TriedChange]) -> Vec<Shown> {
    let changed = changes.iter().any(|change| change.kind.is_order && change.name() != MODEL.name);
    let is_kept = |fact: &Shown| !(changed && &*fact.name == "outlet.model");
    order_of(outlet).into_iter().filter(is_kept).collect()
}
