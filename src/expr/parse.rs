//! Parser: from tokens to a syntax tree.
//!
//! ```text
//! or_expr    ::=  and_expr ( "or" and_expr )*
//! and_expr   ::=  not_expr ( "and" not_expr )*
//! not_expr   ::=  "not" not_expr | comparison
//! comparison ::=  sum ( ( "=" | "!=" | "<" | "<=" | ">" | ">=" ) sum
//!                     | "in" ( "[" sum ( "," sum )* "]" | name )
//!                     | "matches" text                          a pattern; case does not count
//!                     | "between" sum "and" sum )?              both ends included; no chains
//! sum        ::=  product ( ( "+" | "-" ) product )*
//! product    ::=  unary ( ( "*" | "/" ) unary )*
//! unary      ::=  "-" number | "-" unary | value
//! value      ::=  number | text | "yes" | "no" | name | call | "(" or_expr ")"
//! call       ::=  ( "stated" | "known" ) "(" name ")" | ( "min" | "max" ) "(" sum ( "," sum )+ ")"
//!              | "round_up" "(" sum "," sum ")"                 up to a multiple of the second, a constant
//! number     ::=  ( digits | decimal | fraction | digits fraction ) unit? | "R" "-"? number
//! text       ::=  '"' any character but '"' '"'
//! name       ::=  letter or "_", then letters, digits, "_"; a ".", "/" or "-" belongs to it if a letter follows:
//!                 `outlet.seat_depth`, `freezing/margin`. Division and minus need spaces.
//! ```
//!
//! A pattern is looked for anywhere in a text (`frost.?proof`, `^WH-[0-9]+$`), in the syntax of the `regex` crate;
//! `(?-i)` at its start makes case count. A text has no escapes: a backslash in it is a backslash.
//!
//! For the unit of a number see [`super::number`]. `4 °F` is a temperature, `4 Δ°F` and `4 K` are differences; a literal
//! such as `4 °F` is read as a difference if it is compared with one, is an argument of `min` or `max` beside one, or is
//! subtracted from one (see [`super::check`]).
//!
//! After a syntax error the parser continues at the next `and`, `or` or closing parenthesis, to find the errors of every
//! part.

mod arithmetic;

use super::ast::{Ast, Node};
use super::error::{ExprError, MOST_NESTED};
use super::lex::{Token, Tokens};
use super::source::{Source, Span};
use crate::diag::Diagnostics;
use std::mem::discriminant;

/// What may follow `in`.
pub(super) const LIST: &str = "a list in brackets such as [\"copper\", \"brass\"], or the name of one";
const VALUE: &str = "a name or a value";

/// `None` if an error was reported and this part is given up.
type Parsed<'a> = Option<Ast<'a>>;

/// Parses tokens. Returns the errors of the tokens with those of the tree.
pub(super) fn parse<'a>(source: Source<'a>, tokens: Tokens<'a>) -> (Ast<'a>, Diagnostics) {
    let mut parser = Parser {
        source,
        tokens: tokens.tokens,
        at: 0,
        open: 0,
        nesting: 0,
        errors: Diagnostics::new(),
        given_up: false,
    };
    let tree = parser.parse_or();
    if !parser.is(Token::End) && parser.errors.is_empty() {
        parser.error::<()>(parser.span(), ExprError::ClosesNothing);
    }
    let mut errors = tokens.errors;
    if !tokens.skipped {
        errors.append(&mut parser.errors);
    }
    (tree, errors)
}

struct Parser<'a> {
    source: Source<'a>,
    tokens: Vec<(Token<'a>, Span)>,
    at: usize,
    /// Number of open parentheses and brackets.
    open: usize,
    nesting: usize,
    errors: Diagnostics,
    given_up: bool,
}

