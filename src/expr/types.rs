//! Types of the parts of an expression, and which of them can be compared.
//!
//! A literal such as `4 °F` is a temperature unless it is compared with a temperature difference.

use super::check::Checker;
use super::error::ExprError;
use super::eval::{Amount, Test, Words};
use super::number::Number;
use super::source::Span;
use super::value::Slot;
use crate::units::{Dim, Measure, Ordering, Quantity};

pub(super) const DIFFERENCE: Measure = Measure::Of(Dim::DIFFERENCE);

/// Values of a fact that is one of a few words.
pub(super) type FixedWords = Option<&'static [&'static str]>;

/// A checked part with its type.
#[derive(Clone)]
pub(super) enum Typed {
    Test(Test),
    Amount(Amount, AmountKind),
    Words(Words, FixedWords),
    List(Slot, FixedWords),
}

/// What an amount measures.
#[derive(Clone, Copy)]
pub(super) enum AmountKind {
    Measured(Measure),
    /// A literal in degrees that may still be read as a difference.
    Degrees(Number),
}

/// A checked part and its span.
pub(super) type Spanned<T> = (T, Span);

impl Typed {
    /// The name of the type in messages.
    pub fn name(&self) -> String {
        match self {
            Self::Test(_) => "a yes or no".into(),
            Self::Amount(_, kind) => kind.measure().name(),
            Self::Words(..) => "text".into(),
            Self::List(..) => "a list of words".into(),
        }
    }
}

impl AmountKind {
    pub fn measure(self) -> Measure {
        match self {
            Self::Measured(measure) => measure,
            Self::Degrees(_) => Measure::Temperature,
        }
    }

    pub fn is_difference(self) -> bool {
        matches!(self, Self::Measured(DIFFERENCE))
    }

    /// How to write it as a difference.
    pub fn as_difference(self) -> String {
        match self {
            Self::Degrees(Number { number, unit: Some(unit) }) => format!("{number} Δ{}", unit.names[0]),
            _ => "4 Δ°F or 4 K".into(),
        }
    }
}

impl Checker<'_> {
    /// Decides whether a literal in degrees is a difference here.
    pub fn settle(
        &mut self,
        ((amount, kind), span): Spanned<(Amount, AmountKind)>,
        is_difference: bool,
    ) -> Option<(Amount, Measure)> {
        let AmountKind::Degrees(Number { number, unit }) = kind else {
            return Some((amount, kind.measure()));
        };
        let measure = if is_difference { DIFFERENCE } else { Measure::Temperature };
        let si = unit.and_then(|unit| unit.to_si(number, measure))?;
        if !is_difference && si < 0.0 {
            return self.error(span, ExprError::BelowAbsoluteZero);
        }
        Some((Amount::Literal(Quantity::exact(si, measure)), measure))
    }

    /// Checks the comparison of two parts of the text `whole`.
    pub fn compare(
        &mut self,
        whole: Span,
        (left, left_at): Spanned<Typed>,
        ordering: Ordering,
        (right, right_at): Spanned<Typed>,
    ) -> Option<Test> {
        let names = (left.name(), right.name());
        let equal = match (left, right) {
            (Typed::Amount(left, left_kind), Typed::Amount(right, right_kind)) => {
                let is_difference = left_kind.is_difference() || right_kind.is_difference();
                let left = self.settle(((left, left_kind), left_at), is_difference);
                let right = self.settle(((right, right_kind), right_at), is_difference);
                let ((left, left_measure), (right, right_measure)) = (left?, right?);
                if left_measure != right_measure {
                    let hint = self.hint((left_measure, left_at), (right_measure, right_at));
                    return self.error(whole, ExprError::Incomparable(names.0, names.1, Some(hint)));
                }
                return Some(Test::Order(left, ordering, right));
            }
            (Typed::Test(left), Typed::Test(right)) => Test::Same(Box::new(left), Box::new(right)),
            (Typed::Words(left, left_words), Typed::Words(right, right_words)) => {
                self.check_word(left_words, left_at, &right, right_at)?;
                self.check_word(right_words, right_at, &left, left_at)?;
                self.check_common(whole, left_words, right_words)?;
                Test::SameText(left, right)
            }
            (left, right) => {
                let quoted = |part: &Typed| matches!(part, Typed::Words(Words::Literal(_), _));
                let hint = match (&left, &right) {
                    (Typed::List(..), _) | (_, Typed::List(..)) => "in, with the list on its right".into(),
                    (Typed::Amount(..), other) | (other, Typed::Amount(..)) if quoted(other) => {
                        "a quantity without quotation marks".into()
                    }
                    (Typed::Test(_), _) | (_, Typed::Test(_)) => "yes or no, without quotation marks".into(),
                    _ => both_alike(&names.0, &names.1),
                };
                return self.error(whole, ExprError::Incomparable(names.0, names.1, Some(hint)));
            }
        };
        match ordering {
            Ordering::Equal => Some(equal),
            Ordering::Differs => Some(Test::Not(Box::new(equal))),
            _ => self.error(whole, ExprError::NoOrder(names.0)),
        }
    }

    /// Reports a quoted word that is not one of the values of the fact `of`.
    pub fn check_word(&mut self, values: FixedWords, of: Span, literal: &Words, at: Span) -> Option<()> {
        let (Some(values), Words::Literal(word)) = (values, literal) else { return Some(()) };
        if values.contains(&&**word) {
            return Some(());
        }
        let error = ExprError::NotAValue(self.source.slice(of).into(), listed(values));
        let error = self.source.error(at, error).text(&**word).nearest(word, values.iter().copied());
        self.errors.push(error);
        None
    }

    /// Reports two sets of words without one in common.
    pub fn check_common(&mut self, whole: Span, left: FixedWords, right: FixedWords) -> Option<()> {
        match (left, right) {
            (Some(left), Some(right)) if !left.iter().any(|word| right.contains(word)) => {
                self.error(whole, ExprError::AlwaysFalse("the two sides have no word in common".into()))
            }
            _ => Some(()),
        }
    }

    /// How to correct two measures that do not go together.
    pub fn hint(&self, left: Spanned<Measure>, right: Spanned<Measure>) -> String {
        self.omission(left, right).unwrap_or_else(|| both_alike(&left.0.name(), &right.0.name()))
    }

    /// What was probably left out of two measures that do not go together.
    pub fn omission(&self, left: Spanned<Measure>, right: Spanned<Measure>) -> Option<String> {
        let pair = [left.0, right.0];
        if pair.contains(&Measure::Temperature) && pair.contains(&DIFFERENCE) {
            let hint = "two temperatures or two differences (a difference is written 4 Δ°F or 4 K)";
            return Some(hint.into());
        }
        [left, right].into_iter().find_map(|(measure, at)| {
            let text = self.source.slice(at);
            let is_bare = measure == Measure::Of(Dim::NONE)
                && text.starts_with(|c: char| c.is_ascii_digit() || c == '-');
            match text.chars().last().filter(|_| is_bare)? {
                '°' if pair.contains(&Measure::Temperature) => Some("°F or °C".into()),
                last if last.is_ascii_digit() => Some("a unit after the number".into()),
                _ => None,
            }
        })
    }
}

fn both_alike(left: &str, right: &str) -> String {
    format!("{left} on both sides, or {right} on both sides")
}

/// `face, inside or inlet`.
fn listed(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [only] => (*only).into(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
