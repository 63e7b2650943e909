//! One rule on one outlet.

use super::settle::{self, Trial, Trials};
use super::{Absence, Comment, Open, Piece, RuleCard, Settled, Shown, questions};
use crate::expr::{Gap, Part, Slot, Template};
use crate::facts::{self, Fact, Origin, Outlet};
use crate::ruleset::{Basis, Outcome, Rule, Rules};
use crate::truth::Truth;
use crate::units::{Dim, Measure, Rounding, Show};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Outcome of a rule on an outlet: the implication *applies → needs* in three values. A rule that says what *close* gives
/// is broken where the best estimates break it.
pub(super) fn verdict(rule: &Rule, outlet: &Outlet<'_>) -> Result<Outcome, Gap> {
    let applies = rule.applies.as_ref().map_or(Truth::True, |it| it.truth(outlet));
    if applies == Truth::False {
        return Ok(Outcome::DoesNotApply);
    }
    match applies.implies(rule.needs.truth(outlet)) {
        Truth::True => Ok(Outcome::NoComment),
        Truth::False => Ok(rule.outcome),
        Truth::Unknown(gap) if rule.close.is_some() && gap.is_only_close() && fails_at_best(rule, outlet) => {
            Ok(rule.outcome)
        }
        Truth::Unknown(gap) => Err(gap),
    }
}

fn fails_at_best(rule: &Rule, outlet: &Outlet<'_>) -> bool {
    let applies = rule.applies.as_ref().map_or(Truth::True, |it| it.truth_at_best(outlet));
    applies.implies(rule.needs.truth_at_best(outlet)) == Truth::False
}

/// Outcome of a rule on an outlet, with nobody to ask.
pub(super) fn outcome(rule: &Rule, outlet: &Outlet<'_>) -> Outcome {
    verdict(rule, outlet).unwrap_or_else(|gap| match rule.close {
        Some(close) if gap.is_only_close() => close,
        _ => Outcome::Clarify,
    })
}

/// A comparison too close to call: *clarify* with the facts of which one alone can decide it, the one that narrows most
/// first, otherwise what the rule says that close gives.
fn close_call(rule: &Rule, outlet: &Outlet<'_>, gives: Outcome, open: &mut Open) -> Outcome {
    /// Facts asked for at most.
    const ASKED: usize = 3;
    if gives == rule.outcome {
        return gives;
    }
    let rules = &outlet.world().job().rules;
    for (slot, values) in facts::narrowing(outlet) {
        if open.missing.len() == ASKED {
            break;
        }
        let trials =
            values.into_iter().map(|value| (verdict(rule, &outlet.suppose(&[(slot, value.clone())])), value));
        let trials: Vec<_> = trials.collect();
        if trials.iter().all(|(verdict, _)| verdict.is_err()) {
            continue;
        }
        let settled = trials.into_iter().map(|(verdict, value)| Settled {
            given: vec![(name(slot, rules), facts::heading(slot), value)],
            outcome: verdict.unwrap_or(gives),
        });
        let settled: Vec<Settled> = settled.collect();
        if open.would_settle.is_empty() {
            open.would_settle.clone_from(&settled);
        }
        open.missing.push((slot, name(slot, rules), facts::heading(slot)));
        open.decided_by.push((slot, settled));
    }
    if open.missing.is_empty() { gives } else { Outcome::Clarify }
}

