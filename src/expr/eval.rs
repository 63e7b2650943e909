//! Checked tests and their evaluation in three-valued logic.

mod amount;

pub(super) use amount::{Amount, compute};

use std::collections::BTreeSet;
use std::sync::Arc;

use super::Values;
use super::pattern::Pattern;
use super::value::{Gap, Slot, Value, same_text};
use crate::truth::{Reason, Truth};
use crate::units::{Compared, Ordering, Quantity};

/// A part of an expression that is true, false or unknown.
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
    SameText(Words, Words),
    /// A text is in a named list.
    InNamed(Words, Slot),
    Matches(Slot, Pattern),
    Stated(Slot),
    Known(Slot),
}

/// A part of an expression that is a text.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Words {
    Literal(Arc<str>),
    Fact(Slot),
}

impl Test {
    /// Evaluates it. If it is unknown, the gap names everything that keeps it so.
    pub fn truth(&self, values: &dyn Values) -> Truth<Gap> {
        let known = |result: Result<bool, Gap>| result.map_or_else(Truth::Unknown, Truth::from);
        match self {
            Self::Constant(value) => (*value).into(),
            Self::Fact(slot) => known(yes_no(*slot, values)),
            Self::Not(test) => test.truth(values).negated(),
            Self::All(tests) => all(tests, values),
            Self::Any(tests) => any(tests, values),
            Self::Same(left, right) => {
                let (left, right) = (left.truth(values), right.truth(values));
                let both = left.clone().and(right.clone());
                let neither = left.negated().and(right.negated());
                both.or(neither)
            }
            Self::Order(left, ordering, right) => ordered(left, *ordering, right, values),
            Self::SameText(left, right) => {
                let texts = both(left.read(values), right.read(values));
                known(texts.map(|(left, right)| same_text(left, right)))
            }
            Self::InNamed(text, list) => {
                let found = both(text.read(values), list_of(*list, values));
                known(found.map(|(text, list)| list.iter().any(|word| same_text(word, text))))
            }
            Self::Matches(slot, pattern) => known(text_of(*slot, values).map(|text| pattern.is_in(text))),
            Self::Stated(slot) => values.is_stated(*slot).into(),
            Self::Known(slot) => values.get(*slot).is_ok().into(),
        }
    }

    /// As [`super::Condition::first_known_tested`].
    pub fn first_known_tested(&self) -> Option<Slot> {
        match self {
            Self::Known(slot) => Some(*slot),
            Self::Any(tests) if tests.iter().all(|test| test.first_known_tested().is_some()) => {
                tests.first()?.first_known_tested()
            }
            _ => None,
        }
    }

    /// Adds every name in it.
    pub fn slots(&self, slots: &mut BTreeSet<Slot>) {
        match self {
            Self::Constant(_) => {}
            Self::Fact(slot) | Self::Matches(slot, _) | Self::Stated(slot) | Self::Known(slot) => {
                slots.insert(*slot);
            }
            Self::Not(test) => test.slots(slots),
            Self::All(tests) | Self::Any(tests) => tests.iter().for_each(|test| test.slots(slots)),
            Self::Same(left, right) => [left, right].iter().for_each(|test| test.slots(slots)),
            Self::Order(left, _, right) => [left, right].iter().for_each(|amount| amount.slots(slots)),
            Self::SameText(left, right) => slots.extend(left.slot().into_iter().chain(right.slot())),
            Self::InNamed(text, list) => slots.extend(text.slot().into_iter().chain([*list])),
        }
    }
}

impl Words {
    fn read<'r>(&'r self, values: &'r dyn Values) -> Result<&'r str, Gap> {
        match self {
            Self::Literal(text) => Ok(text),
            Self::Fact(slot) => text_of(*slot, values),
        }
    }

    fn slot(&self) -> Option<Slot> {
        match self {
            Self::Literal(_) => None,
            Self::Fact(slot) => Some(*slot),
        }
    }
}

/// The gap of a value that is not of its declared type: an error of the caller, which must not become an answer.
fn wrong_type<T>(slot: Slot) -> Result<T, Gap> {
    Err(Gap::absent(slot, "its value is not of its declared type"))
}

fn yes_no(slot: Slot, values: &dyn Values) -> Result<bool, Gap> {
    match values.get(slot)? {
        Value::YesNo(value) => Ok(*value),
        _ => wrong_type(slot),
    }
}

fn text_of(slot: Slot, values: &dyn Values) -> Result<&str, Gap> {
    match values.get(slot)? {
        Value::Text(text) => Ok(text),
        _ => wrong_type(slot),
    }
}

fn list_of(slot: Slot, values: &dyn Values) -> Result<&[Arc<str>], Gap> {
    match values.get(slot)? {
        Value::List(list) => Ok(list),
        _ => wrong_type(slot),
    }
}

/// The conjunction. Stops at a false test; continues after an unknown one, to name every gap.
fn all(tests: &[Test], values: &dyn Values) -> Truth<Gap> {
    let joined = tests.iter().try_fold(Truth::True, |all, test| match all.and(test.truth(values)) {
        Truth::False => None,
        rest => Some(rest),
    });
    joined.unwrap_or(Truth::False)
}

/// The disjunction. Stops at a true test.
fn any(tests: &[Test], values: &dyn Values) -> Truth<Gap> {
    let joined = tests.iter().try_fold(Truth::False, |any, test| match any.or(test.truth(values)) {
        Truth::True => None,
        rest => Some(rest),
    });
    joined.unwrap_or(Truth::True)
}

/// A comparison of two quantities.
fn ordered(left: &Amount, ordering: Ordering, right: &Amount, values: &dyn Values) -> Truth<Gap> {
    let (a, b) = match both(left.read(values), right.read(values)) {
        Ok((a, b)) if values.compares_best_estimates() => {
            (Quantity::exact(a.is, a.measure), Quantity::exact(b.is, b.measure))
        }
        Ok(values) => values,
        Err(gap) => return Truth::Unknown(gap),
    };
    match a.compare(ordering, b) {
        Compared::Holds => Truth::True,
        Compared::Fails => Truth::False,
        Compared::TooClose => {
            let mut slots = BTreeSet::new();
            left.slots(&mut slots);
            right.slots(&mut slots);
            slots.retain(|slot| matches!(values.get(*slot), Ok(Value::Quantity(it)) if it.is_banded()));
            Truth::Unknown(Gap::close(slots, a, b))
        }
    }
}

/// Both values, or the gaps of both.
fn both<A, B>(left: Result<A, Gap>, right: Result<B, Gap>) -> Result<(A, B), Gap> {
    match (left, right) {
        (Ok(left), Ok(right)) => Ok((left, right)),
        (Err(mut gap), Err(other)) => {
            gap.absorb(other);
            Err(gap)
        }
        (Err(gap), Ok(_)) | (Ok(_), Err(gap)) => Err(gap),
    }
}

/// Has no values: for constants.
pub(super) struct Nothing;

impl Values for Nothing {
    fn get(&self, slot: Slot) -> Result<&Value, Gap> {
        Err(Gap::missing(slot))
    }

    fn is_stated(&self, _: Slot) -> bool {
        false
    }
}
