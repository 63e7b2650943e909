//! Parts of an expression that are quantities: arithmetic, extremes and rounding, with bands.

use std::collections::BTreeSet;

use super::super::ast::Operator;
use super::super::value::{Gap, Slot, Value};
use super::{both, wrong_type};
use crate::expr::Values;
use crate::truth::Reason;
use crate::units::{Dim, Measure, Quantity};

/// A part of an expression that is a quantity.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::expr) enum Amount {
    Literal(Quantity),
    Fact(Slot, Measure),
    /// Operations from left to right.
    Chain(Box<Amount>, Vec<(Operator, Amount)>),
    Negative(Box<Amount>),
    Min(Vec<Amount>),
    Max(Vec<Amount>),
    /// Up to a multiple of a number, SI.
    RoundUp(Box<Amount>, f64),
}

const TOO_LARGE: &str = "it is too large";

impl Amount {
    /// Its value, or what is missing.
    pub fn read(&self, values: &dyn Values) -> Result<Quantity, Gap> {
        match self {
            Self::Literal(quantity) => Ok(*quantity),
            Self::Fact(slot, measure) => match values.get(*slot)? {
                Value::Quantity(it) if !is_finite(*it) => Err(Gap::absent(*slot, "its value is not finite")),
                Value::Quantity(it) if it.measure == *measure => Ok(*it),
                _ => wrong_type(*slot),
            },
            Self::Negative(operand) => {
                operand.read(values).map(|it| Quantity::exact(-it.is, it.measure).within(-it.high, -it.low))
            }
            Self::Chain(first, steps) => {
                let mut so_far = first.read(values);
                for (index, (operator, operand)) in steps.iter().enumerate() {
                    so_far = both(so_far, operand.read(values))
                        .and_then(|(a, b)| {
                            compute(*operator, a, b).ok_or_else(|| {
                                if *operator == Operator::Over && b.low <= 0.0 && b.high >= 0.0 {
                                    operand.gap("it may be zero and is a divisor")
                                } else {
                                    self.gap(TOO_LARGE)
                                }
                            })
                        })
                        .or_else(|gap| zero_product(first, &steps[..=index], values).ok_or(gap));
                }
                so_far
            }
            Self::Min(items) => extreme(items, values, f64::min),
            Self::Max(items) => extreme(items, values, f64::max),
            Self::RoundUp(amount, step) => {
                let rounded = round_up(amount.read(values)?, *step);
                if is_finite(rounded) { Ok(rounded) } else { Err(self.gap(TOO_LARGE)) }
            }
        }
    }

    /// Adds every name in it.
    pub fn slots(&self, slots: &mut BTreeSet<Slot>) {
        match self {
            Self::Literal(_) => {}
            Self::Fact(slot, _) => {
                slots.insert(*slot);
            }
            Self::Negative(amount) | Self::RoundUp(amount, _) => amount.slots(slots),
            Self::Chain(first, steps) => {
                first.slots(slots);
                steps.iter().for_each(|(_, operand)| operand.slots(slots));
            }
            Self::Min(items) | Self::Max(items) => items.iter().for_each(|item| item.slots(slots)),
        }
    }

    /// A gap of every name in it, for one reason.
    fn gap(&self, why: &str) -> Gap {
        let mut slots = BTreeSet::new();
        self.slots(&mut slots);
        let mut gap = Gap::default();
        slots.into_iter().for_each(|slot| gap.absorb(Gap::absent(slot, why)));
        gap
    }

    /// What it measures, if it is finite whenever every name in it has a value: it contains no operation or rounding.
    fn always_finite(&self) -> Option<Measure> {
        match self {
            Self::Literal(quantity) => Some(quantity.measure),
            Self::Fact(_, measure) => Some(*measure),
            Self::Negative(amount) => amount.always_finite(),
            Self::Min(items) | Self::Max(items) => {
                items.iter().map(Self::always_finite).reduce(|a, b| a.and(b)).flatten()
            }
            Self::Chain(..) | Self::RoundUp(..) => None,
        }
    }
}

/// The value of a product with a factor that is exactly zero and others that are only missing: zero, whatever they are,
/// so nobody needs to be asked for them. Divisors must be known. `None` for any other product.
fn zero_product(first: &Amount, rest: &[(Operator, Amount)], values: &dyn Values) -> Option<Quantity> {
    let (mut product, mut is_zero) = (Quantity::of(1.0, Dim::NONE), false);
    let first = (&Operator::Times, first);
    for (operator, factor) in std::iter::once(first).chain(rest.iter().map(|(a, b)| (a, b))) {
        let one = Quantity::exact(1.0, factor.always_finite()?);
        product = match (operator, factor.read(values)) {
            (Operator::Times, Ok(value)) => {
                is_zero |= value.low == 0.0 && value.high == 0.0;
                product.times(one)?
            }
            (Operator::Times, Err(gap)) if gap.absent.is_empty() => product.times(one)?,
            (Operator::Over, Ok(value)) if value.low > 0.0 || value.high < 0.0 => product.over(one)?,
            _ => return None,
        };
    }
    is_zero.then(|| Quantity::exact(0.0, product.measure))
}

/// The result of one operation; `None` if the measures do not allow it or it is not finite.
pub(in crate::expr) fn compute(operator: Operator, a: Quantity, b: Quantity) -> Option<Quantity> {
    match operator {
        Operator::Plus => a.plus(b),
        Operator::Minus => a.minus(b),
        Operator::Times => a.times(b),
        Operator::Over => a.over(b),
    }
    .filter(|result| is_finite(*result))
}

fn is_finite(quantity: Quantity) -> bool {
    quantity.is.is_finite() && quantity.low.is_finite() && quantity.high.is_finite()
}

/// Rounds the value and both ends up to a multiple. Rounding noise does not lift a multiple to the next: 8 in up to 2 in
/// stays 8 in.
fn round_up(quantity: Quantity, step: f64) -> Quantity {
    let up = |si: f64| {
        let times = si / step;
        // As much as two values that compare as equal may differ (`Quantity::compare`), and near zero of one step.
        let noise = 1e-9 * times.abs().max(1.0);
        (times - noise).ceil() * step
    };
    Quantity::exact(up(quantity.is), quantity.measure).within(up(quantity.low), up(quantity.high))
}

/// The least or greatest of all; its band runs between the extremes of the ends.
fn extreme(items: &[Amount], values: &dyn Values, pick: fn(f64, f64) -> f64) -> Result<Quantity, Gap> {
    let pick_both = |(a, b): (Quantity, Quantity)| {
        Quantity::exact(pick(a.is, b.is), a.measure).within(pick(a.low, b.low), pick(a.high, b.high))
    };
    let amounts = items.iter().map(|item| item.read(values));
    amounts.reduce(|a, b| both(a, b).map(pick_both)).unwrap_or_else(|| Err(Gap::default()))
}
