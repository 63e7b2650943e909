//! Parser of sums, products, signs, values and calls.

use super::super::ast::{Ast, Node, Operator};
use super::super::error::ExprError;
use super::super::lex::Token;
use super::super::number::Number;
use super::super::source::Span;
use super::{Parsed, Parser, VALUE};

impl<'a> Parser<'a> {
    /// Parses sums between commas, up to a closing mark. Returns them with the span of the mark.
    pub(super) fn parse_items(&mut self, opening: Span, closing: Token<'_>) -> Option<(Span, Vec<Ast<'a>>)> {
        let mut items = Vec::new();
        loop {
            if items.is_empty()
                && let Some(end) = self.eat(closing)
            {
                return Some((end, items));
            }
            items.push(self.parse_sum()?);
            if let Some(end) = self.eat(closing) {
                return Some((end, items));
            }
            if self.is(Token::End) {
                return self.error(opening, ExprError::NotClosed);
            }
            self.expect(Token::Comma, "a comma, or the closing mark")?;
        }
    }

    /// Parses `sum ::= product ( ( "+" | "-" ) product )*`.
    pub(super) fn parse_sum(&mut self) -> Parsed<'a> {
        let operator = |token| match token {
            Token::Plus => Some(Operator::Plus),
            Token::Minus => Some(Operator::Minus),
            _ => None,
        };
        self.parse_chain(operator, Self::parse_product)
    }

    /// Parses `product ::= unary ( ( "*" | "/" ) unary )*`.
    fn parse_product(&mut self) -> Parsed<'a> {
        let operator = |token| match token {
            Token::Star => Some(Operator::Times),
            Token::Slash => Some(Operator::Over),
            _ => None,
        };
        self.parse_chain(operator, Self::parse_unary)
    }

    fn parse_chain(
        &mut self,
        operator: fn(Token<'a>) -> Option<Operator>,
        parse: fn(&mut Self) -> Parsed<'a>,
    ) -> Parsed<'a> {
        let first = parse(self)?;
        let (start, mut end) = (first.span, first.span);
        let mut rest = Vec::new();
        while let Some(operator) = operator(self.peek()) {
            self.advance();
            let operand = parse(self)?;
            end = operand.span;
            rest.push((operator, operand));
        }
        if rest.is_empty() {
            return Some(first);
        }
        Some(Ast { span: start.to(end), node: Node::Chain(Box::new(first), rest) })
    }

    /// Parses `unary ::= "-" number | "-" unary | value`.
    fn parse_unary(&mut self) -> Parsed<'a> {
        let Some(start) = self.eat(Token::Minus) else { return self.parse_value() };
        // A sign belongs to its number: -5 °F is a temperature, not the negative of one.
        if let Token::Number(Number { number, unit }) = self.peek() {
            let node = Node::Number(Number { number: -number, unit });
            return Some(Ast { span: start.to(self.advance()), node });
        }
        let operand = self.with_nesting(Self::parse_unary)?;
        Some(Ast { span: start.to(operand.span), node: Node::Negative(Box::new(operand)) })
    }

    fn parse_value(&mut self) -> Parsed<'a> {
        let node = match self.peek() {
            Token::Number(number) => Node::Number(number),
            Token::Text(text) => Node::Text(text),
            Token::Bool(value) => Node::Bool(value),
            Token::Invalid => Node::Invalid,
            Token::Name(name) => return self.parse_name_or_call(name),
            Token::LeftParen => return self.with_nesting(Self::parse_parentheses),
            _ => return self.misplaced(VALUE),
        };
        Some(Ast { span: self.advance(), node })
    }

    fn parse_name_or_call(&mut self, name: &'a str) -> Parsed<'a> {
        let start = self.advance();
        if !self.is(Token::LeftParen) {
            return Some(Ast { span: start, node: Node::Name(name) });
        }
        self.with_nesting(|parser| {
            let opening = parser.advance();
            let (end, arguments) = parser.parse_items(opening, Token::RightParen)?;
            Some(Ast { span: start.to(end), node: Node::Call(name, arguments) })
        })
    }

    fn parse_parentheses(&mut self) -> Parsed<'a> {
        let start = self.advance();
        let before = self.errors.len();
        let inner = self.parse_or();
        match self.eat(Token::RightParen) {
            Some(end) => Some(Ast { span: start.to(end), node: inner.node }),
            None if self.errors.len() == before => self.error(start, ExprError::NotClosed),
            None => None,
        }
    }
}
