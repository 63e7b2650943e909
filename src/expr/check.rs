//! Name resolution and type checking of expressions. Collects all errors.

mod arithmetic;
mod membership;

use super::ast::{Ast, Node};
use super::error::ExprError;
use super::eval::{Amount, Test, Words};
use super::number::Number;
use super::source::{Source, Span};
use super::types::{AmountKind, Spanned, Typed};
use super::value::{Slot, Type};
use super::{Names, unknown_name};
use crate::diag::Diagnostics;
use crate::units::{Dim, Measure, Quantity};

/// Functions of the language.
const FUNCTIONS: &[&str] = &["stated", "known", "min", "max", "round_up"];

/// Checks a tree that must be a test. Takes the errors found so far; returns all, in the order of the text.
pub(super) fn check(
    source: Source<'_>,
    names: &dyn Names,
    tree: &Ast<'_>,
    errors: Diagnostics,
) -> Result<Test, Diagnostics> {
    let mut checker = Checker { source, names, errors };
    let test = checker.check_test(tree);
    let mut errors = checker.errors;
    if test.is_none() && errors.is_empty() {
        errors.push(source.error(tree.span, ExprError::Unknown));
    }
    errors.sort();
    errors.dedup();
    match test {
        Some(test) => errors.or(test),
        None => Err(errors),
    }
}

pub(super) struct Checker<'a> {
    pub source: Source<'a>,
    pub names: &'a dyn Names,
    pub errors: Diagnostics,
}

/// Every method returns `None` if it reported an error.
impl Checker<'_> {
    pub fn error<T>(&mut self, span: Span, error: ExprError) -> Option<T> {
        self.errors.push(self.source.error(span, error));
        None
    }

    fn check_test(&mut self, ast: &Ast<'_>) -> Option<Test> {
        match self.infer(ast)? {
            Typed::Test(test) => Some(test),
            other => {
                let error = ExprError::WrongType(other.name(), "a yes or no", Some("a comparison"));
                self.error(ast.span, error)
            }
        }
    }

    fn check_amount(&mut self, ast: &Ast<'_>) -> Option<Spanned<(Amount, AmountKind)>> {
        match self.infer(ast)? {
            Typed::Amount(amount, kind) => Some(((amount, kind), ast.span)),
            other => self.error(ast.span, ExprError::WrongType(other.name(), "a quantity", None)),
        }
    }

    /// Checks all parts, to find the errors of each.
    fn check_all<T>(
        &mut self,
        parts: &[Ast<'_>],
        check: fn(&mut Self, &Ast<'_>) -> Option<T>,
    ) -> Option<Vec<T>> {
        let checked: Vec<Option<T>> = parts.iter().map(|part| check(self, part)).collect();
        checked.into_iter().collect()
    }

    /// The type of a part.
    fn infer(&mut self, ast: &Ast<'_>) -> Option<Typed> {
        Some(match &ast.node {
            Node::Invalid => return None,
            Node::Number(number) => self.number(*number, ast.span)?,
            Node::Text(text) => Typed::Words(Words::Literal((*text).into()), None),
            Node::Bool(value) => Typed::Test(Test::Constant(*value)),
            Node::Name(name) => {
                let (slot, ty) = self.name(name, ast.span)?;
                match ty {
                    Type::Quantity(measure) => {
                        Typed::Amount(Amount::Fact(slot, measure), AmountKind::Measured(measure))
                    }
                    Type::Text => Typed::Words(Words::Fact(slot), None),
                    Type::OneOf(words) => Typed::Words(Words::Fact(slot), Some(words)),
                    Type::YesNo => Typed::Test(Test::Fact(slot)),
                    Type::List(words) => Typed::List(slot, words),
                }
            }
            Node::Not(operand) => Typed::Test(Test::Not(Box::new(self.check_test(operand)?))),
            Node::And(parts) => Typed::Test(Test::All(self.check_all(parts, Self::check_test)?)),
            Node::Or(parts) => Typed::Test(Test::Any(self.check_all(parts, Self::check_test)?)),
            Node::Compare(left, ordering, right) => {
                let left_type = self.infer(left);
                let right_type = self.infer_beside(left_type.as_ref(), right);
                let (left, right) = ((left_type?, left.span), (right_type?, right.span));
                Typed::Test(self.compare(ast.span, left, *ordering, right)?)
            }
            Node::In(left, items) => Typed::Test(self.check_in(ast.span, left, items)?),
            Node::InNamed(left, list) => Typed::Test(self.check_in_named(ast.span, left, list)?),
            Node::Matches(left, pattern, at) => Typed::Test(self.check_matches(left, pattern, *at)?),
            Node::Between(left, low, high) => Typed::Test(self.check_between(ast.span, left, low, high)?),
            Node::Chain(first, rest) => self.check_chain(first, rest)?,
            Node::Negative(operand) => {
                let ((amount, kind), _) = self.check_amount(operand)?;
                if kind.measure() == Measure::Temperature {
                    return self.error(ast.span, ExprError::NegativeTemperature);
                }
                Typed::Amount(Amount::Negative(Box::new(amount)), kind)
            }
            Node::Call(name, arguments) => self.check_call(name, arguments, ast.span)?,
        })
    }

    /// The type of the right side of a comparison. Tells a word without quotation marks from a misspelled name.
    fn infer_beside(&mut self, left: Option<&Typed>, right: &Ast<'_>) -> Option<Typed> {
        if let (Some(Typed::Words(_, Some(words))), Node::Name(name)) = (left, &right.node)
            && self.names.find(name).is_none()
            && words.contains(name)
        {
            return self.error(right.span, ExprError::WordNotName((*name).into()));
        }
        self.infer(right)
    }

    fn name(&mut self, name: &str, span: Span) -> Option<(Slot, Type)> {
        let found = self.names.find(name);
        if found.is_none() {
            self.errors.push(unknown_name(self.source, span, self.names));
        }
        found
    }

    fn number(&mut self, number: Number, span: Span) -> Option<Typed> {
        let measure = number.unit.map_or(Measure::Of(Dim::NONE), |unit| unit.measure());
        let si = number.unit.map_or(Some(number.number), |unit| unit.to_si(number.number, measure));
        let Some(si) = si.filter(|si| si.is_finite()) else {
            return self.error(span, ExprError::UnusableNumber);
        };
        let kind = match measure {
            Measure::Temperature => AmountKind::Degrees(number),
            other => AmountKind::Measured(other),
        };
        Some(Typed::Amount(Amount::Literal(Quantity::exact(si, measure)), kind))
    }

    fn check_call(&mut self, name: &str, arguments: &[Ast<'_>], span: Span) -> Option<Typed> {
        match name {
            "stated" | "known" => {
                let [Ast { node: Node::Name(of), span: at }] = arguments else {
                    return self.error(span, ExprError::Arguments("one name", format!("{name}(name)")));
                };
                let (slot, _) = self.name(of, *at)?;
                Some(Typed::Test(if name == "known" { Test::Known(slot) } else { Test::Stated(slot) }))
            }
            "min" | "max" => self.check_extreme(name, arguments, span),
            "round_up" => self.check_round_up(arguments, span),
            _ => {
                let called = Span { start: span.start, end: span.start + name.len() };
                let error = self.source.error(called, ExprError::UnknownFunction);
                self.errors.push(error.nearest(name, FUNCTIONS.iter().copied()));
                self.check_all(arguments, Self::infer);
                None
            }
        }
    }
}
