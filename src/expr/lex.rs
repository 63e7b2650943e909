//! Cuts an expression into tokens. Whatever can be understood in spite of a problem is, so that one reading finds them
//! all.

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
    Truth(bool),
    Compare(Ordering),
    And,
    Or,
    Not,
    In,
    Between,
    Matches,
    Plus,
    Minus,
    Times,
    Over,
    Open,
    Close,
    ListOpen,
    ListClose,
    Comma,
    /// A value with a problem that has been reported.
    Broken,
    End,
}

/// The tokens, the last of them [`Token::End`], and what was wrong.
pub(super) struct Tokens<'a> {
    pub tokens: Vec<(Token<'a>, Span)>,
    pub problems: Diagnostics,
    /// Whether something was passed over, so that what is wrong next may only follow from it.
    pub stray: bool,
}

/// The words of the language, and words of other languages with what to write instead.
const WORDS: &[(&str, Token<'static>, Option<&str>)] = &[
    ("and", Token::And, None),
    ("or", Token::Or, None),
    ("not", Token::Not, None),
    ("in", Token::In, None),
    ("between", Token::Between, None),
    ("matches", Token::Matches, None),
    ("yes", Token::Truth(true), None),
    ("no", Token::Truth(false), None),
    ("AND", Token::And, Some("and")),
    ("OR", Token::Or, Some("or")),
    ("NOT", Token::Not, Some("not")),
    ("true", Token::Truth(true), Some("yes")),
    ("false", Token::Truth(false), Some("no")),
];

/// Symbols, longer ones first, and symbols of other languages with what to write instead.
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
    ("×", Token::Times, Some("*")),
    ("÷", Token::Over, Some("/")),
    ("−", Token::Minus, Some("-")),
    ("–", Token::Minus, Some("-")),
    ("=", Token::Compare(Ordering::Equal), None),
    ("<", Token::Compare(Ordering::Below), None),
    (">", Token::Compare(Ordering::Above), None),
    ("+", Token::Plus, None),
    ("-", Token::Minus, None),
    ("*", Token::Times, None),
    ("/", Token::Over, None),
    ("(", Token::Open, None),
    (")", Token::Close, None),
    ("[", Token::ListOpen, None),
    ("]", Token::ListClose, None),
    (",", Token::Comma, None),
];

/// Marks people's editors put around a text.
const QUOTES: &[char] = &['"', '\'', '“', '”', '‘', '’'];

/// Whether a word belongs to the language (or to one it may be mistaken for).
pub(super) fn is_word(text: &str) -> bool {
    WORDS.iter().any(|(word, ..)| *word == text)
}

