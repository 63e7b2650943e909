//! The types of sums, products and extremes. A temperature less a temperature is a difference; a temperature and a
//! difference make a temperature; two temperatures make nothing.

use std::collections::BTreeSet;

use super::super::ast::{Ast, Step};
use super::super::eval::{Amount, Nothing, worked};
use super::super::source::Span;
use super::super::types::{DIFFERENCE, Kind, Placed, Typed};
use super::Checker;
use crate::units::{Measure, Quantity};

impl Checker<'_> {
    pub(super) fn extreme(&mut self, name: &str, arguments: &[Ast<'_>], span: Span) -> Option<Typed> {
        let items = self.amounts(arguments)?;
        if items.len() < 2 {
            self.report(span, "does not compare anything", Some(format!("{name}(a, b)")));
            return None;
        }
        let difference = items.iter().any(|((_, kind), _)| kind.is_difference());
        let mut amounts = Vec::new();
        let mut first: Option<Placed<Measure>> = None;
        for ((amount, kind), at) in items {
            let (amount, measure) = self.settle(amount, kind, at, difference)?;
            let (is, is_at) = *first.get_or_insert((measure, at));
            if is != measure {
                let hint = self.mending(is, is_at, measure, at);
                self.unlike(span, &(is.name(), measure.name()), Some(hint));
                return None;
            }
            amounts.push(amount);
        }
        let (measure, _) = first?;
        let amount = if name == "min" { Amount::Least(amounts) } else { Amount::Greatest(amounts) };
        Some(Typed::Amount(amount, Kind::Is(measure)))
    }

    /// `round_up(amount, to)`.
    pub(super) fn round_up(&mut self, arguments: &[Ast<'_>], span: Span) -> Option<Typed> {
        let items = self.amounts(arguments)?;
        let Ok([((amount, kind), at), ((to, to_kind), to_at)]) = <[_; 2]>::try_from(items) else {
            self.report(span, "does not round one amount to another", Some("round_up(amount, 2 in)".into()));
            return None;
        };
        let difference = kind.is_difference() || to_kind.is_difference();
        let (amount, measure) = self.settle(amount, kind, at, difference)?;
        let (to, to_measure) = self.settle(to, to_kind, to_at, difference)?;
        if measure == Measure::Temperature {
            let hint = format!("a difference, written {}", kind.as_difference());
            self.report(at, "is a temperature, which has no multiples", Some(hint));
            return None;
        }
        if measure != to_measure {
            let what =
                format!("cannot be worked out: {} has no multiples of {}", measure.name(), to_measure.name());
            let hint = self.hint(measure, at, to_measure, to_at);
            self.report(span, &what, hint.or_else(|| Some(format!("{} after the comma", measure.name()))));
            return None;
        }
        let wanted = || Some("a figure such as 2 in".into());
        let Some(to) = constant(&to) else {
            self.report(to_at, "is not the same for every outlet", wanted());
            return None;
        };
        if to.is <= 0.0 {
            self.report(to_at, "is not more than zero, and has no multiples", wanted());
            return None;
        }
        let rounded = Amount::RoundedUp(Box::new(amount), to.is);
        if is_constant(&rounded) && constant(&rounded).is_none() {
            self.report(span, "is not a number that can be used", None);
            return None;
        }
        Some(Typed::Amount(rounded, Kind::Is(measure)))
    }

    pub(super) fn chain(&mut self, first: &Ast<'_>, rest: &[(Step, Ast<'_>)]) -> Option<Typed> {
        let start = self.amount(first);
        let rest: Vec<_> = rest.iter().map(|(step, ast)| (*step, self.amount(ast), ast.span)).collect();
        let (start, mut kind) = start?;
        let (mut at, mut steps, mut sum) = (first.span, Vec::new(), None);
        for (step, next, next_at) in rest {
            let (next, next_kind) = next?;
            let (so_far, measure) =
                self.settle(sum.take().unwrap_or_else(|| start.clone()), kind, at, false)?;
            // What is taken from a difference can only be a difference.
            let difference = step == Step::Minus && kind.is_difference();
            let (next, other) = self.settle(next, next_kind, next_at, difference)?;
            let whole = first.span.to(next_at);
            let one = |measure| Quantity::exact(1.0, measure);
            let Some(result) = worked(step, one(measure), one(other)) else {
                self.unworkable(step, (measure, at), (other, next_at), whole, next_kind);
                return None;
            };
            if step == Step::Over && constant(&next).is_some_and(|it| it.low <= 0.0 && it.high >= 0.0) {
                self.report(next_at, "is zero, and nothing can be divided by it", None);
                return None;
            }
            steps.push((step, next));
            (sum, kind, at) = (Some(so_far), Kind::Is(result.measure), whole);
        }
        let chain = Amount::Chain(Box::new(sum?), steps);
        if is_constant(&chain) && constant(&chain).is_none() {
            self.report(at, "is not a number that can be used", None);
            return None;
        }
        Some(Typed::Amount(chain, kind))
    }

    fn unworkable(
        &mut self,
        step: Step,
        (a, a_at): Placed<Measure>,
        (b, b_at): Placed<Measure>,
        whole: Span,
        next: Kind,
    ) {
        let both = a == Measure::Temperature && b == Measure::Temperature;
        let difference = || Some(format!("a difference, written {}", next.as_difference()));
        let (why, hint) = match step {
            Step::Plus if both => ("two temperatures cannot be added".into(), difference()),
            Step::Plus => {
                let hint = self.mending(a, a_at, b, b_at);
                (format!("{} and {} cannot be added", a.name(), b.name()), Some(hint))
            }
            Step::Minus if b == Measure::Temperature && a == DIFFERENCE => {
                ("a temperature cannot be taken from a temperature difference".into(), difference())
            }
            Step::Minus => {
                let why = format!("{} cannot be taken from {}", b.name(), a.name());
                (why, Some(self.mending(a, a_at, b, b_at)))
            }
            Step::Times => ("a temperature cannot be multiplied".into(), difference()),
            Step::Over => ("a temperature cannot be divided, nor divide".into(), difference()),
        };
        self.report(whole, &format!("cannot be worked out: {why}"), hint);
    }
}

fn is_constant(amount: &Amount) -> bool {
    let mut slots = BTreeSet::new();
    amount.slots(&mut slots);
    slots.is_empty()
}

/// The value of an amount that reads nothing.
pub(super) fn constant(amount: &Amount) -> Option<Quantity> {
    is_constant(amount).then(|| amount.read(&Nothing).ok()).flatten()
}
