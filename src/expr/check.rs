//! Gives names their slots and every part its type. All problems are collected.

mod arithmetic;
mod membership;

use super::ast::{Ast, Node};
use super::eval::{Amount, Test, Words};
use super::number::Number;
use super::source::{Source, Span};
use super::types::{Kind, Placed, Typed};
use super::value::{Slot, Type};
use super::{Names, unknown_name};
use crate::diag::Diagnostics;
use crate::units::{Dim, Measure, Quantity};

/// Every function of the language.
const FUNCTIONS: &[&str] = &["stated", "known", "min", "max", "round_up"];

/// Checks a tree that must be a test. Takes the problems found so far; returns all, in the order of the text.
pub(super) fn check(
    source: Source<'_>,
    names: &dyn Names,
    tree: &Ast<'_>,
    problems: Diagnostics,
) -> Result<Test, Diagnostics> {
    let mut checker = Checker { source, names, problems };
    let test = checker.test(tree);
    let mut problems = checker.problems;
    problems.sort();
    problems.dedup();
    match test {
        Some(test) if problems.is_empty() => Ok(test),
        _ => {
            if problems.is_empty() {
                problems.push(source.problem(tree.span, "cannot be understood"));
            }
            Err(problems)
        }
    }
}

pub(super) struct Checker<'a> {
    pub source: Source<'a>,
    pub names: &'a dyn Names,
    pub problems: Diagnostics,
}

/// Of every checker's method: `None` where a problem has been reported.
impl Checker<'_> {
    pub fn report(&mut self, span: Span, what: &str, expected: Option<String>) {
        let mut problem = self.source.problem(span, what);
        problem.expected = expected;
        self.problems.push(problem);
    }

    fn test(&mut self, ast: &Ast<'_>) -> Option<Test> {
        match self.infer(ast)? {
            Typed::Test(test) => Some(test),
            other => {
                let what = format!("is {}, where a yes or no is wanted", other.name());
                self.report(ast.span, &what, Some("a comparison".into()));
                None
            }
        }
    }

    fn amount(&mut self, ast: &Ast<'_>) -> Option<(Amount, Kind)> {
        match self.infer(ast)? {
            Typed::Amount(amount, kind) => Some((amount, kind)),
            other => {
                let what = format!("is {}, where a quantity is wanted", other.name());
                self.report(ast.span, &what, None);
                None
            }
        }
    }

    fn infer(&mut self, ast: &Ast<'_>) -> Option<Typed> {
        Some(match &ast.node {
            Node::Broken => return None,
            Node::Number(number) => self.number(*number, ast.span)?,
            Node::Text(text) => Typed::Words(Words::Literal((*text).into()), None),
            Node::Truth(truth) => Typed::Test(Test::Constant(*truth)),
            Node::Name(name) => {
                let (slot, is) = self.name(name, ast.span)?;
                match is {
                    Type::Quantity(measure) => Typed::Amount(Amount::Fact(slot, measure), Kind::Is(measure)),
                    Type::Text => Typed::Words(Words::Fact(slot), None),
                    Type::OneOf(words) => Typed::Words(Words::Fact(slot), Some(words)),
                    Type::YesNo => Typed::Test(Test::Fact(slot)),
                    Type::List(words) => Typed::List(slot, words),
                }
            }
            Node::Not(inner) => Typed::Test(Test::Not(Box::new(self.test(inner)?))),
            Node::All(parts) => Typed::Test(Test::All(self.tests(parts)?)),
            Node::Any(parts) => Typed::Test(Test::Any(self.tests(parts)?)),
            Node::Compare(left, ordering, right) => {
                let a = self.infer(left);
                let b = self.beside(a.as_ref(), right);
                Typed::Test(self.pair(ast.span, (a?, left.span), *ordering, (b?, right.span))?)
            }
            Node::In(left, items) => Typed::Test(self.one_of(ast.span, left, items)?),
            Node::Listed(left, list) => Typed::Test(self.listed(ast.span, left, list)?),
            Node::Matches(left, pattern, at) => Typed::Test(self.matches(left, pattern, *at)?),
            Node::Between(left, low, high) => Typed::Test(self.between(ast.span, left, low, high)?),
            Node::Chain(first, rest) => self.chain(first, rest)?,
            Node::Minus(inner) => {
                let (amount, kind) = self.amount(inner)?;
                if kind.measure() == Measure::Temperature {
                    let expected = "a sign that touches its number, or a difference";
                    self.report(
                        ast.span,
                        "cannot be worked out: a temperature has no opposite",
                        Some(expected.into()),
                    );
                    return None;
                }
                Typed::Amount(Amount::Opposite(Box::new(amount)), kind)
            }
            Node::Call(name, arguments) => self.call(name, arguments, ast.span)?,
        })
    }

    /// Every part, so that the problems of all are found.
    fn tests(&mut self, parts: &[Ast<'_>]) -> Option<Vec<Test>> {
        let tests: Vec<_> = parts.iter().map(|part| self.test(part)).collect();
        tests.into_iter().collect()
    }

    fn amounts(&mut self, parts: &[Ast<'_>]) -> Option<Vec<Placed<(Amount, Kind)>>> {
        let amounts: Vec<_> = parts.iter().map(|part| Some((self.amount(part)?, part.span))).collect();
        amounts.into_iter().collect()
    }

    fn name(&mut self, name: &str, span: Span) -> Option<(Slot, Type)> {
        let found = self.names.find(name);
        if found.is_none() {
            self.problems.push(unknown_name(self.source, span, self.names));
        }
        found
    }

    fn number(&mut self, number: Number, span: Span) -> Option<Typed> {
        let measure = number.unit.map_or(Measure::Of(Dim::NONE), |unit| unit.measure());
        let si = number.unit.map_or(Some(number.number), |unit| unit.to_si(number.number, measure));
        let Some(si) = si.filter(|it| it.is_finite()) else {
            self.report(span, "is not a number that can be used", None);
            return None;
        };
        let kind = match measure {
            Measure::Temperature => Kind::Degrees(number),
            other => Kind::Is(other),
        };
        Some(Typed::Amount(Amount::Literal(Quantity::exact(si, measure)), kind))
    }

    /// The right side of a comparison. A word without quotation marks is told from a misspelt name.
    fn beside(&mut self, left: Option<&Typed>, right: &Ast<'_>) -> Option<Typed> {
        if let (Some(Typed::Words(_, Some(words))), Node::Name(name)) = (left, &right.node)
            && self.names.find(name).is_none()
            && words.contains(name)
        {
            let quoted = format!("\"{name}\" in quotation marks");
            self.report(right.span, "is a word, not a name", Some(quoted));
            return None;
        }
        self.infer(right)
    }

    fn call(&mut self, name: &str, arguments: &[Ast<'_>], span: Span) -> Option<Typed> {
        match name {
            "stated" | "known" => {
                let [Ast { node: Node::Name(of), span: at }] = arguments else {
                    self.report(span, "does not ask about one name", Some(format!("{name}(name)")));
                    return None;
                };
                let (slot, _) = self.name(of, *at)?;
                let test = if name == "known" { Test::Known(slot) } else { Test::Stated(slot) };
                Some(Typed::Test(test))
            }
            "min" | "max" => self.extreme(name, arguments, span),
            "round_up" => self.round_up(arguments, span),
            _ => {
                let called = Span { start: span.start, end: span.start + name.len() };
                let problem = self.source.problem(called, "is not a known function");
                self.problems.push(problem.nearest(name, FUNCTIONS.iter().copied()));
                for argument in arguments {
                    self.infer(argument);
                }
                None
            }
        }
    }
}