/// The comment of a rule on an outlet.
pub(super) fn comment(
    rule: &Rule,
    card: &Arc<RuleCard>,
    outlet: &Outlet<'_>,
    revise_on: &[Basis],
) -> Comment {
    let rules = &outlet.world().job().rules;
    let (outcome, mut open, trials) = match verdict(rule, outlet) {
        Ok(outcome) => (outcome, None, Vec::new()),
        // A general note requires nothing: it is given wherever it can apply.
        Err(_) if rule.once && rule.outcome == Outcome::Advise => (Outcome::Advise, None, Vec::new()),
        Err(gap) if rule.close.is_some() && gap.is_only_close() => {
            let mut open = open(rule, &gap, &Trials::default(), outlet);
            let outcome =
                rule.close.map_or(Outcome::Clarify, |gives| close_call(rule, outlet, gives, &mut open));
            (outcome, Some(open), Vec::new())
        }
        Err(gap) => {
            let tried = settle::try_answers(rule, outlet, &gap);
            let open = open(rule, &gap, &tried, outlet);
            (tried.common.unwrap_or(Outcome::Clarify), Some(open), tried.trials)
        }
    };
    let may_revise = revise_on.contains(&rule.basis);
    let lowered = matches!(outcome, Outcome::Revise | Outcome::Clarify) && !may_revise;
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
    // Without a comment its figures need not be computed.
    let speaks = matches!(outcome, Outcome::Revise | Outcome::Clarify | Outcome::Advise);
    let reader = Reader { outlet, trials: &trials, rules };
    let mut slots: BTreeSet<Slot> = rule.needs.slots();
    slots.extend(rule.applies.iter().flat_map(|it| it.slots()));
    let (mut says, mut remedy) = (Vec::new(), None);
    let (mut brief, mut action) = (Vec::new(), Vec::new());
    if speaks {
        says = reader.sentences(&rule.says);
        remedy = rule.remedy.as_ref().map(|it| reader.sentences(it));
        brief = rule.brief.as_ref().map(|it| reader.sentences(it)).unwrap_or_default();
        action = rule.action.as_ref().map(|it| reader.sentences(it)).unwrap_or_default();
        for template in rule.wordings() {
            slots.extend(template.slots());
        }
    }
    let values = if outcome == Outcome::DoesNotApply {
        Vec::new()
    } else {
        slots.iter().map(|it| reader.shown(*it)).collect()
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
        place: rule.place.clone(),
        added_by: rule.added.as_ref().map(|it| it.by.clone()),
        changed_by: rule.changed_by(),
    })
}

fn open(rule: &Rule, gap: &Gap, tried: &Trials<'_>, outlet: &Outlet<'_>) -> Open {
    let rules = &outlet.world().job().rules;
    let close = gap.close.iter().map(|close| {
        let slot = close.slots.first().copied().unwrap_or(Slot(u16::MAX));
        (shown(slot, &outlet.fact(slot), rules), close.right)
    });
    let would_settle: Vec<Settled> = tried.trials.iter().map(|trial| trial.settled(rules)).collect();
    let decided_by = if tried.common.is_some() {
        Vec::new()
    } else {
        questions::decided_by(rule, outlet, gap, &would_settle)
    };
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

/// Reads values for printing. If a fact is missing but all plausible answers agree, reads it over all of them.
struct Reader<'r, 'w> {
    outlet: &'r Outlet<'w>,
    trials: &'r [Trial<'w>],
    rules: &'r Rules,
}

impl Reader<'_, '_> {
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

/// A fact or setting, for printing.
pub(super) fn shown(slot: Slot, fact: &Fact, rules: &Rules) -> Shown {
    let measure = fact.value.as_ref().ok().and_then(super::measure).unwrap_or(Measure::Of(Dim::NONE));
    Shown {
        name: name(slot, rules),
        heading: heading(slot, rules),
        value: fact.value.clone().map_err(|gap| Absence::of(&gap)),
        show: show_of(slot, measure, rules),
        origin: fact.origin.clone(),
    }
}

/// How a fact or setting is printed; a share that is set in percent is printed in percent.
fn show_of(slot: Slot, measure: Measure, rules: &Rules) -> Show {
    const PERCENT: Show = Show::new(("%", 1), ("%", 1), Rounding::Nearest);
    let in_percent = rules.setting(slot).is_some_and(|it| it.text.trim_end().ends_with('%'));
    if in_percent && measure == Measure::Of(Dim::NONE) { PERCENT } else { facts::show_of(slot, measure) }
}

pub(super) fn name(slot: Slot, rules: &Rules) -> Arc<str> {
    match (facts::name(slot), rules.called(slot)) {
        (Some(name), _) => name.clone(),
        (None, Some((name, _))) => name.clone(),
        (None, None) => "".into(),
    }
}

fn heading(slot: Slot, rules: &Rules) -> Arc<str> {
    rules.called(slot).map_or_else(|| facts::heading(slot), |(_, about)| about.clone())
}
