//! Which single answer decides a comment that waits for answers.

use super::Settled;
use super::settle::common_outcome;
use super::shown::name;
use super::verdict::verdict;
use crate::expr::{Gap, Slot, Value};
use crate::facts::{self, Outlet};
use crate::ruleset::Rule;
use std::sync::Arc;

/// The missing facts of which one answer alone decides a comment. If all combinations were tried, an answer decides
/// if the outcome is the same for any answers to the other facts; otherwise each answer is tried by itself.
pub(super) fn decided_by(
    rule: &Rule,
    outlet: &Outlet<'_>,
    gap: &Gap,
    would_settle: &[Settled],
) -> Vec<(Slot, Vec<Settled>)> {
    let is_alone = gap.missing.len() == 1 && gap.absent.is_empty() && gap.close.is_empty();
    let decides = |slot: &Slot| {
        let name = name(*slot, &outlet.world().job().rules);
        let settled = match facts::plausible(*slot) {
            _ if !would_settle.is_empty() => alone(*slot, &name, would_settle),
            None => return is_alone.then(|| (*slot, Vec::new())),
            Some(values) => {
                let tried = values.into_iter().filter_map(|value| {
                    let outcome = verdict(rule, &outlet.suppose(&[(*slot, value.clone())])).ok()?;
                    Some(Settled { given: vec![(name.clone(), facts::heading(*slot), value)], outcome })
                });
                tried.collect()
            }
        };
        (!settled.is_empty()).then_some((*slot, settled))
    };
    gap.missing.iter().filter_map(decides).collect()
}

/// Outcome of each answer to one fact for any answers to the others, without those that decide nothing.
fn alone(slot: Slot, name: &Arc<str>, would_settle: &[Settled]) -> Vec<Settled> {
    let given = |it: &Settled| it.given.iter().find(|(own, ..)| own == name).map(|(.., value)| value.clone());
    let mut values: Vec<Value> = Vec::new();
    for value in would_settle.iter().filter_map(given) {
        if !values.contains(&value) {
            values.push(value);
        }
    }
    let settled = values.into_iter().filter_map(|value| {
        let those = would_settle.iter().filter(|it| given(it).as_ref() == Some(&value));
        let outcome = common_outcome(those.map(|trial| trial.outcome))?;
        Some(Settled { given: vec![(name.clone(), facts::heading(slot), value)], outcome })
    });
    settled.collect()
}
