//! Sums, products, signs, values and calls: what has a value rather than a truth.

use super::super::ast::{Ast, Node, Step};
use super::super::lex::Token;
use super::super::number::Number;
use super::super::source::Span;
use super::{Parsed, Parser};

impl<'a> Parser<'a> {
    /// What stands between commas, up to a closing mark.
    pub(super) fn items(
        &mut self,
        start: Span,
        closes: fn(Token<'a>) -> bool,
    ) -> Option<(Span, Vec<Ast<'a>>)> {
        let mut items = Vec::new();
        if closes(self.token()) {
            return Some((self.advance(), items));
        }
        loop {
            items.push(self.sum()?);
            if closes(self.token()) {
                return Some((self.advance(), items));
            }
            match self.token() {
                Token::Comma => self.advance(),
                Token::End => {
                    self.report(start, "is not closed", None);
                    return None;
                }
                _ => {
                    self.report(self.span(), "does not belong here", Some("a comma, or the closing mark"));
                    return None;
                }
            };
        }
    }

    pub(super) fn sum(&mut self) -> Parsed<'a> {
        let step = |it| match it {
            Token::Plus => Some(Step::Plus),
            Token::Minus => Some(Step::Minus),
            _ => None,
        };
        self.chain(step, |it| {
            let step = |it| match it {
                Token::Times => Some(Step::Times),
                Token::Over => Some(Step::Over),
                _ => None,
            };
            it.chain(step, Self::sign)
        })
    }

    fn chain(
        &mut self,
        step: fn(Token<'a>) -> Option<Step>,
        part: fn(&mut Self) -> Parsed<'a>,
    ) -> Parsed<'a> {
        let first = part(self)?;
        let (start, mut end) = (first.span, first.span);
        let mut rest = Vec::new();
        while let Some(step) = step(self.token()) {
            self.advance();
            let next = part(self)?;
            end = next.span;
            rest.push((step, next));
        }
        if rest.is_empty() {
            return Some(first);
        }
        Some(Ast { span: start.to(end), node: Node::Chain(Box::new(first), rest) })
    }

    fn sign(&mut self) -> Parsed<'a> {
        if !matches!(self.token(), Token::Minus) {
            return self.value();
        }
        let start = self.advance();
        // A sign belongs to its number: -5 °F is a temperature, not the opposite of one.
        if let Token::Number(Number { number, unit }) = self.token() {
            let number = Number { number: -number, unit };
            let span = start.to(self.advance());
            return Some(Ast { span, node: Node::Number(number) });
        }
        let inner = self.deeper(Self::sign)?;
        Some(Ast { span: start.to(inner.span), node: Node::Minus(Box::new(inner)) })
    }

    fn value(&mut self) -> Parsed<'a> {
        let node = match self.token() {
            Token::Number(number) => Node::Number(number),
            Token::Text(text) => Node::Text(text),
            Token::Truth(truth) => Node::Truth(truth),
            Token::Broken => Node::Broken,
            Token::Name(name) => {
                let start = self.advance();
                if !matches!(self.token(), Token::Open) {
                    let node = Node::Name(name);
                    return Some(Ast { span: start, node });
                }
                return self.deeper(|it| {
                    let open = it.advance();
                    let (end, arguments) = it.items(open, |it| matches!(it, Token::Close))?;
                    Some(Ast { span: start.to(end), node: Node::Call(name, arguments) })
                });
            }
            Token::Open => return self.deeper(Self::parenthesis),
            _ => return self.misplaced(),
        };
        Some(Ast { span: self.advance(), node })
    }
}
