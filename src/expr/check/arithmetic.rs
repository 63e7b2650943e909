//! Checks arithmetic. A temperature minus a temperature is a difference; a temperature plus a difference is a
//! temperature; two temperatures cannot be added.

use std::collections::BTreeSet;

use super::super::ast::{Ast, Operator};
use super::super::error::ExprError;
use super::super::eval::{Amount, Nothing, compute};
use super::super::source::Span;
use super::super::types::{AmountKind, DIFFERENCE, Spanned, Typed};
use super::Checker;
use crate::units::{Measure, Quantity};

impl Checker<'_> {
    /// Checks `min` and `max`.
    pub(super) fn check_extreme(&mut self, name: &str, arguments: &[Ast<'_>], span: Span) -> Option<Typed> {
        let items = self.check_all(arguments, Self::check_amount)?;
        if items.len() < 2 {
            return self.error(span, ExprError::Arguments("two or more values", format!("{name}(a, b)")));
        }
        let is_difference = items.iter().any(|((_, kind), _)| kind.is_difference());
        let mut amounts = Vec::new();
        let mut first: Option<Spanned<Measure>> = None;
        for item in items {
            let at = item.1;
            let (amount, measure) = self.settle(item, is_difference)?;
            let first = *first.get_or_insert((measure, at));
            if first.0 != measure {
                let hint = self.hint(first, (measure, at));
                let error = ExprError::Incomparable(first.0.name(), measure.name(), Some(hint));
                return self.error(span, error);
            }
            amounts.push(amount);
        }
        let (measure, _) = first?;
        let amount = if name == "min" { Amount::Min(amounts) } else { Amount::Max(amounts) };
        Some(Typed::Amount(amount, AmountKind::Measured(measure)))
    }

    /// Checks `round_up(amount, step)`.
    pub(super) fn check_round_up(&mut self, arguments: &[Ast<'_>], span: Span) -> Option<Typed> {
        let items = self.check_all(arguments, Self::check_amount)?;
        let Ok([amount, step]) = <[_; 2]>::try_from(items) else {
            return self.error(span, ExprError::Arguments("two amounts", "round_up(amount, 2 in)".into()));
        };
        let ((_, kind), at) = &amount;
        let (kind, at, step_at) = (*kind, *at, step.1);
        let is_difference = kind.is_difference() || step.0.1.is_difference();
        let (amount, measure) = self.settle(amount, is_difference)?;
        let (step, step_measure) = self.settle(step, is_difference)?;
        if measure == Measure::Temperature {
            return self.error(at, ExprError::MultipleOfTemperature(kind.as_difference()));
        }
        if measure != step_measure {
            let why = format!("{} has no multiples of {}", measure.name(), step_measure.name());
            let hint = self.omission((measure, at), (step_measure, step_at));
            let hint = hint.unwrap_or_else(|| format!("{} after the comma", measure.name()));
            return self.error(span, ExprError::Impossible(why, Some(hint)));
        }
        let Some(step) = constant(&step) else { return self.error(step_at, ExprError::NotConstant) };
        if step.is <= 0.0 {
            return self.error(step_at, ExprError::NotPositive);
        }
        self.finite(Amount::RoundUp(Box::new(amount), step.is), measure, span)
    }

    /// Checks operations from left to right.
    pub(super) fn check_chain(&mut self, first: &Ast<'_>, rest: &[(Operator, Ast<'_>)]) -> Option<Typed> {
        let start = self.check_amount(first);
        let operands: Vec<_> =
            rest.iter().map(|(operator, operand)| (*operator, self.check_amount(operand))).collect();
        let ((start, mut kind), mut at) = start?;
        let (mut steps, mut settled_start) = (Vec::new(), None);
        for (operator, operand) in operands {
            let ((operand, operand_kind), operand_at) = operand?;
            let so_far = settled_start.take().unwrap_or_else(|| start.clone());
            let (so_far, measure) = self.settle(((so_far, kind), at), false)?;
            // Only a difference can be subtracted from a difference.
            let is_difference = operator == Operator::Minus && kind.is_difference();
            let (operand, operand_measure) =
                self.settle(((operand, operand_kind), operand_at), is_difference)?;
            let whole = first.span.to(operand_at);
            let one = |measure| Quantity::exact(1.0, measure);
            let Some(result) = compute(operator, one(measure), one(operand_measure)) else {
                let error =
                    self.impossible(operator, (measure, at), (operand_measure, operand_at), operand_kind);
                return self.error(whole, error);
            };
            let is_zero = |quantity: Quantity| quantity.low <= 0.0 && quantity.high >= 0.0;
            if operator == Operator::Over && constant(&operand).is_some_and(is_zero) {
                return self.error(operand_at, ExprError::DividesByZero);
            }
            steps.push((operator, operand));
            (settled_start, kind, at) = (Some(so_far), AmountKind::Measured(result.measure), whole);
        }
        self.finite(Amount::Chain(Box::new(settled_start?), steps), kind.measure(), at)
    }

    /// An amount, unless it is a constant that is too large.
    fn finite(&mut self, amount: Amount, measure: Measure, span: Span) -> Option<Typed> {
        if is_constant(&amount) && constant(&amount).is_none() {
            return self.error(span, ExprError::UnusableNumber);
        }
        Some(Typed::Amount(amount, AmountKind::Measured(measure)))
    }

    fn impossible(
        &self,
        operator: Operator,
        left: Spanned<Measure>,
        right: Spanned<Measure>,
        right_kind: AmountKind,
    ) -> ExprError {
        let both = left.0 == Measure::Temperature && right.0 == Measure::Temperature;
        let difference = || format!("a difference, written {}", right_kind.as_difference());
        let (left_name, right_name) = (left.0.name(), right.0.name());
        let (why, hint) = match operator {
            Operator::Plus if both => ("two temperatures cannot be added".into(), difference()),
            Operator::Plus => {
                (format!("{left_name} and {right_name} cannot be added"), self.hint(left, right))
            }
            Operator::Minus if right.0 == Measure::Temperature && left.0 == DIFFERENCE => {
                let why = "a temperature cannot be subtracted from a temperature difference";
                (why.into(), difference())
            }
            Operator::Minus => {
                (format!("{right_name} cannot be subtracted from {left_name}"), self.hint(left, right))
            }
            Operator::Times => ("a temperature cannot be multiplied".into(), difference()),
            Operator::Over => ("a temperature cannot be divided or be a divisor".into(), difference()),
        };
        ExprError::Impossible(why, Some(hint))
    }
}

fn is_constant(amount: &Amount) -> bool {
    let mut slots = BTreeSet::new();
    amount.slots(&mut slots);
    slots.is_empty()
}

/// The value of an amount that reads no fact.
pub(super) fn constant(amount: &Amount) -> Option<Quantity> {
    is_constant(amount).then(|| amount.read(&Nothing).ok()).flatten()
}
