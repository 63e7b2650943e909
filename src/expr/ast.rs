//! The syntax tree of an expression, before names and types are checked.

use super::number::Number;
use super::source::Span;
use crate::units::Ordering;

/// A node of the tree and its part of the text.
pub(super) struct Ast<'a> {
    pub span: Span,
    pub node: Node<'a>,
}

pub(super) enum Node<'a> {
    /// Has an error that was reported.
    Invalid,
    Number(Number),
    Text(&'a str),
    Bool(bool),
    Name(&'a str),
    Not(Box<Ast<'a>>),
    And(Vec<Ast<'a>>),
    Or(Vec<Ast<'a>>),
    Compare(Box<Ast<'a>>, Ordering, Box<Ast<'a>>),
    In(Box<Ast<'a>>, Vec<Ast<'a>>),
    /// `in` with the name of a list.
    InNamed(Box<Ast<'a>>, Box<Ast<'a>>),
    /// A pattern, and the span of its text with the quotation marks.
    Matches(Box<Ast<'a>>, &'a str, Span),
    Between(Box<Ast<'a>>, Box<Ast<'a>>, Box<Ast<'a>>),
    /// Operations from left to right.
    Chain(Box<Ast<'a>>, Vec<(Operator, Ast<'a>)>),
    Negative(Box<Ast<'a>>),
    Call(&'a str, Vec<Ast<'a>>),
}

/// An arithmetic operator.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Operator {
    Plus,
    Minus,
    Times,
    Over,
}
