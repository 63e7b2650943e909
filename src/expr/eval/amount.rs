//! What has a quantity: sums, products, extremes and rounding, with their bands.

use std::collections::BTreeSet;

use super::super::ast::Step;
use super::super::value::{Gap, Slot, Value};
use super::{NOT_AS_DECLARED, both};
use crate::expr::Readings;
use crate::truth::Reason;
use crate::units::{Dim, Measure, Quantity};

/// What has a quantity.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::expr) enum Amount {
    Literal(Quantity),
    Fact(Slot, Measure),
    Chain(Box<Amount>, Vec<(Step, Amount)>),
    Opposite(Box<Amount>),
    Least(Vec<Amount>),
    Greatest(Vec<Amount>),
    /// Up to a multiple of so much, SI.
    RoundedUp(Box<Amount>, f64),
}

impl Amount {
    pub fn read(&self, from: &dyn Readings) -> Result<Quantity, Gap> {
        match self {
            Self::Literal(it) => Ok(*it),
            Self::Fact(slot, measure) => match from.get(*slot)? {
                Value::Quantity(it) if !usable(*it) => Err(Gap::absent(*slot, "its value is not finite")),
                Value::Quantity(it) if it.measure == *measure => Ok(*it),
                _ => Err(Gap::absent(*slot, NOT_AS_DECLARED)),
            },
            Self::Opposite(it) => it.read(from).map(opposite),
            Self::Chain(first, steps) => {
                let mut sum = first.read(from);
                for (at, (step, next)) in steps.iter().enumerate() {
                    sum = both(sum, next.read(from)).and_then(|(a, b)| {
                        worked(*step, a, b).ok_or_else(|| {
                            let (why, of) = if *step == Step::Over && b.low <= 0.0 && b.high >= 0.0 {
                                ("it may be zero, and something is divided by it", next)
                            } else {
                                (TOO_LARGE, self)
                            };
                            of.gap(why)
                        })
                    });
                    sum = sum.or_else(|gap| nothing_of(first, &steps[..=at], from).ok_or(gap));
                }
                sum
            }
            Self::Least(items) => extreme(items, from, f64::min),
            Self::Greatest(items) => extreme(items, from, f64::max),
            Self::RoundedUp(it, to) => {
                let up = rounded_up(it.read(from)?, *to);
                if usable(up) { Ok(up) } else { Err(self.gap(TOO_LARGE)) }
            }
        }
    }

    /// Every name in it.
    pub fn slots(&self, into: &mut BTreeSet<Slot>) {
        match self {
            Self::Literal(_) => {}
            Self::Fact(slot, _) => {
                into.insert(*slot);
            }
            Self::Opposite(it) | Self::RoundedUp(it, _) => it.slots(into),
            Self::Chain(first, steps) => {
                first.slots(into);
                steps.iter().for_each(|(_, it)| it.slots(into));
            }
            Self::Least(items) | Self::Greatest(items) => items.iter().for_each(|it| it.slots(into)),
        }
    }

    /// Lacking for one reason, in the name of every name in it.
    fn gap(&self, why: &str) -> Gap {
        let mut slots = BTreeSet::new();
        self.slots(&mut slots);
        let mut gap = Gap::default();
        for slot in slots {
            gap.absorb(Gap::absent(slot, why));
        }
        gap
    }

    /// What it measures, where it has a finite value as soon as every name in it has one: nothing is divided in it, nor
    /// grows.
    fn sure(&self) -> Option<Measure> {
        match self {
            Self::Literal(it) => Some(it.measure),
            Self::Fact(_, measure) => Some(*measure),
            Self::Opposite(it) => it.sure(),
            Self::Least(items) | Self::Greatest(items) => {
                items.iter().map(Self::sure).reduce(|a, b| a.and(b)).flatten()
            }
            Self::Chain(..) | Self::RoundedUp(..) => None,
        }
    }
}

const TOO_LARGE: &str = "it is too large to work with";

/// A product one factor of which is exactly zero, where others are only missing: whatever they turn out to be, it is zero,
/// and asking for them would decide nothing. What it is divided by must be known. `None` where that is not so.
fn nothing_of(first: &Amount, rest: &[(Step, Amount)], from: &dyn Readings) -> Option<Quantity> {
    let (mut product, mut is_zero) = (Quantity::of(1.0, Dim::NONE), false);
    let first = (&Step::Times, first);
    for (step, part) in std::iter::once(first).chain(rest.iter().map(|(step, it)| (step, it))) {
        let one = Quantity::exact(1.0, part.sure()?);
        product = match (step, part.read(from)) {
            (Step::Times, Ok(it)) => {
                is_zero |= it.low == 0.0 && it.high == 0.0;
                product.times(one)?
            }
            (Step::Times, Err(gap)) if gap.absent.is_empty() => product.times(one)?,
            (Step::Over, Ok(it)) if it.low > 0.0 || it.high < 0.0 => product.over(one)?,
            _ => return None,
        };
    }
    is_zero.then(|| Quantity::exact(0.0, product.measure))
}

/// One step of arithmetic; `None` where it cannot be worked.
pub(in crate::expr) fn worked(step: Step, a: Quantity, b: Quantity) -> Option<Quantity> {
    match step {
        Step::Plus => a.plus(b),
        Step::Minus => a.minus(b),
        Step::Times => a.times(b),
        Step::Over => a.over(b),
    }
    .filter(|it| usable(*it))
}

fn usable(it: Quantity) -> bool {
    it.is.is_finite() && it.low.is_finite() && it.high.is_finite()
}

fn opposite(it: Quantity) -> Quantity {
    Quantity::exact(-it.is, it.measure).within(-it.high, -it.low)
}

/// Both ends and the value used, each up to a multiple. Rounding noise does not lift a multiple to the next: 8 in up to
/// 2 in stays 8 in.
fn rounded_up(it: Quantity, to: f64) -> Quantity {
    let up = |si: f64| {
        let times = si / to;
        // As much as two values that compare as equal may differ (`Quantity::compare`), and near zero of one step.
        let noise = 1e-9 * times.abs().max(1.0);
        (times - noise).ceil() * to
    };
    Quantity::exact(up(it.is), it.measure).within(up(it.low), up(it.high))
}

/// The least or greatest of all; a band runs between the extremes of the ends.
fn extreme(items: &[Amount], from: &dyn Readings, pick: fn(f64, f64) -> f64) -> Result<Quantity, Gap> {
    items
        .iter()
        .map(|it| it.read(from))
        .reduce(|a, b| {
            both(a, b).map(|(a, b)| {
                Quantity::exact(pick(a.is, b.is), a.measure).within(pick(a.low, b.low), pick(a.high, b.high))
            })
        })
        .unwrap_or_else(|| Err(Gap::default()))
}
