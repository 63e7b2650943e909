//! Facts and settings as they are printed.

use super::{Absence, Shown};
use crate::expr::Slot;
use crate::facts::{self, Fact};
use crate::ruleset::Rules;
use crate::units::{Dim, Measure, Rounding, Show};
use std::sync::Arc;

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

/// How a fact or setting is printed: in percent if it is a setting written in percent.
fn show_of(slot: Slot, measure: Measure, rules: &Rules) -> Show {
    const PERCENT: Show = Show::new(("%", 1), ("%", 1), Rounding::Nearest);
    let in_percent = rules.setting(slot).is_some_and(|it| it.text.trim_end().ends_with('%'));
    if in_percent && measure == Measure::Of(Dim::NONE) { PERCENT } else { facts::show_of(slot, measure) }
}

/// The name of a fact or setting; blank if there is none.
pub(super) fn name(slot: Slot, rules: &Rules) -> Arc<str> {
    match (facts::name(slot), rules.called(slot)) {
        (Some(name), _) => name.clone(),
        (None, Some((name, _))) => name.clone(),
        (None, None) => "".into(),
    }
}

/// The heading of a fact, or the description of a setting.
pub(super) fn heading(slot: Slot, rules: &Rules) -> Arc<str> {
    rules.called(slot).map_or_else(|| facts::heading(slot), |(_, about)| about.clone())
}
