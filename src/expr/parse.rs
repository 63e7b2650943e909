//! From tokens to a tree, by precedence.
//!
//! ```text
//! test       ::=  also ( "or" also )*
//! also       ::=  negation ( "and" negation )*
//! negation   ::=  "not" negation | comparison
//! comparison ::=  sum ( ( "=" | "!=" | "<" | "<=" | ">" | ">=" ) sum
//!                     | "in" ( "[" sum ( "," sum )* "]" | name )
//!                     | "matches" text                          a pattern; letter case does not count
//!                     | "between" sum "and" sum )?              both ends included; no chains
//! sum        ::=  product ( ( "+" | "-" ) product )*
//! product    ::=  sign ( ( "*" | "/" ) sign )*
//! sign       ::=  "-" number | "-" sign | value
//! value      ::=  number | text | "yes" | "no" | name | call | "(" test ")"
//! call       ::=  ( "stated" | "known" ) "(" name ")" | ( "min" | "max" ) "(" sum ( "," sum )+ ")"
//!              | "round_up" "(" sum "," sum ")"                 up to a multiple of the second, which is constant
//! number     ::=  ( digits | decimal | fraction | digits fraction ) unit? | "R" "-"? number
//! text       ::=  '"' any character but '"' '"'
//! name       ::=  letter or "_", then letters, digits, "_"; a ".", "/" or "-" belongs to it where a letter follows at
//!                 once: `outlet.seat_depth`, `freezing/margin`. Division and minus are written with spaces.
//! ```
//!
//! A pattern is looked for anywhere in its text (`frost.?proof`, `^WH-[0-9]+$`), in the syntax of the `regex` crate;
//! `(?-i)` at its start makes letter case count. A text has no escapes: a backslash in it stands for itself.
//!
//! The unit of a number: see [`super::number`]. `4 °F` is a temperature, `4 Δ°F` and `4 K` are differences; where a
//! literal such as `4 °F` is compared with a difference, is an argument of `min` or `max` beside one, or is taken
//! from one, it is read as a difference (see [`super::check`]).
//!
//! After a syntax error the parser goes on at the next `and`, `or` or closing parenthesis, so that the problems of every
//! part are found.

mod arithmetic;

use super::ast::{Ast, Node};
use super::lex::{Token, Tokens};
use super::source::{Source, Span};
use crate::diag::Diagnostics;

/// How deep parentheses, `not`, signs and calls may be nested.
pub(super) const MOST_NESTED: usize = 64;

/// What `in` may be followed by.
pub(super) const LIST: &str = "a list in brackets such as [\"copper\", \"brass\"], or the name of one";

/// `None` where a problem has been reported and this part is given up.
type Parsed<'a> = Option<Ast<'a>>;

/// Parses tokens. The problems of the tokens come with those of the tree.
pub(super) fn parse<'a>(source: Source<'a>, tokens: Tokens<'a>) -> (Ast<'a>, Diagnostics) {
    let mut parser = Parser {
        source,
        tokens: tokens.tokens,
        at: 0,
        open: 0,
        nested: 0,
        problems: Diagnostics::new(),
        given_up: false,
    };
    let tree = parser.test();
    if !matches!(parser.token(), Token::End) && parser.problems.is_empty() {
        parser.report(parser.span(), "closes nothing", None);
    }
    let mut problems = tokens.problems;
    if !tokens.stray {
        problems.append(&mut parser.problems);
    }
    (tree, problems)
}

struct Parser<'a> {
    source: Source<'a>,
    tokens: Vec<(Token<'a>, Span)>,
    at: usize,
    /// Parentheses and brackets open at this token.
    open: usize,
    nested: usize,
    problems: Diagnostics,
    given_up: bool,
}

