//! What a part of an expression is, and what can be compared with what.
//!
//! A literal such as `4 °F` is a temperature, unless it is compared with something that is a difference.

use super::check::Checker;
use super::eval::{Amount, Test, Words};
use super::number::Number;
use super::source::Span;
use super::value::Slot;
use crate::units::{Dim, Measure, Ordering, Quantity};

pub(super) const DIFFERENCE: Measure = Measure::Of(Dim::DIFFERENCE);

/// A checked part with its type.
#[derive(Clone)]
pub(super) enum Typed {
    Test(Test),
    Amount(Amount, Kind),
    /// A text, and the words it is one of where they are known.
    Words(Words, Option<&'static [&'static str]>),
    /// A named list, and the words it is of.
    List(Slot, Option<&'static [&'static str]>),
}

/// What an amount measures.
#[derive(Clone, Copy)]
pub(super) enum Kind {
    Is(Measure),
    /// A literal in degrees that may still be read as a difference.
    Degrees(Number),
}

/// A checked part and where it stands.
pub(super) type Placed<T> = (T, Span);

impl Typed {
    /// What people call it.
    pub fn name(&self) -> String {
        match self {
            Self::Test(_) => "a yes or no".into(),
            Self::Amount(_, kind) => kind.measure().name(),
            Self::Words(..) => "text".into(),
            Self::List(..) => "a list of words".into(),
        }
    }
}

impl Kind {
    pub fn measure(self) -> Measure {
        match self {
            Self::Is(measure) => measure,
            Self::Degrees(_) => Measure::Temperature,
        }
    }

    pub fn is_difference(self) -> bool {
        matches!(self, Self::Is(DIFFERENCE))
    }

    /// How to write it as a difference.
    pub fn as_difference(self) -> String {
        let degrees = match self {
            Self::Degrees(Number { number, unit }) => unit.map(|it| format!("{number} Δ{}", it.names[0])),
            Self::Is(_) => None,
        };
        degrees.unwrap_or_else(|| "4 Δ°F or 4 K".into())
    }
}

impl Checker<'_> {
    /// Decides whether a literal in degrees is a difference here.
    pub fn settle(
        &mut self,
        amount: Amount,
        kind: Kind,
        span: Span,
        difference: bool,
    ) -> Option<(Amount, Measure)> {
        let Kind::Degrees(Number { number, unit }) = kind else {
            return Some((amount, kind.measure()));
        };
        let measure = if difference { DIFFERENCE } else { Measure::Temperature };
        let si = unit.and_then(|it| it.to_si(number, measure))?;
        if !difference && si < 0.0 {
            self.report(span, "is below absolute zero", None);
            return None;
        }
        Some((Amount::Literal(Quantity::exact(si, measure)), measure))
    }

    /// A comparison of two parts of the text `whole`.
    pub fn pair(
        &mut self,
        whole: Span,
        (left, left_at): Placed<Typed>,
        ordering: Ordering,
        (right, right_at): Placed<Typed>,
    ) -> Option<Test> {
        let names = (left.name(), right.name());
        let equal = match (left, right) {
            (Typed::Amount(a, first), Typed::Amount(b, second)) => {
                let difference = first.is_difference() || second.is_difference();
                let a = self.settle(a, first, left_at, difference);
                let b = self.settle(b, second, right_at, difference);
                let ((a, is), (b, other)) = (a?, b?);
                if is != other {
                    let hint = self.mending(is, left_at, other, right_at);
                    return self.unlike(whole, &names, Some(hint));
                }
                return Some(Test::Order(a, ordering, b));
            }
            (Typed::Test(a), Typed::Test(b)) => Test::Same(Box::new(a), Box::new(b)),
            (Typed::Words(a, one_of), Typed::Words(b, other)) => {
                self.word(one_of, left_at, &b, right_at)?;
                self.word(other, right_at, &a, left_at)?;
                if let (Some(one_of), Some(other)) = (one_of, other)
                    && !one_of.iter().any(|word| other.contains(word))
                {
                    self.report(whole, "can never be equal: they have no word in common", None);
                    return None;
                }
                Test::Alike(a, b)
            }
            (Typed::List(..), _) | (_, Typed::List(..)) => {
                return self.unlike(whole, &names, Some("in, with the list on its right".into()));
            }
            (Typed::Words(Words::Literal(_), _), Typed::Amount(..))
            | (Typed::Amount(..), Typed::Words(Words::Literal(_), _)) => {
                return self.unlike(whole, &names, Some("a quantity without quotation marks".into()));
            }
            (Typed::Test(_), _) | (_, Typed::Test(_)) => {
                return self.unlike(whole, &names, Some("yes or no, without quotation marks".into()));
            }
            _ => {
                let hint = both_alike(&names.0, &names.1);
                return self.unlike(whole, &names, Some(hint));
            }
        };
        match ordering {
            Ordering::Equal => Some(equal),
            Ordering::Differs => Some(Test::Not(Box::new(equal))),
            _ => {
                let what = format!("cannot be decided: {} has no order", names.0);
                self.report(whole, &what, Some("= or !=".into()));
                None
            }
        }
    }

    /// A quoted word beside a name that is one of some words must be one of them.
    pub fn word(
        &mut self,
        one_of: Option<&'static [&'static str]>,
        of: Span,
        literal: &Words,
        at: Span,
    ) -> Option<()> {
        let (Some(words), Words::Literal(word)) = (one_of, literal) else {
            return Some(());
        };
        if words.contains(&&**word) {
            return Some(());
        }
        let what = format!("is not a word of {}", self.source.slice(of));
        let problem = self.source.problem(at, what).text(&**word);
        let problem = problem.expected(listed(words)).nearest(word, words.iter().copied());
        self.problems.push(problem);
        None
    }

    /// Refuses to compare two parts of different types.
    pub fn unlike(&mut self, whole: Span, names: &(String, String), hint: Option<String>) -> Option<Test> {
        let what = format!("cannot be decided: {} cannot be compared with {}", names.0, names.1);
        self.report(whole, &what, hint);
        None
    }

    /// How to mend two measures that do not go together.
    pub fn mending(&self, a: Measure, a_at: Span, b: Measure, b_at: Span) -> String {
        self.hint(a, a_at, b, b_at).unwrap_or_else(|| both_alike(&a.name(), &b.name()))
    }

    /// What is likely to have been left out, of two measures that do not go together.
    pub fn hint(&self, a: Measure, a_at: Span, b: Measure, b_at: Span) -> Option<String> {
        let pair = [a, b];
        if pair.contains(&Measure::Temperature) && pair.contains(&DIFFERENCE) {
            let hint = "two temperatures or two differences (a difference is written 4 Δ°F or 4 K)";
            return Some(hint.into());
        }
        [(a, a_at), (b, b_at)].into_iter().find_map(|(measure, at)| {
            let text = self.source.slice(at);
            let bare = measure == Measure::Of(Dim::NONE)
                && text.starts_with(|c: char| c.is_ascii_digit() || c == '-');
            let last = text.chars().last().filter(|_| bare)?;
            match last {
                '°' if pair.contains(&Measure::Temperature) => Some("°F or °C".into()),
                last if last.is_ascii_digit() => Some("a unit after the number".into()),
                _ => None,
            }
        })
    }
}

fn both_alike(a: &str, b: &str) -> String {
    format!("{a} on both sides, or {b} on both sides")
}

/// `face, inside or inlet`.
fn listed(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [only] => (*only).into(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
