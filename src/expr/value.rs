//! Values of names: their types, and why a value may be missing.

use std::cmp::Ordering::{self, Equal};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::truth::Reason;
use crate::units::{Measure, Quantity};

/// The number of a name, given by the caller.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Slot(pub u16);

/// The type of a name.
#[derive(Clone, Debug, PartialEq)]
pub enum Type {
    /// A quantity of one measure.
    Quantity(Measure),
    /// Any text.
    Text,
    /// Yes or no.
    YesNo,
    /// One of these words; its value is a text.
    OneOf(&'static [&'static str]),
    /// Several of these words; any texts if `None`.
    List(Option<&'static [&'static str]>),
}

/// A value.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A quantity, possibly with a band.
    Quantity(Quantity),
    /// A text, or one of the words of [`Type::OneOf`].
    Text(Arc<str>),
    /// Yes or no.
    YesNo(bool),
    /// The texts of [`Type::List`].
    List(Arc<[Arc<str>]>),
}

/// Whether two texts are equal. Ignores case and spaces around them.
pub fn same_text(a: &str, b: &str) -> bool {
    let (a, b) = (a.trim(), b.trim());
    a.eq_ignore_ascii_case(b)
        || a.chars().flat_map(char::to_lowercase).eq(b.chars().flat_map(char::to_lowercase))
}

/// The form that all texts have in common that are [`same_text`].
pub fn folded(text: &str) -> String {
    text.trim().chars().flat_map(char::to_lowercase).collect()
}

/// A value, or why it is missing.
pub type ValueOrGap = Result<Value, Gap>;

/// Why there is no value or no answer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Gap {
    /// Names nobody has stated a value for: an answer would close the gap.
    pub missing: BTreeSet<Slot>,
    /// Names without a value, and the reason, such as "no listed length is long enough".
    pub absent: BTreeMap<Slot, Arc<str>>,
    /// Comparisons too close to call, in a fixed order.
    pub close: Vec<Close>,
}

/// A comparison with a limit inside a band: neither met nor missed.
#[derive(Clone, Debug, PartialEq)]
pub struct Close {
    /// The names with those bands.
    pub slots: BTreeSet<Slot>,
    /// The left side.
    pub left: Quantity,
    /// The right side.
    pub right: Quantity,
}

impl Gap {
    /// Nobody has stated a value for this name.
    pub fn missing(slot: Slot) -> Self {
        Self { missing: BTreeSet::from([slot]), ..Self::default() }
    }

    /// This name has no value, for a reason.
    pub fn absent(slot: Slot, why: impl Into<Arc<str>>) -> Self {
        Self { absent: BTreeMap::from([(slot, why.into())]), ..Self::default() }
    }

    /// A comparison that is too close to call.
    pub fn close(slots: BTreeSet<Slot>, left: Quantity, right: Quantity) -> Self {
        Self { close: vec![Close { slots, left, right }], ..Self::default() }
    }

    /// Whether everything is known and only bands are in the way.
    pub fn is_only_close(&self) -> bool {
        self.missing.is_empty() && self.absent.is_empty() && !self.close.is_empty()
    }

    /// Every name in it.
    pub fn slots(&self) -> BTreeSet<Slot> {
        let mut all = self.missing.clone();
        all.extend(self.absent.keys());
        all.extend(self.close.iter().flat_map(|it| &it.slots));
        all
    }
}

impl Close {
    fn order(&self, other: &Self) -> Ordering {
        let numbers = |close: &Self| [close.left, close.right].map(|side| [side.is, side.low, side.high]);
        let (own, others) = (numbers(self), numbers(other));
        let mut pairs = own.as_flattened().iter().zip(others.as_flattened());
        self.slots.cmp(&other.slots).then_with(|| self.left.measure.cmp(&other.left.measure)).then_with(
            || pairs.find_map(|(a, b)| Some(a.total_cmp(b)).filter(|it| it.is_ne())).unwrap_or(Equal),
        )
    }
}

/// The union of both, in any order.
impl Reason for Gap {
    fn absorb(&mut self, other: Self) {
        self.missing.extend(other.missing);
        for (slot, why) in other.absent {
            let kept = self.absent.entry(slot).or_insert_with(|| why.clone());
            if why < *kept {
                *kept = why;
            }
        }
        for close in other.close {
            if let Err(index) = self.close.binary_search_by(|known| known.order(&close)) {
                self.close.insert(index, close);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Dim;

    fn all_three() -> [Gap; 3] {
        let q = |is: f64| Quantity::of(is, Dim::LENGTH);
        let mut close = Gap::close(BTreeSet::from([Slot(4)]), q(1.0), q(2.0));
        close.absorb(Gap::close(BTreeSet::from([Slot(3)]), q(1.0), q(1.0)));
        close.absorb(Gap::close(BTreeSet::from([Slot(4)]), q(0.5), q(2.0)));
        [Gap::missing(Slot(1)), Gap::absent(Slot(2), "b"), close]
    }

    #[test]
    fn absorbing_is_a_union_that_does_not_depend_on_order() {
        let [a, b, c] = all_three();
        let joined = |parts: [&Gap; 4]| {
            parts.into_iter().cloned().fold(Gap::default(), |mut all, one| {
                all.absorb(one);
                all
            })
        };
        let other = Gap::absent(Slot(2), "a");
        let first = joined([&a, &b, &c, &other]);
        assert_eq!(first, joined([&other, &c, &b, &a]));
        assert_eq!(first, joined([&c, &other, &a, &b]));
        assert_eq!(first.close.len(), 3);
        assert_eq!(first.slots(), (1..=4).map(Slot).collect());
    }

    #[test]
    fn only_close_means_that_an_answer_would_not_help() {
        let [missing, absent, close] = all_three();
        assert!(close.is_only_close());
        assert!(!missing.is_only_close() && !absent.is_only_close() && !Gap::default().is_only_close());
        let mut both = close;
        both.absorb(missing);
        assert!(!both.is_only_close());
    }
}
