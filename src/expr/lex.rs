//! Lexer for expressions. Returns tokens with byte spans and continues after an error, so that one pass reports all errors.

use super::error::ExprError;
use super::number::{After, Number, number_at, unit_after};
use super::source::{Source, Span};
use crate::diag::Diagnostics;
use crate::units::{Ordering, UNITS, find_unit};

/// A token.
#[derive(Clone, Copy, Debug)]
pub(super) enum Token<'a> {
    Number(Number),
    Text(&'a str),
    Name(&'a str),
    Bool(bool),
    Compare(Ordering),
    And,
    Or,
    Not,
    In,
    Between,
    Matches,
    Plus,
    Minus,
    Star,
    Slash,
    LeftParen,
    RightParen,
    LeftBracket,
    RightBracket,
    Comma,
    /// A value with an error that was reported.
    Invalid,
    End,
}

/// The tokens of an expression, the last of them [`Token::End`].
pub(super) struct Tokens<'a> {
    pub tokens: Vec<(Token<'a>, Span)>,
    pub errors: Diagnostics,
    /// Whether characters were skipped: syntax errors may only follow from that.
    pub skipped: bool,
}

/// Words of the language, and words of other languages with the one to write instead.
const WORDS: &[(&str, Token<'static>, Option<&str>)] = &[
    ("and", Token::And, None),
    ("or", Token::Or, None),
    ("not", Token::Not, None),
    ("in", Token::In, None),
    ("between", Token::Between, None),
    ("matches", Token::Matches, None),
    ("yes", Token::Bool(true), None),
    ("no", Token::Bool(false), None),
    ("AND", Token::And, Some("and")),
    ("OR", Token::Or, Some("or")),
    ("NOT", Token::Not, Some("not")),
    ("true", Token::Bool(true), Some("yes")),
    ("false", Token::Bool(false), Some("no")),
];

/// Symbols, longer ones first, and symbols of other languages with the one to write instead.
const SYMBOLS: &[(&str, Token<'static>, Option<&str>)] = &[
    ("!=", Token::Compare(Ordering::Differs), None),
    ("<=", Token::Compare(Ordering::AtMost), None),
    (">=", Token::Compare(Ordering::AtLeast), None),
    ("==", Token::Compare(Ordering::Equal), Some("=")),
    ("<>", Token::Compare(Ordering::Differs), Some("!=")),
    ("=<", Token::Compare(Ordering::AtMost), Some("<=")),
    ("=>", Token::Compare(Ordering::AtLeast), Some(">=")),
    ("≤", Token::Compare(Ordering::AtMost), Some("<=")),
    ("≥", Token::Compare(Ordering::AtLeast), Some(">=")),
    ("≠", Token::Compare(Ordering::Differs), Some("!=")),
    ("&&", Token::And, Some("and")),
    ("||", Token::Or, Some("or")),
    ("!", Token::Not, Some("not")),
    ("×", Token::Star, Some("*")),
    ("÷", Token::Slash, Some("/")),
    ("−", Token::Minus, Some("-")),
    ("–", Token::Minus, Some("-")),
    ("=", Token::Compare(Ordering::Equal), None),
    ("<", Token::Compare(Ordering::Below), None),
    (">", Token::Compare(Ordering::Above), None),
    ("+", Token::Plus, None),
    ("-", Token::Minus, None),
    ("*", Token::Star, None),
    ("/", Token::Slash, None),
    ("(", Token::LeftParen, None),
    (")", Token::RightParen, None),
    ("[", Token::LeftBracket, None),
    ("]", Token::RightBracket, None),
    (",", Token::Comma, None),
];

/// Quotation marks, plain ones and those that text editors put in their place.
const QUOTES: &[char] = &['"', '\'', '“', '”', '‘', '’'];

/// Whether a word belongs to the language, or to one it may be mistaken for.
pub(super) fn is_word(text: &str) -> bool {
    WORDS.iter().any(|(word, ..)| *word == text)
}

/// Splits an expression into tokens.
pub(super) fn tokens(source: Source<'_>) -> Tokens<'_> {
    let out = Tokens { tokens: Vec::new(), errors: Diagnostics::new(), skipped: false };
    let mut lexer = Lexer { source, at: 0, out };
    while lexer.next() {}
    let end = source.text.trim_end().len();
    lexer.out.tokens.push((Token::End, Span { start: end, end }));
    lexer.out
}

struct Lexer<'a> {
    source: Source<'a>,
    at: usize,
    out: Tokens<'a>,
}

impl<'a> Lexer<'a> {
    fn rest(&self) -> &'a str {
        self.source.text.get(self.at..).unwrap_or_default()
    }

    fn error(&mut self, span: Span, error: ExprError) {
        self.out.errors.push(self.source.error(span, error));
    }

    /// Adds a token of the next bytes.
    fn push(&mut self, token: Token<'a>, bytes: usize) -> Span {
        let span = Span { start: self.at, end: self.at + bytes };
        self.out.tokens.push((token, span));
        self.at = span.end;
        span
    }

    /// Reads one token; false at the end.
    fn next(&mut self) -> bool {
        self.at += self.rest().len() - self.rest().trim_start().len();
        let rest = self.rest();
        let Some(first) = rest.chars().next() else {
            return false;
        };
        if let Some((number, bytes)) = resistance_at(rest) {
            self.push(Token::Number(Number { number, unit: find_unit("R") }), bytes);
        } else if let Some((number, bytes)) = number_at(rest) {
            self.number(number, bytes);
        } else if first.is_alphabetic() || first == '_' {
            let name = &rest[..name_length(rest)];
            match WORDS.iter().find(|(word, ..)| *word == name) {
                Some(entry) => self.known(entry),
                None => {
                    self.push(Token::Name(name), name.len());
                }
            }
        } else if QUOTES.contains(&first) {
            self.quoted(first);
        } else if let Some(entry) = SYMBOLS.iter().find(|(symbol, ..)| rest.starts_with(symbol)) {
            self.known(entry);
        } else {
            let span = Span { start: self.at, end: self.at + first.len_utf8() };
            self.at = span.end;
            self.out.skipped = true;
            self.error(span, ExprError::StrayCharacter);
        }
        true
    }

    /// A word or symbol of a table.
    fn known(&mut self, (text, token, instead): &(&str, Token<'static>, Option<&'static str>)) {
        let span = self.push(*token, text.len());
        if let Some(instead) = instead {
            self.error(span, ExprError::OtherLanguage(instead));
        }
    }

    fn number(&mut self, number: f64, bytes: usize) {
        let mut length = bytes;
        let mut token = Token::Number(Number { number, unit: None });
        match unit_after(&self.rest()[bytes..]) {
            After::Nothing => {}
            After::Unit(unit, more) => {
                token = Token::Number(Number { number, unit: Some(unit) });
                length += more;
            }
            After::Unknown(from, to) => {
                token = Token::Invalid;
                length += to;
                let span = Span { start: self.at + bytes + from, end: self.at + length };
                let names = UNITS.iter().flat_map(|unit| unit.names).copied();
                let error = self.source.error(span, ExprError::UnknownUnit);
                self.out.errors.push(error.nearest_instead(self.source.slice(span), names));
            }
        }
        if !number.is_finite() {
            token = Token::Invalid;
            self.error(Span { start: self.at, end: self.at + bytes }, ExprError::UnusableNumber);
        }
        let span = self.push(token, length);
        // `1'-2"` is 14 in on a drawing and `1-1/2` is a number and a half: neither is a subtraction.
        let after_sign = self.rest().strip_prefix('-').unwrap_or_default();
        if after_sign.starts_with(|c: char| !c.is_whitespace()) {
            let word = self.rest().find(char::is_whitespace).unwrap_or(self.rest().len());
            self.error(Span { end: span.end + word, ..span }, ExprError::NumberOrSubtraction);
        }
    }

    fn quoted(&mut self, mark: char) {
        let rest = self.rest();
        let inside = &rest[mark.len_utf8()..];
        let is_plain = mark == '"';
        let closes = |c: char| if is_plain { c == '"' } else { QUOTES.contains(&c) };
        let Some((length, closing)) = inside.char_indices().find(|(_, c)| closes(*c)) else {
            let span = self.push(Token::Invalid, rest.len());
            return self.error(span, ExprError::UnclosedText);
        };
        let text = &inside[..length];
        let span = self.push(Token::Text(text), mark.len_utf8() + length + closing.len_utf8());
        if !is_plain {
            self.error(span, ExprError::QuotationMarks(text.into()));
        }
    }
}

/// A thermal resistance at the start of a text, `R-20` or `R20`, and its length in bytes.
fn resistance_at(text: &str) -> Option<(f64, usize)> {
    let label = text.strip_prefix('R')?;
    let number = label.strip_prefix('-').unwrap_or(label);
    let (value, bytes) = number_at(number)?;
    let end = text.len() - number.len() + bytes;
    let whole = value.is_finite() && !text[end..].starts_with(|c: char| c.is_alphanumeric() || c == '_');
    whole.then_some((value, end))
}

/// The length in bytes of the name at the start of a text. A point, slash or hyphen belongs to it if a letter follows.
fn name_length(text: &str) -> usize {
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let joins = ['.', '/', '-'].contains(&c)
            && chars.peek().is_some_and(|(_, next)| next.is_alphabetic() || *next == '_');
        if !(c.is_alphanumeric() || c == '_' || joins) {
            return at;
        }
    }
    text.len()
}
