//! Checked expressions and their evaluation, in Kleene's three values.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::Readings;
use super::ast::Step;
use super::value::{Gap, Reading, Slot, Value};
use crate::truth::{Reason, Truth};
use crate::units::{Compared, Measure, Ordering, Quantity};

/// What has a truth.
#[derive(Clone, Debug)]
pub(super) enum Test {
    Constant(bool),
    Fact(Slot),
    Not(Box<Test>),
    All(Vec<Test>),
    Any(Vec<Test>),
    /// Both true or both false.
    Same(Box<Test>, Box<Test>),
    Order(Amount, Ordering, Amount),
    Alike(Words, Words),
    Stated(Slot),
    Known(Slot),
}

/// What has a quantity.
#[derive(Clone, Debug)]
pub(super) enum Amount {
    Literal(Quantity),
    Fact(Slot, Measure),
    Chain(Box<Amount>, Vec<(Step, Amount)>),
    Opposite(Box<Amount>),
    Least(Vec<Amount>),
    Greatest(Vec<Amount>),
}

/// What has a text.
#[derive(Clone, Debug)]
pub(super) enum Words {
    Literal(Arc<str>),
    Fact(Slot),
}

impl Test {
    pub fn truth(&self, from: &dyn Readings) -> Truth<Gap> {
        match self {
            Self::Constant(it) => (*it).into(),
            Self::Fact(slot) => match from.get(*slot) {
                Ok(Value::YesNo(it)) => it.into(),
                Ok(_) => Truth::Unknown(Gap::absent(*slot, NOT_AS_DECLARED)),
                Err(gap) => Truth::Unknown(gap),
            },
            Self::Not(test) => test.truth(from).negated(),
            Self::All(tests) => {
                let mut all = Truth::True;
                for test in tests {
                    all = all.and(test.truth(from));
                    // What follows cannot change a false; an unknown goes on, to name every gap.
                    if matches!(all, Truth::False) {
                        break;
                    }
                }
                all
            }
            Self::Any(tests) => {
                let mut any = Truth::False;
                for test in tests {
                    any = any.or(test.truth(from));
                    if matches!(any, Truth::True) {
                        break;
                    }
                }
                any
            }
            Self::Same(left, right) => {
                let (left, right) = (left.truth(from), right.truth(from));
                let both = left.clone().and(right.clone());
                let neither = left.negated().and(right.negated());
                both.or(neither)
            }
            Self::Order(left, ordering, right) => match both(left.read(from), right.read(from)) {
                Err(gap) => Truth::Unknown(gap),
                Ok((a, b)) => match a.compare(*ordering, b) {
                    Compared::Holds => Truth::True,
                    Compared::Fails => Truth::False,
                    Compared::TooClose => {
                        let mut slots = BTreeSet::new();
                        left.slots(&mut slots);
                        right.slots(&mut slots);
                        slots.retain(
                            |slot| matches!(from.get(*slot), Ok(Value::Quantity(it)) if it.is_banded()),
                        );
                        Truth::Unknown(Gap::close(slots, a, b))
                    }
                },
            },
            Self::Alike(left, right) => match both(left.read(from), right.read(from)) {
                Err(gap) => Truth::Unknown(gap),
                Ok((a, b)) => (a == b).into(),
            },
            Self::Stated(slot) => from.stated(*slot).into(),
            Self::Known(slot) => from.get(*slot).is_ok().into(),
        }
    }

    /// Every name in it.
    pub fn slots(&self, into: &mut BTreeSet<Slot>) {
        match self {
            Self::Constant(_) => {}
            Self::Fact(slot) | Self::Stated(slot) | Self::Known(slot) => {
                into.insert(*slot);
            }
            Self::Not(test) => test.slots(into),
            Self::All(tests) | Self::Any(tests) => tests.iter().for_each(|it| it.slots(into)),
            Self::Same(left, right) => {
                left.slots(into);
                right.slots(into);
            }
            Self::Order(left, _, right) => {
                left.slots(into);
                right.slots(into);
            }
            Self::Alike(left, right) => {
                for words in [left, right] {
                    if let Words::Fact(slot) = words {
                        into.insert(*slot);
                    }
                }
            }
        }
    }
}

/// What a name of a wrong type is told; a caller's error, which must not become an answer.
const NOT_AS_DECLARED: &str = "its value is not of its declared type";

impl Amount {
    pub fn read(&self, from: &dyn Readings) -> Result<Quantity, Gap> {
        match self {
            Self::Literal(it) => Ok(*it),
            Self::Fact(slot, measure) => match from.get(*slot)? {
                Value::Quantity(it) if !usable(it) => Err(Gap::absent(*slot, "its value is not finite")),
                Value::Quantity(it) if it.measure == *measure => Ok(it),
                _ => Err(Gap::absent(*slot, NOT_AS_DECLARED)),
            },
            Self::Opposite(it) => it.read(from).map(opposite),
            Self::Chain(first, steps) => {
                let mut sum = first.read(from);
                for (step, next) in steps {
                    sum = both(sum, next.read(from)).and_then(|(a, b)| {
                        worked(*step, a, b).ok_or_else(|| {
                            let (why, of) = if *step == Step::Over && b.low <= 0.0 && b.high >= 0.0 {
                                ("it may be zero, and something is divided by it", next)
                            } else {
                                ("it is too large to work with", self)
                            };
                            of.gap(why)
                        })
                    });
                }
                sum
            }
            Self::Least(items) => extreme(items, from, f64::min),
            Self::Greatest(items) => extreme(items, from, f64::max),
        }
    }

    /// Every name in it.
    pub fn slots(&self, into: &mut BTreeSet<Slot>) {
        match self {
            Self::Literal(_) => {}
            Self::Fact(slot, _) => {
                into.insert(*slot);
            }
            Self::Opposite(it) => it.slots(into),
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
}

impl Words {
    fn read(&self, from: &dyn Readings) -> Result<Arc<str>, Gap> {
        match self {
            Self::Literal(it) => Ok(it.clone()),
            Self::Fact(slot) => match from.get(*slot)? {
                Value::Text(it) => Ok(it),
                _ => Err(Gap::absent(*slot, NOT_AS_DECLARED)),
            },
        }
    }
}

/// One step of arithmetic; `None` where it cannot be worked.
pub(super) fn worked(step: Step, a: Quantity, b: Quantity) -> Option<Quantity> {
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

fn both<A, B>(a: Result<A, Gap>, b: Result<B, Gap>) -> Result<(A, B), Gap> {
    match (a, b) {
        (Ok(a), Ok(b)) => Ok((a, b)),
        (Err(mut gap), Err(more)) => {
            gap.absorb(more);
            Err(gap)
        }
        (Err(gap), Ok(_)) | (Ok(_), Err(gap)) => Err(gap),
    }
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

/// Reads nothing: for what is constant.
pub(super) struct Nothing;

impl Readings for Nothing {
    fn get(&self, slot: Slot) -> Reading {
        Err(Gap::missing(slot))
    }

    fn stated(&self, _: Slot) -> bool {
        false
    }
}
