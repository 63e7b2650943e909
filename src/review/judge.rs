//! The comment of one rule on one outlet.

use super::decides::decided_by;
use super::settle::{self, Trial, Trials};
use super::shown::{heading, name, shown};
use super::verdict::{verdict, verdict_of_trial};
use super::{Absence, Comment, Detail, Open, Piece, RuleCard, Settled, Shown};
use crate::expr::{Gap, Part, Slot, Template};
use crate::facts::{self, Origin, Outlet};
use crate::ruleset::{Basis, Outcome, Rule, Rules};
use crate::units::{Dim, Measure};
use std::collections::BTreeSet;
use std::sync::Arc;

/// The outcome of a comparison too close to call: *clarify*, with the facts any one of which could decide it, the one that
/// narrows the range most first; if there are none, the outcome stated in `close:`.
fn close_call(rule: &Rule, outlet: &Outlet<'_>, if_close: Outcome, open: &mut Open) -> Outcome {
    /// Most facts to ask for.
    const MOST_ASKED: usize = 3;
    if if_close == rule.outcome {
        return if_close;
    }
    let rules = &outlet.world().job().rules;
    for (slot, values) in facts::narrowing(outlet) {
        if open.missing.len() == MOST_ASKED {
            break;
        }
        let trials = values.into_iter().map(|value| {
            let trial = outlet.suppose(&[(slot, value.clone())]);
            (verdict_of_trial(rule, &trial), value)
        });
        let trials: Vec<_> = trials.collect();
        if trials.iter().all(|(verdict, _)| verdict.is_err()) {
            continue;
        }
        let settled = trials.into_iter().map(|(verdict, value)| Settled {
            given: vec![(name(slot, rules), facts::heading(slot), value)],
            outcome: verdict.unwrap_or(if_close),
        });
        let settled: Vec<Settled> = settled.collect();
        if open.would_settle.is_empty() {
            open.would_settle.clone_from(&settled);
        }
        open.missing.push((slot, name(slot, rules), facts::heading(slot)));
        open.decided_by.push((slot, settled));
    }
    if open.missing.is_empty() { if_close } else { Outcome::Clarify }
}

/// The outcome of a rule for an outlet, and why.
pub(super) struct Decision<'w> {
    pub outcome: Outcome,
    /// Whether it only advises because its basis cannot require a revision.
    lowered: bool,
    pub open: Option<Open>,
    trials: Vec<Trial<'w>>,
}

/// The decision of a rule on an outlet, without its wording.
pub(super) fn decide<'w>(rule: &Rule, outlet: &Outlet<'w>, revise_on: &[Basis]) -> Decision<'w> {
    let (outcome, mut open, trials) = match verdict(rule, outlet) {
        Ok(outcome) => (outcome, None, Vec::new()),
        // A general note requires nothing: it is made wherever it may apply.
        Err(_) if rule.once && rule.outcome == Outcome::Advise => (Outcome::Advise, None, Vec::new()),
        Err(gap) if rule.close.is_some() && gap.is_only_close() => {
            let mut open = open(rule, &gap, &Trials::default(), outlet);
            let outcome =
                rule.close.map_or(Outcome::Clarify, |if_close| close_call(rule, outlet, if_close, &mut open));
            (outcome, Some(open), Vec::new())
        }
        Err(gap) => {
            let tried = settle::try_answers(rule, outlet, &gap);
            let open = open(rule, &gap, &tried, outlet);
            (tried.common.unwrap_or(Outcome::Clarify), Some(open), tried.trials)
        }
    };
    let may_revise = revise_on.contains(&rule.basis);
    // What a rule asks in any case, as words that contradict a column, stays asked.
    let is_asked = outcome == Outcome::Clarify && rule.outcome == Outcome::Clarify;
    let lowered = matches!(outcome, Outcome::Revise | Outcome::Clarify) && !may_revise && !is_asked;
    // A question is no more severe than its worst answer.
    let only_advises = lowered || (outcome == Outcome::Clarify && rule.outcome == Outcome::Advise);
    let outcome = if only_advises { Outcome::Advise } else { outcome };
    if !may_revise {
        // Capped at the comment's own outcome.
        let settled = open.iter_mut().flat_map(|it| {
            it.would_settle.iter_mut().chain(it.decided_by.iter_mut().flat_map(|(_, settled)| settled))
        });
        settled.filter(|it| it.outcome == Outcome::Revise).for_each(|it| it.outcome = Outcome::Advise);
    }
    Decision { outcome, lowered, open, trials }
}

/// Whether [`decide`] makes a comment of a rule on an outlet, without working out what would decide an open one.
pub(super) fn makes_comment(rule: &Rule, outlet: &Outlet<'_>) -> bool {
    let outcome = match verdict(rule, outlet) {
        Ok(outcome) => outcome,
        Err(gap) => match rule.close {
            // Too close to call is never *no comment*.
            Some(_) if gap.is_only_close() => return true,
            _ if rule.once && rule.outcome == Outcome::Advise => Outcome::Advise,
            _ => settle::try_answers(rule, outlet, &gap).common.unwrap_or(Outcome::Clarify),
        },
    };
    outcome.is_comment()
}