impl<'a> Parser<'a> {
    fn peek(&self) -> Token<'a> {
        self.tokens.get(self.at).map_or(Token::End, |(token, _)| *token)
    }

    /// Whether the next token is of this kind.
    fn is(&self, token: Token<'_>) -> bool {
        discriminant(&self.peek()) == discriminant(&token)
    }

    fn span(&self) -> Span {
        let end = self.source.text.len();
        self.tokens.get(self.at).map_or(Span { start: end, end }, |(_, span)| *span)
    }

    fn advance(&mut self) -> Span {
        let span = self.span();
        match self.peek() {
            Token::End => return span,
            Token::LeftParen | Token::LeftBracket => self.open += 1,
            Token::RightParen | Token::RightBracket => self.open = self.open.saturating_sub(1),
            _ => {}
        }
        self.at += 1;
        span
    }

    /// Takes the next token if it is of this kind.
    fn eat(&mut self, token: Token<'_>) -> Option<Span> {
        self.is(token).then(|| self.advance())
    }

    /// Takes the next token, which must be of this kind; `expected` says what belongs there.
    fn expect(&mut self, token: Token<'_>, expected: &'static str) -> Option<Span> {
        self.eat(token).or_else(|| self.misplaced(expected))
    }

    /// Reports an error.
    fn error<T>(&mut self, span: Span, error: ExprError) -> Option<T> {
        if !self.given_up {
            self.errors.push(self.source.error(span, error));
        }
        None
    }

    /// Reports the next token, unless it was reported already.
    fn misplaced<T>(&mut self, expected: &'static str) -> Option<T> {
        match self.peek() {
            Token::Invalid => None,
            Token::End => self.error(self.span(), ExprError::MissingAtEnd(expected)),
            _ => self.error(self.span(), ExprError::Misplaced(expected)),
        }
    }

    /// Parses one level deeper. Gives up the whole expression if that is too deep.
    fn with_nesting(&mut self, parse: impl FnOnce(&mut Self) -> Parsed<'a>) -> Parsed<'a> {
        if self.nesting == MOST_NESTED {
            self.error::<()>(self.span(), ExprError::TooDeep);
            self.given_up = true;
            self.at = self.tokens.len();
            return None;
        }
        self.nesting += 1;
        let parsed = parse(self);
        self.nesting -= 1;
        parsed
    }

    /// Parses `or_expr ::= and_expr ( "or" and_expr )*`.
    fn parse_or(&mut self) -> Ast<'a> {
        self.parse_joined(Token::Or, Node::Or, Self::parse_and)
    }

    /// Parses `and_expr ::= not_expr ( "and" not_expr )*`.
    fn parse_and(&mut self) -> Ast<'a> {
        self.parse_joined(Token::And, Node::And, Self::parse_part)
    }

    fn parse_joined(
        &mut self,
        joint: Token<'static>,
        node: fn(Vec<Ast<'a>>) -> Node<'a>,
        parse: fn(&mut Self) -> Ast<'a>,
    ) -> Ast<'a> {
        let first = parse(self);
        if !self.is(joint) {
            return first;
        }
        let (start, mut end) = (first.span, first.span);
        let mut parts = vec![first];
        while self.eat(joint).is_some() {
            let part = parse(self);
            end = part.span;
            parts.push(part);
        }
        Ast { span: start.to(end), node: node(parts) }
    }

    /// Parses a `not_expr` between `and`s and `or`s. After an error, skips the rest of it.
    fn parse_part(&mut self) -> Ast<'a> {
        let (start, open) = (self.span(), self.open);
        let parsed = self.parse_not().and_then(|ast| match self.peek() {
            Token::And | Token::Or | Token::RightParen | Token::End => Some(ast),
            Token::Comma | Token::LeftBracket | Token::RightBracket => self.misplaced(VALUE),
            _ => self.error(self.span(), ExprError::MissingOperator),
        });
        parsed.unwrap_or_else(|| {
            let mut end = start;
            while !self.is(Token::End) {
                let stops = matches!(self.peek(), Token::And | Token::Or | Token::RightParen);
                if stops && self.open <= open {
                    break;
                }
                end = self.advance();
            }
            Ast { span: start.to(end), node: Node::Invalid }
        })
    }

    /// Parses `not_expr ::= "not" not_expr | comparison`.
    fn parse_not(&mut self) -> Parsed<'a> {
        let Some(start) = self.eat(Token::Not) else { return self.parse_comparison() };
        let operand = self.with_nesting(Self::parse_not)?;
        Some(Ast { span: start.to(operand.span), node: Node::Not(Box::new(operand)) })
    }

    fn parse_comparison(&mut self) -> Parsed<'a> {
        let left = self.parse_sum()?;
        let start = left.span;
        let (end, node) = match self.peek() {
            Token::Compare(ordering) => {
                self.advance();
                let right = self.parse_sum()?;
                self.check_unchained(start, right.span)?;
                (right.span, Node::Compare(Box::new(left), ordering, Box::new(right)))
            }
            Token::In => {
                self.advance();
                if let Token::Name(name) = self.peek() {
                    let list = Ast { span: self.advance(), node: Node::Name(name) };
                    (list.span, Node::InNamed(Box::new(left), Box::new(list)))
                } else {
                    let bracket = self.expect(Token::LeftBracket, LIST)?;
                    let (end, items) = self.parse_items(bracket, Token::RightBracket)?;
                    (end, Node::In(Box::new(left), items))
                }
            }
            Token::Matches => {
                self.advance();
                let Token::Text(pattern) = self.peek() else {
                    return self.misplaced("a pattern in quotation marks such as \"frost.?proof\"");
                };
                let span = self.advance();
                (span, Node::Matches(Box::new(left), pattern, span))
            }
            Token::Between => {
                self.advance();
                let low = self.parse_sum();
                if self.eat(Token::And).is_none() {
                    if low.is_some() {
                        self.misplaced::<()>("between A and B");
                    }
                    // What follows a mistaken `or` is the other end, not a test.
                    if self.eat(Token::Or).is_some() {
                        self.parse_sum();
                    }
                    return None;
                }
                let high = self.parse_sum();
                let (low, high) = (low?, high?);
                (high.span, Node::Between(Box::new(left), Box::new(low), Box::new(high)))
            }
            _ => return Some(left),
        };
        Some(Ast { span: start.to(end), node })
    }

    /// Reports `a < b < c`.
    fn check_unchained(&mut self, start: Span, middle: Span) -> Option<()> {
        let Token::Compare(_) = self.peek() else { return Some(()) };
        self.advance();
        let last = self.parse_sum()?.span;
        let (first, second) = (self.source.slice(start.to(middle)), self.source.slice(middle.to(last)));
        self.error(start.to(last), ExprError::ChainedComparison(format!("{first} and {second}")))
    }
}