/// Cuts a text into tokens.
pub(super) fn tokens(source: Source<'_>) -> Tokens<'_> {
    let mut lexer = Lexer {
        source,
        at: 0,
        out: Tokens { tokens: Vec::new(), problems: Diagnostics::new(), stray: false },
    };
    while lexer.next() {}
    let end = Span { start: source.text.trim_end().len(), end: source.text.trim_end().len() };
    lexer.out.tokens.push((Token::End, end));
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

    /// Takes the next so many bytes as a token.
    fn push(&mut self, token: Token<'a>, bytes: usize) -> Span {
        let span = Span { start: self.at, end: self.at + bytes };
        self.out.tokens.push((token, span));
        self.at = span.end;
        span
    }

    /// One token; false at the end.
    fn next(&mut self) -> bool {
        self.at += self.rest().len() - self.rest().trim_start().len();
        let rest = self.rest();
        let Some(first) = rest.chars().next() else {
            return false;
        };
        if let Some((number, bytes)) = resistance_at(rest) {
            let unit = find_unit("R");
            self.push(Token::Number(Number { number, unit }), bytes);
        } else if let Some((number, bytes)) = number_at(rest) {
            self.number(number, bytes);
        } else if first.is_alphabetic() || first == '_' {
            self.word(name_length(rest));
        } else if QUOTES.contains(&first) {
            self.quoted(first);
        } else if let Some((symbol, token, instead)) = SYMBOLS.iter().find(|it| rest.starts_with(it.0)) {
            let span = self.push(*token, symbol.len());
            self.meant(span, *instead);
        } else {
            let span = Span { start: self.at, end: self.at + first.len_utf8() };
            self.at = span.end;
            self.out.stray = true;
            self.out.problems.push(self.source.problem(span, "has no meaning here"));
        }
        true
    }

    fn number(&mut self, number: f64, bytes: usize) {
        let rest = self.rest();
        let (token, length) = match unit_after(&rest[bytes..]) {
            After::Nothing => (Token::Number(Number { number, unit: None }), bytes),
            After::Unit(unit, more) => {
                let unit = Some(unit);
                (Token::Number(Number { number, unit }), bytes + more)
            }
            After::Unknown(from, to) => {
                let span = Span { start: self.at + bytes + from, end: self.at + bytes + to };
                let word = self.source.slice(span);
                let mut problem = self.source.problem(span, "is not a known unit");
                problem = problem.nearest(word, UNITS.iter().flat_map(|unit| unit.names).copied());
                if problem.nearest.is_none() {
                    problem = problem.expected("a unit such as in, mm, °F or h, or an operator");
                }
                self.out.problems.push(problem);
                (Token::Broken, bytes + to)
            }
        };
        let span = Span { start: self.at, end: self.at + bytes };
        let token = if number.is_finite() {
            token
        } else {
            let what = "is not a number that can be used";
            self.out.problems.push(self.source.problem(span, what));
            Token::Broken
        };
        let span = self.push(token, length);
        // `1'-2"` is 14 in on a drawing and `1-1/2` is a number and a half: neither is a subtraction.
        let glued = self.rest().strip_prefix('-');
        if glued.is_some_and(|after| after.starts_with(|c: char| !c.is_whitespace())) {
            let word = self.rest().find(char::is_whitespace).unwrap_or(self.rest().len());
            let whole = Span { end: span.end + word, ..span };
            let problem = self.source.problem(whole, "can be one number or a subtraction");
            self.out.problems.push(problem.expected("spaces around a minus, or one number with one unit"));
        }
    }

    fn word(&mut self, bytes: usize) {
        let name = &self.rest()[..bytes];
        match WORDS.iter().find(|(word, ..)| *word == name) {
            Some((_, token, instead)) => {
                let span = self.push(*token, bytes);
                self.meant(span, *instead);
            }
            None => {
                self.push(Token::Name(name), bytes);
            }
        }
    }

    fn meant(&mut self, span: Span, instead: Option<&str>) {
        if let Some(instead) = instead {
            let problem = self.source.problem(span, "is not written so here");
            self.out.problems.push(problem.expected(format!("\"{instead}\"")));
        }
    }

    fn quoted(&mut self, mark: char) {
        let rest = self.rest();
        let inside = &rest[mark.len_utf8()..];
        let plain = mark == '"';
        let close = inside.find(|c| if plain { c == '"' } else { QUOTES.contains(&c) });
        let Some(length) = close else {
            let span = self.push(Token::Broken, rest.len());
            let problem = self.source.problem(span, "is a text without its closing mark");
            self.out.problems.push(problem);
            return;
        };
        let end = inside[length..].chars().next().map_or(0, char::len_utf8);
        let span = self.push(Token::Text(&inside[..length]), mark.len_utf8() + length + end);
        if !plain {
            let problem = self.source.problem(span, "is not in plain quotation marks");
            let instead = format!("\"{}\"", &inside[..length]);
            self.out.problems.push(problem.expected(instead));
        }
    }
}

/// `R-20` or `R20`, a thermal resistance.
fn resistance_at(text: &str) -> Option<(f64, usize)> {
    let label = text.strip_prefix('R')?;
    let number = label.strip_prefix('-').unwrap_or(label);
    let (value, bytes) = number_at(number)?;
    let end = text.len() - number.len() + bytes;
    let whole = value.is_finite() && !text[end..].starts_with(|c: char| c.is_alphanumeric() || c == '_');
    whole.then_some((value, end))
}

/// How many bytes of a text are a name. A point, slash or hyphen belongs to it where a letter follows at once.
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