/// The comment of a rule on an outlet.
pub(super) fn comment(
    rule: &Rule,
    card: &Arc<RuleCard>,
    outlet: &Outlet<'_>,
    revise_on: &[Basis],
    detail: Detail,
) -> Comment {
    let rules = &outlet.world().job().rules;
    let Decision { outcome, lowered, open, trials } = decide(rule, outlet, revise_on);
    // The figures of a wording are computed only for a comment.
    let is_comment = outcome.is_comment();
    let filler = Filler { outlet, trials: &trials, rules };
    let mut slots: BTreeSet<Slot> = rule.needs.slots();
    slots.extend(rule.applies.iter().flat_map(|it| it.slots()));
    let (mut says, mut remedy) = (Vec::new(), None);
    let (mut brief, mut action) = (Vec::new(), Vec::new());
    // Notes for the whole job are distinguished by their text.
    if is_comment && (detail != Detail::Outcomes || rule.once) {
        brief = rule.brief.as_ref().map(|it| filler.sentences(it)).unwrap_or_default();
        action = rule.action.as_ref().map(|it| filler.sentences(it)).unwrap_or_default();
        let whole = detail == Detail::Whole || rule.once;
        if whole || action.is_empty() {
            remedy = rule.remedy.as_ref().map(|it| filler.sentences(it));
        }
        if whole {
            says = filler.sentences(&rule.says);
            for template in rule.wordings() {
                slots.extend(template.slots());
            }
        }
    }
    let values = if outcome == Outcome::DoesNotApply {
        Vec::new()
    } else {
        slots.iter().map(|it| filler.shown(*it)).collect()
    };
    Comment { rule: card.clone(), outcome, lowered, says, remedy, brief, action, values, open }
}

/// A summary of a rule.
pub(super) fn card(rule: &Rule) -> Arc<RuleCard> {
    Arc::new(RuleCard {
        id: rule.id.clone(),
        number: rule.number.clone(),
        title: rule.title.clone(),
        basis: rule.basis,
        why: rule.why.clone(),
        see: rule.see.clone(),
        once: rule.once,
        asks: rule.needs.first_known_tested().filter(|_| rule.outcome == Outcome::Clarify),
        location: rule.location.clone(),
        added_by: rule.added.as_ref().map(|it| it.name.clone()),
        changed_by: rule.changed_by(),
    })
}

/// Why a comment is unresolved, and what would decide it.
fn open(rule: &Rule, gap: &Gap, tried: &Trials<'_>, outlet: &Outlet<'_>) -> Open {
    let rules = &outlet.world().job().rules;
    let close = gap.close.iter().map(|close| {
        let slot = close.slots.first().copied().unwrap_or(Slot(u16::MAX));
        (shown(slot, &outlet.fact(slot), rules), close.right)
    });
    let would_settle: Vec<Settled> = tried.trials.iter().map(|trial| trial.settled(rules)).collect();
    let decided_by =
        if tried.common.is_some() { Vec::new() } else { decided_by(rule, outlet, gap, &would_settle) };
    Open {
        missing: tried
            .deciding
            .iter()
            .map(|slot| (*slot, name(*slot, rules), facts::heading(*slot)))
            .collect(),
        absent: gap.absent.iter().map(|(slot, why)| (heading(*slot, rules), why.clone())).collect(),
        close: close.collect(),
        would_settle,
        agreed: tried.common.is_some(),
        complete: tried.complete,
        decided_by,
    }
}

/// Fills wordings with the values of an outlet. For a missing fact, uses the range or reason that all trials have in common.
struct Filler<'r, 'w> {
    outlet: &'r Outlet<'w>,
    trials: &'r [Trial<'w>],
    rules: &'r Rules,
}

impl Filler<'_, '_> {
    fn sentences(&self, template: &Template) -> Vec<Vec<Piece>> {
        let piece = |part: &Part| match part {
            Part::Text(text) => Piece::Text(text.clone()),
            Part::Figure(text, quantity) => Piece::Figure(text.clone(), *quantity),
            Part::Slot(slot) => Piece::Value(self.shown(*slot)),
        };
        template.sentences().iter().map(|sentence| sentence.iter().map(piece).collect()).collect()
    }

    fn shown(&self, slot: Slot) -> Shown {
        let fact = self.outlet.fact(slot);
        let mut shown = shown(slot, &fact, self.rules);
        let is_open = fact.value.as_ref().is_err_and(|gap| !gap.missing.is_empty());
        if is_open && let Some(value) = settle::envelope(slot, self.trials) {
            shown.show = facts::show_of(slot, super::measure(&value).unwrap_or(Measure::Of(Dim::NONE)));
            shown.value = Ok(value);
            shown.origin = Origin::Supposed;
        } else if is_open && let Some(why) = settle::common_absence(slot, self.trials) {
            shown.value = Err(Absence::Because(why));
        }
        shown
    }
}
