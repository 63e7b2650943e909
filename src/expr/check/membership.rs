//! Checks `in`, `between` and `matches`.

use super::super::ast::Ast;
use super::super::error::ExprError;
use super::super::eval::{Amount, Test, Words};
use super::super::parse::LIST;
use super::super::pattern::Pattern;
use super::super::source::Span;
use super::super::types::{AmountKind, Spanned, Typed};
use super::Checker;
use super::arithmetic::constant;
use crate::units::Ordering;

const ONE_WORD: &str = "one word on the left of in";

impl Checker<'_> {
    /// Checks `left in [items]`.
    pub(super) fn check_in(&mut self, whole: Span, left: &Ast<'_>, items: &[Ast<'_>]) -> Option<Test> {
        if items.is_empty() {
            return self.error(whole, ExprError::EmptyList);
        }
        let left_type = self.infer(left);
        let items = items.iter().map(|item| (self.infer_beside(left_type.as_ref(), item), item.span));
        let items: Vec<Spanned<Option<Typed>>> = items.collect();
        match left_type? {
            Typed::Test(_) => self.error(left.span, ExprError::YesOrNoInList),
            Typed::List(..) => self.error(left.span, ExprError::IsList(ONE_WORD)),
            Typed::Words(words, values) => {
                let tests = items.into_iter().map(|(item, at)| match item? {
                    Typed::List(..) => self.error(at, ExprError::IsList("its name without brackets")),
                    item => {
                        let left = (Typed::Words(words.clone(), values), left.span);
                        self.compare(whole, left, Ordering::Equal, (item, at))
                    }
                });
                // Every item, to find the errors of each.
                let tests: Vec<Option<Test>> = tests.collect();
                Some(Test::Any(tests.into_iter().collect::<Option<_>>()?))
            }
            Typed::Amount(amount, kind) => {
                let (left, items) = self.check_alike(whole, ((amount, kind), left.span), items)?;
                let equal = |item| Test::Order(left.clone(), Ordering::Equal, item);
                Some(Test::Any(items.into_iter().map(equal).collect()))
            }
        }
    }

    /// An amount and others of the same measure. Literals in degrees are differences if one of them is.
    fn check_alike(
        &mut self,
        whole: Span,
        first: Spanned<(Amount, AmountKind)>,
        others: Vec<Spanned<Option<Typed>>>,
    ) -> Option<(Amount, Vec<Amount>)> {
        let is_difference = |part: &Typed| matches!(part, Typed::Amount(_, kind) if kind.is_difference());
        let is_difference = first.0.1.is_difference()
            || others.iter().any(|(other, _)| other.as_ref().is_some_and(is_difference));
        let first_at = first.1;
        let (first, measure) = self.settle(first, is_difference)?;
        let others = others.into_iter().map(|(other, at)| match other? {
            Typed::Amount(amount, kind) => {
                let (amount, other_measure) = self.settle(((amount, kind), at), is_difference)?;
                if other_measure != measure {
                    let hint = self.hint((measure, first_at), (other_measure, at));
                    let (left, right) = (measure.name(), other_measure.name());
                    return self.error(whole, ExprError::Incomparable(left, right, Some(hint)));
                }
                Some(amount)
            }
            other => {
                let is_quoted = matches!(other, Typed::Words(Words::Literal(_), _));
                let hint = if is_quoted { "a quantity without quotation marks" } else { "quantities only" };
                let error = ExprError::Incomparable(measure.name(), other.name(), Some(hint.into()));
                self.error(whole, error)
            }
        });
        // Every one, to find the errors of each.
        let others: Vec<Option<Amount>> = others.collect();
        Some((first, others.into_iter().collect::<Option<_>>()?))
    }

    /// Checks `left in name`.
    pub(super) fn check_in_named(&mut self, whole: Span, left: &Ast<'_>, list: &Ast<'_>) -> Option<Test> {
        let left_type = self.infer(left);
        let (slot, list_words) = match self.infer_beside(left_type.as_ref(), list)? {
            Typed::List(slot, words) => (slot, words),
            other => return self.error(list.span, ExprError::WrongType(other.name(), "a list", Some(LIST))),
        };
        let (text, words) = match left_type? {
            Typed::Words(text, words) => (text, words),
            Typed::List(..) => return self.error(left.span, ExprError::IsList(ONE_WORD)),
            other => {
                let why = format!("{} is never in a list of words", other.name());
                return self.error(whole, ExprError::AlwaysFalse(why));
            }
        };
        self.check_word(list_words, list.span, &text, left.span)?;
        self.check_common(whole, words, list_words)?;
        Some(Test::InNamed(text, slot))
    }

    /// Checks `left matches "pattern"`. `at` is the span of the pattern with its quotation marks.
    pub(super) fn check_matches(&mut self, left: &Ast<'_>, pattern: &str, at: Span) -> Option<Test> {
        let left_type = self.infer(left);
        let checked = Pattern::check(pattern).map_err(|(part, error)| {
            let mark = self.source.slice(at).chars().next().map_or(0, char::len_utf8);
            let inside = |byte: usize| at.start + mark + byte;
            self.error::<()>(Span { start: inside(part.start), end: inside(part.end) }, error)
        });
        match left_type? {
            Typed::Words(Words::Fact(slot), None) => Some(Test::Matches(slot, checked.ok()?)),
            Typed::Words(Words::Fact(_), Some(words)) => {
                let some: Vec<String> = words.iter().take(2).map(|word| format!("\"{word}\"")).collect();
                let instead = format!("{} in [{}]", self.source.slice(left.span), some.join(", "));
                self.error(left.span, ExprError::PatternForWords(instead))
            }
            Typed::Words(Words::Literal(_), _) => self.error(left.span, ExprError::PatternForConstant),
            other => self.error(left.span, ExprError::WrongType(other.name(), "text", None)),
        }
    }

    /// Checks `left between low and high`, both included.
    pub(super) fn check_between(
        &mut self,
        whole: Span,
        left: &Ast<'_>,
        low: &Ast<'_>,
        high: &Ast<'_>,
    ) -> Option<Test> {
        let (left_type, low_type, high_type) = (self.infer(left), self.infer(low), self.infer(high));
        let (left_type, low_type, high_type) = (left_type?, low_type?, high_type?);
        let Typed::Amount(amount, kind) = left_type else {
            for end in [(low_type, low.span), (high_type, high.span)] {
                self.compare(whole, (left_type.clone(), left.span), Ordering::AtLeast, end);
            }
            return None;
        };
        let ends = vec![(Some(low_type), low.span), (Some(high_type), high.span)];
        let (amount, ends) = self.check_alike(whole, ((amount, kind), left.span), ends)?;
        let [from, to] = <[Amount; 2]>::try_from(ends).ok()?;
        if let (Some(from), Some(to)) = (constant(&from), constant(&to))
            && from.is > to.is
        {
            return self.error(low.span.to(high.span), ExprError::ReversedRange);
        }
        let at_least = Test::Order(amount.clone(), Ordering::AtLeast, from);
        Some(Test::All(vec![at_least, Test::Order(amount, Ordering::AtMost, to)]))
    }
}
