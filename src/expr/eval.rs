//! Checked expressions and their evaluation, in Kleene's three values.

mod amount;

pub(super) use amount::{Amount, worked};

use std::collections::BTreeSet;
use std::sync::Arc;

use super::Readings;
use super::pattern::Pattern;
use super::value::{Gap, Slot, Value, same_text};
use crate::truth::{Reason, Truth};
use crate::units::{Compared, Ordering, Quantity};

/// What has a truth.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Test {
    Constant(bool),
    Fact(Slot),
    Not(Box<Test>),
    All(Vec<Test>),
    Any(Vec<Test>),
    /// Both true or both false.
    Same(Box<Test>, Box<Test>),
    Order(Amount, Ordering, Amount),
    /// The first is one of the others.
    OneOf(Amount, Vec<Amount>),
    /// The first lies from the second to the third.
    Between(Box<[Amount; 3]>),
    Alike(Words, Words),
    /// A text is one of a named list.
    Listed(Words, Slot),
    Matches(Slot, Pattern),
    Stated(Slot),
    Known(Slot),
}

/// What has a text.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Words {
    Literal(Arc<str>),
    Fact(Slot),
}

impl Test {
    pub fn truth(&self, from: &dyn Readings) -> Truth<Gap> {
        match self {
            Self::Constant(it) => (*it).into(),
            Self::Fact(slot) => match from.get(*slot) {
                Ok(Value::YesNo(it)) => (*it).into(),
                Ok(_) => Truth::Unknown(Gap::absent(*slot, NOT_AS_DECLARED)),
                Err(gap) => Truth::Unknown(gap),
            },
            Self::Not(test) => test.truth(from).negated(),
            Self::All(tests) => all(tests.iter().map(|test| test.truth(from))),
            Self::Any(tests) => any(tests.iter().map(|test| test.truth(from))),
            Self::Same(left, right) => {
                let (left, right) = (left.truth(from), right.truth(from));
                let both = left.clone().and(right.clone());
                let neither = left.negated().and(right.negated());
                both.or(neither)
            }
            Self::Order(left, ordering, right) => {
                ordered((left, &left.read(from)), *ordering, (right, &right.read(from)), from)
            }
            Self::OneOf(left, items) => {
                let is = left.read(from);
                any(items
                    .iter()
                    .map(|item| ordered((left, &is), Ordering::Equal, (item, &item.read(from)), from)))
            }
            Self::Between(ends) => {
                let [left, low, high] = &**ends;
                let is = left.read(from);
                let ends = [(Ordering::AtLeast, low), (Ordering::AtMost, high)];
                all(ends
                    .into_iter()
                    .map(|(ordering, end)| ordered((left, &is), ordering, (end, &end.read(from)), from)))
            }
            Self::Alike(left, right) => match both(left.read(from), right.read(from)) {
                Err(gap) => Truth::Unknown(gap),
                Ok((a, b)) => same_text(a, b).into(),
            },
            Self::Listed(left, list) => match both(left.read(from), list_of(*list, from)) {
                Err(gap) => Truth::Unknown(gap),
                Ok((word, list)) => list.iter().any(|it| same_text(it, word)).into(),
            },
            Self::Matches(slot, pattern) => match text_of(*slot, from) {
                Err(gap) => Truth::Unknown(gap),
                Ok(text) => pattern.is_in(text).into(),
            },
            Self::Stated(slot) => from.stated(*slot).into(),
            Self::Known(slot) => from.get(*slot).is_ok().into(),
        }
    }

