//! The outcome of one rule on one outlet.

use crate::expr::Gap;
use crate::facts::heat::SEAT_TEMPERATURE;
use crate::facts::{Interval, Outlet, slot};
use crate::ruleset::{Outcome, Rule};
use crate::truth::Truth;

/// Outcome of a rule on an outlet: the implication *applies → needs* in three-valued logic. A rule with `close:` is broken
/// if the best estimates break it.
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

/// The same of an outlet on trial, for which only the outcome is needed. The interval of its seat temperature is computed
/// only if neither its best estimate nor a rough interval decides a rule with `close:`.
pub(super) fn verdict_of_trial(rule: &Rule, outlet: &Outlet<'_>) -> Result<Outcome, Gap> {
    let with = |interval| verdict(rule, &outlet.with_interval(interval));
    if rule.close.is_some() && rule.needs.slots().contains(&slot(SEAT_TEMPERATURE)) {
        if matches!(with(Interval::LeftOut), Ok(outcome) if outcome == rule.outcome) {
            return Ok(rule.outcome);
        }
        if let Ok(outcome) = with(Interval::Widest) {
            return Ok(outcome);
        }
        // Unresolved with the narrowest interval is unresolved; decided with it, the true interval may leave it unresolved.
        with(Interval::Narrowest)?;
    }
    verdict(rule, outlet)
}

/// Whether the best estimates break a rule.
fn fails_at_best(rule: &Rule, outlet: &Outlet<'_>) -> bool {
    let applies = rule.applies.as_ref().map_or(Truth::True, |it| it.truth_at_best(outlet));
    applies.implies(rule.needs.truth_at_best(outlet)) == Truth::False
}

/// Outcome of a rule on an outlet without trying answers to open questions.
pub(super) fn outcome(rule: &Rule, outlet: &Outlet<'_>) -> Outcome {
    verdict(rule, outlet).unwrap_or_else(|gap| match rule.close {
        Some(close) if gap.is_only_close() => close,
        _ => Outcome::Clarify,
    })
}
