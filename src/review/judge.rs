//! One rule on one outlet.

use super::settle::{self, Answer};
use super::{Absence, Comment, Open, Piece, RuleCard, Shown};
use crate::expr::{Gap, Part, Slot, Template};
use crate::facts::{self, Fact, Origin, Outlet};
use crate::ruleset::{Basis, Outcome, Rule, Rules};
use crate::truth::Truth;
use crate::units::{Dim, Measure, Rounding, Show};
use std::collections::BTreeSet;
use std::sync::Arc;

/// What a rule comes to on an outlet: the implication *applies → needs* in three values.
pub(super) fn verdict(rule: &Rule, outlet: &Outlet<'_>) -> Result<Outcome, Gap> {
    let applies = rule.applies.as_ref().map_or(Truth::True, |it| it.truth(outlet));
    if applies == Truth::False {
        return Ok(Outcome::DoesNotApply);
    }
    match (applies.clone(), applies.implies(rule.needs.truth(outlet))) {
        (_, Truth::True) => Ok(Outcome::NoComment),
        (_, Truth::False) => Ok(rule.outcome),
        (_, Truth::Unknown(gap)) => Err(gap),
    }
}

/// The comment of a rule on an outlet.
pub(super) fn comment(
    rule: &Rule,
    card: &Arc<RuleCard>,
    outlet: &Outlet<'_>,
    revise_on: &[Basis],
) -> Comment {
    let rules = &outlet.world().job().rules;
    let (outcome, open, answers) = match verdict(rule, outlet) {
        Ok(outcome) => (outcome, None, Vec::new()),
        // A general note asks for nothing: where it may apply it is given.
        Err(_) if rule.once && rule.outcome == Outcome::Advise => (Outcome::Advise, None, Vec::new()),
        Err(gap) => {
            let answers = settle::answers(rule, outlet, &gap);
            let agreed = settle::agreed(&answers);
            let open = open(&gap, &answers, agreed.is_some(), outlet);
            (agreed.unwrap_or(Outcome::Clarify), Some(open), answers)
        }
    };
    let outcome = match outcome {
        Outcome::Revise if !revise_on.contains(&rule.basis) => Outcome::Advise,
        other => other,
    };
    // Nothing is said where there is nothing to say: its figures need not be worked out.
    let speaks = matches!(outcome, Outcome::Revise | Outcome::Clarify | Outcome::Advise);
    let reader = Reader { outlet, answers: &answers, rules };
    let mut slots: BTreeSet<Slot> = rule.needs.slots();
    slots.extend(rule.applies.iter().flat_map(|it| it.slots()));
    let (mut says, mut remedy) = (Vec::new(), None);
    if speaks {
        says = reader.pieces(&rule.says);
        remedy = rule.remedy.as_ref().map(|it| reader.pieces(it));
        for template in std::iter::once(&rule.says).chain(&rule.remedy) {
            slots.extend(template.slots());
        }
    }
    let values = if outcome == Outcome::DoesNotApply {
        Vec::new()
    } else {
        slots.iter().map(|it| reader.shown(*it)).collect()
    };
    Comment { rule: card.clone(), outcome, says, remedy, values, open }
}

/// What people need to know of a rule.
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
        changed_by: rule.changed_by.clone(),
    })
}

fn open(gap: &Gap, answers: &[Answer<'_>], agreed: bool, outlet: &Outlet<'_>) -> Open {
    let rules = &outlet.world().job().rules;
    let close = gap.close.iter().map(|close| {
        let slot = close.slots.first().copied().unwrap_or(Slot(u16::MAX));
        (shown(slot, &outlet.fact(slot), rules), close.right)
    });
    Open {
        missing: gap.missing.iter().map(|slot| (*slot, name(*slot, rules), facts::heading(*slot))).collect(),
        absent: gap.absent.iter().map(|(slot, why)| (heading(*slot, rules), why.clone())).collect(),
        close: close.collect(),
        would_settle: answers.iter().map(|it| it.settled(rules)).collect(),
        agreed,
    }
}

/// Reads values for printing; where a fact is missing but every plausible answer agrees, over all of those.
struct Reader<'r, 'w> {
    outlet: &'r Outlet<'w>,
    answers: &'r [Answer<'w>],
    rules: &'r Rules,
}

impl Reader<'_, '_> {
    fn pieces(&self, template: &Template) -> Vec<Piece> {
        let piece = |part: &Part| match part {
            Part::Text(text) => Piece::Text(text.clone()),
            Part::Slot(slot) => Piece::Value(self.shown(*slot)),
        };
        template.parts().iter().map(piece).collect()
    }

    fn shown(&self, slot: Slot) -> Shown {
        let fact = self.outlet.fact(slot);
        let mut shown = shown(slot, &fact, self.rules);
        let is_open = fact.value.as_ref().is_err_and(|gap| !gap.missing.is_empty());
        if is_open && let Some(value) = settle::over_all(slot, self.answers) {
            shown.show = facts::show_of(slot, super::measure(&value).unwrap_or(Measure::Of(Dim::NONE)));
            shown.value = Ok(value);
            shown.origin = Origin::Supposed;
        } else if is_open && let Some(why) = settle::absent_over_all(slot, self.answers) {
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

/// How a fact or setting is printed; a share that is set in percent is said in percent.
fn show_of(slot: Slot, measure: Measure, rules: &Rules) -> Show {
    const PERCENT: Show = Show::new(("%", 1), ("%", 1), Rounding::Nearest);
    let in_percent = rules.setting(slot).is_some_and(|it| it.text.trim_end().ends_with('%'));
    if in_percent && measure == Measure::Of(Dim::NONE) { PERCENT } else { facts::show_of(slot, measure) }
}

pub(super) fn name(slot: Slot, rules: &Rules) -> Arc<str> {
    match (facts::entry(slot), rules.setting(slot)) {
        (Some(entry), _) => entry.def.name.into(),
        (None, Some(setting)) => setting.name.clone(),
        (None, None) => "".into(),
    }
}

fn heading(slot: Slot, rules: &Rules) -> Arc<str> {
    rules.setting(slot).map_or_else(|| facts::heading(slot), |setting| setting.about.clone())
}