impl<'a> Parser<'a> {
    fn token(&self) -> Token<'a> {
        self.tokens.get(self.at).map_or(Token::End, |it| it.0)
    }

    fn span(&self) -> Span {
        let end = self.source.text.len();
        let none = Span { start: end, end };
        self.tokens.get(self.at).map_or(none, |it| it.1)
    }

    fn advance(&mut self) -> Span {
        let span = self.span();
        match self.token() {
            Token::End => return span,
            Token::Open | Token::ListOpen => self.open += 1,
            Token::Close | Token::ListClose => self.open = self.open.saturating_sub(1),
            _ => {}
        }
        self.at += 1;
        span
    }

    fn report(&mut self, span: Span, what: &str, expected: Option<&str>) {
        if self.given_up {
            return;
        }
        let mut problem = self.source.problem(span, what);
        if span.start == span.end {
            problem.text = None;
        }
        problem.expected = expected.map(str::to_owned);
        self.problems.push(problem);
    }

    /// Runs a parser one level deeper; gives the whole expression up where that is too deep.
    fn deeper(&mut self, inner: impl FnOnce(&mut Self) -> Parsed<'a>) -> Parsed<'a> {
        if self.nested == MOST_NESTED {
            let what = format!("is nested more than {MOST_NESTED} deep");
            self.report(self.span(), &what, Some("a shorter expression, or several rules"));
            self.given_up = true;
            self.at = self.tokens.len();
            return None;
        }
        self.nested += 1;
        let parsed = inner(self);
        self.nested -= 1;
        parsed
    }

    fn test(&mut self) -> Ast<'a> {
        self.joined(
            |it| matches!(it, Token::Or),
            Node::Any,
            |it| it.joined(|it| matches!(it, Token::And), Node::All, Self::part),
        )
    }

    fn joined(
        &mut self,
        joins: fn(Token<'a>) -> bool,
        node: fn(Vec<Ast<'a>>) -> Node<'a>,
        part: fn(&mut Self) -> Ast<'a>,
    ) -> Ast<'a> {
        let mut parts = vec![part(self)];
        while joins(self.token()) {
            self.advance();
            parts.push(part(self));
        }
        match (parts.pop(), parts.last()) {
            (Some(only), None) => only,
            (last, _) => {
                parts.extend(last);
                let span = parts[0].span.to(parts[parts.len() - 1].span);
                Ast { span, node: node(parts) }
            }
        }
    }

    /// What stands between `and`s and `or`s; after a problem, what is left of it is passed over.
    fn part(&mut self) -> Ast<'a> {
        let (start, open) = (self.span(), self.open);
        let parsed = self.negation().and_then(|ast| match self.token() {
            Token::And | Token::Or | Token::Close | Token::End => Some(ast),
            Token::Comma | Token::ListOpen | Token::ListClose => self.misplaced(),
            _ => {
                self.report(self.span(), "follows without an operator", Some("and, or, or a comparison"));
                None
            }
        });
        parsed.unwrap_or_else(|| {
            let mut end = start;
            while !matches!(self.token(), Token::End) {
                let stops = matches!(self.token(), Token::And | Token::Or | Token::Close);
                if stops && self.open <= open {
                    break;
                }
                end = self.advance();
            }
            Ast { span: start.to(end), node: Node::Broken }
        })
    }

    fn misplaced(&mut self) -> Parsed<'a> {
        let (span, expected) = (self.span(), Some("a name or a value"));
        if matches!(self.token(), Token::End) {
            self.report(span, "something is missing at the end", expected);
        } else {
            self.report(span, "does not belong here", expected);
        }
        None
    }

    fn negation(&mut self) -> Parsed<'a> {
        if !matches!(self.token(), Token::Not) {
            return self.comparison();
        }
        let start = self.advance();
        let inner = self.deeper(Self::negation)?;
        Some(Ast { span: start.to(inner.span), node: Node::Not(Box::new(inner)) })
    }

    fn comparison(&mut self) -> Parsed<'a> {
        let left = self.sum()?;
        let start = left.span;
        let node = match self.token() {
            Token::Compare(ordering) => {
                self.advance();
                let right = self.sum()?;
                self.unchained(start, &right)?;
                (right.span, Node::Compare(Box::new(left), ordering, Box::new(right)))
            }
            Token::In => {
                self.advance();
                if let Token::Name(name) = self.token() {
                    let span = self.advance();
                    let list = Ast { span, node: Node::Name(name) };
                    (span, Node::Listed(Box::new(left), Box::new(list)))
                } else {
                    let (end, list) = self.list()?;
                    (end, Node::In(Box::new(left), list))
                }
            }
            Token::Matches => {
                self.advance();
                let Token::Text(pattern) = self.token() else {
                    if !matches!(self.token(), Token::Broken) {
                        let expected = Some("a pattern in quotation marks such as \"frost.?proof\"");
                        self.report(self.span(), "stands where a pattern should", expected);
                    }
                    return None;
                };
                let span = self.advance();
                (span, Node::Matches(Box::new(left), pattern, span))
            }
            Token::Between => {
                self.advance();
                let low = self.sum();
                if !matches!(self.token(), Token::And) {
                    if low.is_some() {
                        self.report(self.span(), "stands where `and` should", Some("between A and B"));
                    }
                    // What follows a mistaken `or` is the other end, not a test.
                    if matches!(self.token(), Token::Or) {
                        self.advance();
                        self.sum();
                    }
                    return None;
                }
                self.advance();
                let (low, high) = (low, self.sum());
                let (low, high) = (low?, high?);
                (high.span, Node::Between(Box::new(left), Box::new(low), Box::new(high)))
            }
            _ => return Some(left),
        };
        Some(Ast { span: start.to(node.0), node: node.1 })
    }

    /// Refuses `a < b < c`.
    fn unchained(&mut self, start: Span, middle: &Ast<'a>) -> Option<()> {
        let Token::Compare(_) = self.token() else {
            return Some(());
        };
        self.advance();
        let last = self.sum()?;
        let first = self.source.slice(start.to(middle.span));
        let second = self.source.slice(middle.span.to(last.span));
        let mend = format!("\"{first} and {second}\"");
        self.report(start.to(last.span), "compares twice in a row", Some(&mend));
        None
    }

    fn list(&mut self) -> Option<(Span, Vec<Ast<'a>>)> {
        if !matches!(self.token(), Token::ListOpen) {
            let expected = Some(LIST);
            self.report(self.span(), "stands where a list should", expected);
            return None;
        }
        let start = self.advance();
        self.items(start, |it| matches!(it, Token::ListClose))
    }

    fn parenthesis(&mut self) -> Parsed<'a> {
        let start = self.advance();
        let before = self.problems.len();
        let inner = self.test();
        if !matches!(self.token(), Token::Close) {
            if self.problems.len() == before {
                self.report(start, "is not closed", None);
            }
            return None;
        }
        Some(Ast { span: start.to(self.advance()), node: inner.node })
    }
}