    /// Every name in it.
    pub fn slots(&self, into: &mut BTreeSet<Slot>) {
        match self {
            Self::Constant(_) => {}
            Self::Fact(slot) | Self::Matches(slot, _) | Self::Stated(slot) | Self::Known(slot) => {
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
            Self::OneOf(left, items) => {
                left.slots(into);
                items.iter().for_each(|it| it.slots(into));
            }
            Self::Between(parts) => parts.iter().for_each(|it| it.slots(into)),
            Self::Alike(left, right) => {
                left.slots(into);
                right.slots(into);
            }
            Self::Listed(left, list) => {
                left.slots(into);
                into.insert(*list);
            }
        }
    }
}

/// What a name of a wrong type is told; a caller's error, which must not become an answer.
const NOT_AS_DECLARED: &str = "its value is not of its declared type";

impl Words {
    fn read<'f>(&'f self, from: &'f dyn Readings) -> Result<&'f str, Gap> {
        match self {
            Self::Literal(it) => Ok(it),
            Self::Fact(slot) => text_of(*slot, from),
        }
    }

    fn slots(&self, into: &mut BTreeSet<Slot>) {
        if let Self::Fact(slot) = self {
            into.insert(*slot);
        }
    }
}

fn text_of(slot: Slot, from: &dyn Readings) -> Result<&str, Gap> {
    match from.get(slot)? {
        Value::Text(it) => Ok(it),
        _ => Err(Gap::absent(slot, NOT_AS_DECLARED)),
    }
}

fn list_of(slot: Slot, from: &dyn Readings) -> Result<&[Arc<str>], Gap> {
    match from.get(slot)? {
        Value::List(it) => Ok(it),
        _ => Err(Gap::absent(slot, NOT_AS_DECLARED)),
    }
}

/// All of them. What follows cannot change a no; an unknown goes on, to name every gap.
fn all(mut tests: impl Iterator<Item = Truth<Gap>>) -> Truth<Gap> {
    let joined = tests.try_fold(Truth::True, |all, next| match Truth::and(all, next) {
        Truth::False => None,
        rest => Some(rest),
    });
    joined.unwrap_or(Truth::False)
}

/// Any of them. What follows cannot change a yes.
fn any(mut tests: impl Iterator<Item = Truth<Gap>>) -> Truth<Gap> {
    let joined = tests.try_fold(Truth::False, |any, next| match Truth::or(any, next) {
        Truth::True => None,
        rest => Some(rest),
    });
    joined.unwrap_or(Truth::True)
}

/// An amount and what was read of it.
type ReadAmount<'a> = (&'a Amount, &'a Result<Quantity, Gap>);

fn ordered(
    (left, a): ReadAmount<'_>,
    ordering: Ordering,
    (right, b): ReadAmount<'_>,
    from: &dyn Readings,
) -> Truth<Gap> {
    let (a, b) = match (a, b) {
        (Ok(a), Ok(b)) => (*a, *b),
        (a, b) => {
            let gaps = [a, b].into_iter().filter_map(|it| it.as_ref().err().cloned());
            return Truth::Unknown(gaps.reduce(joined).unwrap_or_default());
        }
    };
    match a.compare(ordering, b) {
        Compared::Holds => Truth::True,
        Compared::Fails => Truth::False,
        Compared::TooClose => {
            let mut slots = BTreeSet::new();
            left.slots(&mut slots);
            right.slots(&mut slots);
            slots.retain(|slot| matches!(from.get(*slot), Ok(Value::Quantity(it)) if it.is_banded()));
            Truth::Unknown(Gap::close(slots, a, b))
        }
    }
}

fn joined(mut gap: Gap, more: Gap) -> Gap {
    gap.absorb(more);
    gap
}

fn both<A, B>(a: Result<A, Gap>, b: Result<B, Gap>) -> Result<(A, B), Gap> {
    match (a, b) {
        (Ok(a), Ok(b)) => Ok((a, b)),
        (Err(gap), Err(more)) => Err(joined(gap, more)),
        (Err(gap), Ok(_)) | (Ok(_), Err(gap)) => Err(gap),
    }
}

/// Reads nothing: for what is constant.
pub(super) struct Nothing;

impl Readings for Nothing {
    fn get(&self, slot: Slot) -> Result<&Value, Gap> {
        Err(Gap::missing(slot))
    }

    fn stated(&self, _: Slot) -> bool {
        false
    }
}
