//! The tree of an expression, before names and types are looked at.

use super::number::Number;
use super::source::Span;
use crate::units::Ordering;

/// A part of the tree and where it stands.
pub(super) struct Ast<'a> {
    pub span: Span,
    pub node: Node<'a>,
}

pub(super) enum Node<'a> {
    /// Has a problem that has been reported.
    Broken,
    Number(Number),
    Text(&'a str),
    Truth(bool),
    Name(&'a str),
    Not(Box<Ast<'a>>),
    All(Vec<Ast<'a>>),
    Any(Vec<Ast<'a>>),
    Compare(Box<Ast<'a>>, Ordering, Box<Ast<'a>>),
    In(Box<Ast<'a>>, Vec<Ast<'a>>),
    /// In a list that has a name.
    Listed(Box<Ast<'a>>, Box<Ast<'a>>),
    /// A pattern, and where it stands with its quotation marks.
    Matches(Box<Ast<'a>>, &'a str, Span),
    Between(Box<Ast<'a>>, Box<Ast<'a>>, Box<Ast<'a>>),
    Chain(Box<Ast<'a>>, Vec<(Step, Ast<'a>)>),
    Minus(Box<Ast<'a>>),
    Call(&'a str, Vec<Ast<'a>>),
}

/// An operation of arithmetic.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Step {
    Plus,
    Minus,
    Times,
    Over,
}
