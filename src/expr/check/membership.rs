//! What is one of a list, lies between two ends, or fits a pattern.

use super::super::ast::Ast;
use super::super::eval::{Amount, Test, Words};
use super::super::parse::LIST;
use super::super::pattern::Pattern;
use super::super::source::Span;
use super::super::types::{Kind, Placed, Typed};
use super::Checker;
use super::arithmetic::constant;
use crate::units::Ordering;

impl Checker<'_> {
    /// In a list in brackets.
    pub(super) fn one_of(&mut self, whole: Span, left: &Ast<'_>, items: &[Ast<'_>]) -> Option<Test> {
        if items.is_empty() {
            self.report(whole, "is never so, as the list is empty", None);
            return None;
        }
        let is = self.infer(left);
        let items: Vec<_> = items.iter().map(|item| (self.beside(is.as_ref(), item), item.span)).collect();
        match is? {
            Typed::Test(_) => {
                let hint = Some("the test itself, or a comparison with = or !=".into());
                self.report(left.span, "is a yes or no, which is not looked for in a list", hint);
                None
            }
            Typed::List(..) => {
                self.report(left.span, "is itself a list", Some("one word on the left of in".into()));
                None
            }
            Typed::Words(words, one_of) => {
                let tests = items.into_iter().map(|(item, at)| {
                    if let Typed::List(..) = item.as_ref()? {
                        self.report(at, "is itself a list", Some("its name without brackets".into()));
                        return None;
                    }
                    let is = Typed::Words(words.clone(), one_of);
                    self.pair(whole, (is, left.span), Ordering::Equal, (item?, at))
                });
                // Every item, so that the problems of all are found.
                let tests: Vec<_> = tests.collect();
                Some(Test::Any(tests.into_iter().collect::<Option<_>>()?))
            }
            Typed::Amount(amount, kind) => {
                let mut amounts = self.alike(whole, ((amount, kind), left.span), items)?.into_iter();
                Some(Test::OneOf(amounts.next()?, amounts.collect()))
            }
        }
    }

    /// An amount and those it is compared with, all of one measure. A literal in degrees is a difference where one of them
    /// is.
    fn alike(
        &mut self,
        whole: Span,
        ((amount, kind), at): Placed<(Amount, Kind)>,
        others: Vec<Placed<Option<Typed>>>,
    ) -> Option<Vec<Amount>> {
        let is_difference = |it: &Typed| matches!(it, Typed::Amount(_, kind) if kind.is_difference());
        let difference =
            kind.is_difference() || others.iter().any(|it| it.0.as_ref().is_some_and(is_difference));
        let (first, measure) = self.settle(amount, kind, at, difference)?;
        let rest = others.into_iter().map(|(other, other_at)| {
            let name = other.as_ref()?.name();
            let Some(Typed::Amount(amount, kind)) = other else {
                let quoted = matches!(other, Some(Typed::Words(Words::Literal(_), _)));
                let hint = if quoted { "a quantity without quotation marks" } else { "quantities only" };
                self.unlike(whole, &(measure.name(), name), Some(hint.into()));
                return None;
            };
            let (amount, is) = self.settle(amount, kind, other_at, difference)?;
            if is != measure {
                let hint = self.mending(measure, at, is, other_at);
                self.unlike(whole, &(measure.name(), is.name()), Some(hint));
                return None;
            }
            Some(amount)
        });
        // Every one of them, so that the problems of all are found.
        let rest: Vec<_> = rest.collect();
        std::iter::once(Some(first)).chain(rest).collect()
    }

    /// In a list that has a name.
    pub(super) fn listed(&mut self, whole: Span, left: &Ast<'_>, list: &Ast<'_>) -> Option<Test> {
        let is = self.infer(left);
        let list_is = self.beside(is.as_ref(), list)?;
        let (slot, words) = match list_is {
            Typed::List(slot, words) => (slot, words),
            other => {
                let what = format!("is {}, where a list is wanted", other.name());
                self.report(list.span, &what, Some(LIST.into()));
                return None;
            }
        };
        let (text, one_of) = match is? {
            Typed::Words(text, one_of) => (text, one_of),
            Typed::List(..) => {
                self.report(left.span, "is itself a list", Some("one word on the left of in".into()));
                return None;
            }
            other => {
                let what = format!("can never be so: {} is in no list of words", other.name());
                self.report(whole, &what, None);
                return None;
            }
        };
        self.word(words, list.span, &text, left.span)?;
        if let (Some(one_of), Some(words)) = (one_of, words)
            && !one_of.iter().any(|word| words.contains(word))
        {
            self.report(whole, "can never be so: they have no word in common", None);
            return None;
        }
        Some(Test::Listed(text, slot))
    }

    /// Fits a pattern.
    pub(super) fn matches(&mut self, left: &Ast<'_>, pattern: &str, at: Span) -> Option<Test> {
        let is = self.infer(left);
        let checked = Pattern::check(pattern).map_err(|refused| {
            // The part is counted from after the quotation mark.
            let mark = self.source.slice(at).chars().next().map_or(0, char::len_utf8);
            let inside = |byte: usize| at.start + mark + byte;
            let part = Span { start: inside(refused.part.start), end: inside(refused.part.end) };
            self.report(part, &refused.what, refused.expected.map(Into::into));
        });
        let slot = match is? {
            Typed::Words(Words::Fact(slot), None) => slot,
            Typed::Words(Words::Fact(_), Some(words)) => {
                let some: Vec<String> = words.iter().take(2).map(|word| format!("\"{word}\"")).collect();
                let hint = format!("{} in [{}]", self.source.slice(left.span), some.join(", "));
                self.report(left.span, "is one of a few words, which need no pattern", Some(hint));
                return None;
            }
            Typed::Words(Words::Literal(_), _) => {
                let hint = Some("the name of a text, without quotation marks".into());
                self.report(left.span, "is always the same text", hint);
                return None;
            }
            other => {
                let what = format!("is {}, where a text is wanted", other.name());
                self.report(left.span, &what, None);
                return None;
            }
        };
        Some(Test::Matches(slot, checked.ok()?))
    }

    /// Between two ends, both included.
    pub(super) fn between(
        &mut self,
        whole: Span,
        left: &Ast<'_>,
        low: &Ast<'_>,
        high: &Ast<'_>,
    ) -> Option<Test> {
        let (is, from, to) = (self.infer(left), self.infer(low), self.infer(high));
        let (is, from, to) = (is?, from?, to?);
        let ends = vec![(Some(from), low.span), (Some(to), high.span)];
        let Typed::Amount(amount, kind) = is else {
            for (end, at) in ends {
                self.pair(whole, (is.clone(), left.span), Ordering::AtLeast, (end?, at));
            }
            return None;
        };
        let amounts = self.alike(whole, ((amount, kind), left.span), ends)?;
        let parts = <[_; 3]>::try_from(amounts).ok()?;
        if let (Some(from), Some(to)) = (constant(&parts[1]), constant(&parts[2]))
            && from.is > to.is
        {
            self.report(low.span.to(high.span), "runs from high to low", Some("the lower end first".into()));
            return None;
        }
        Some(Test::Between(Box::new(parts)))
    }
}
