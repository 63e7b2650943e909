//! Templates, the wordings of rules: sentences with names in braces, `At {site.design_low} outdoors ...`. `{{` and `}}` are
//! braces; `{= 1/8 in}` is a figure that is printed in the reader's units.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::error::ExprError;
use super::source::{Source, Span};
use super::value::Slot;
use super::{Names, unknown_name};
use crate::diag::{Diagnostics, Location};
use crate::units::{self, Quantity};

/// A checked template. A sentence that lacks a value can be left out, so it keeps its sentences apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    text: Arc<str>,
    sentences: Vec<Vec<Part>>,
}

/// A part of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// Literal text.
    Text(Arc<str>),
    /// A figure, as it is written and what it is.
    Figure(Arc<str>, Quantity),
    /// The value of a name.
    Slot(Slot),
}

impl Template {
    /// Checks a text of any number of sentences. A sentence ends at a full stop before a blank and a capital letter.
    /// `location` is that of the text; all errors are returned, in the order of the text.
    pub fn check(text: &str, location: &Location, names: &dyn Names) -> Result<Self, Diagnostics> {
        let parts = Parser::parse(text, location, names)?;
        Ok(Self { text: text.into(), sentences: split(parts) })
    }

    /// Checks a text of one sentence, whatever stops are in it.
    pub fn check_sentence(text: &str, location: &Location, names: &dyn Names) -> Result<Self, Diagnostics> {
        let parts = Parser::parse(text, location, names)?;
        Ok(Self { text: text.into(), sentences: vec![parts] })
    }

    /// One template of the sentences of several.
    pub fn join(templates: Vec<Self>) -> Self {
        let texts: Vec<&str> = templates.iter().map(Self::text).collect();
        let text = texts.join(" ").into();
        Self { text, sentences: templates.into_iter().flat_map(|template| template.sentences).collect() }
    }

    /// Its sentences. No two texts are side by side in one.
    pub fn sentences(&self) -> &[Vec<Part>] {
        &self.sentences
    }

    /// Every name in it.
    pub fn slots(&self) -> BTreeSet<Slot> {
        let slot = |part: &Part| if let Part::Slot(slot) = part { Some(*slot) } else { None };
        self.sentences.iter().flatten().filter_map(slot).collect()
    }

    /// The text it was checked from.
    pub fn text(&self) -> &str {
        &self.text
    }
}

/// Splits the texts at ends of sentences.
fn split(parts: Vec<Part>) -> Vec<Vec<Part>> {
    let mut sentences = Vec::new();
    let mut sentence = Vec::new();
    for part in parts {
        let Part::Text(text) = part else {
            sentence.push(part);
            continue;
        };
        let mut rest = &*text;
        while let Some(end) = end_of_sentence(rest) {
            sentence.push(Part::Text(rest[..end].into()));
            sentences.push(std::mem::take(&mut sentence));
            rest = rest[end..].trim_start();
        }
        if !rest.is_empty() {
            sentence.push(Part::Text(rest.into()));
        }
    }
    sentences.extend(Some(sentence).filter(|sentence| !sentence.is_empty()));
    sentences
}

/// The byte after the first full stop before a blank and a capital letter.
fn end_of_sentence(text: &str) -> Option<usize> {
    let starts_sentence = |rest: &str| {
        let first = rest.chars().find(|c| !c.is_whitespace() && !matches!(c, '"' | '“' | '('));
        first.is_some_and(char::is_uppercase)
    };
    let stops = text.match_indices(". ").map(|(stop, _)| stop + 1);
    stops.into_iter().find(|end| starts_sentence(&text[*end..]))
}

struct Parser<'a> {
    source: Source<'a>,
    names: &'a dyn Names,
    parts: Vec<Part>,
    /// Literal text after the last part.
    plain: String,
    errors: Diagnostics,
}

impl<'a> Parser<'a> {
    fn parse(text: &'a str, location: &'a Location, names: &'a dyn Names) -> Result<Vec<Part>, Diagnostics> {
        let source = Source { text, location };
        source.check_length("a shorter wording")?;
        let (parts, plain, errors) = (Vec::new(), String::new(), Diagnostics::new());
        let mut parser = Self { source, names, parts, plain, errors };
        let mut at = 0;
        while let Some(brace) = text[at..].find(['{', '}']).map(|more| at + more) {
            parser.plain.push_str(&text[at..brace]);
            at = parser.brace(brace);
        }
        parser.plain.push_str(&text[at..]);
        parser.end_text();
        parser.errors.or(parser.parts)
    }

    fn error(&mut self, start: usize, end: usize, error: ExprError) {
        self.errors.push(self.source.error(Span { start, end }, error));
    }

    fn end_text(&mut self) {
        if !self.plain.is_empty() {
            self.parts.push(Part::Text(std::mem::take(&mut self.plain).into()));
        }
    }

    fn push(&mut self, part: Part) {
        self.end_text();
        self.parts.push(part);
    }

    /// Reads what a brace at a byte starts. Returns the byte after it.
    fn brace(&mut self, brace: usize) -> usize {
        let (mark, rest) = self.source.text[brace..].split_at(1);
        if rest.starts_with(mark) {
            self.plain.push_str(mark);
            return brace + 2;
        }
        if mark == "}" {
            self.error(brace, brace + 1, ExprError::BraceClosesNothing);
            return brace + 1;
        }
        let length = rest.find(['{', '}']).unwrap_or(rest.len());
        let end = brace + 1 + length;
        if !rest[length..].starts_with('}') {
            self.error(brace, end, ExprError::UnclosedBrace);
            return end;
        }
        let inside = rest[..length].trim();
        let start = brace + 1 + (length - rest[..length].trim_start().len());
        if let Some(figure) = inside.strip_prefix('=') {
            let start = start + inside.len() - figure.trim_start().len();
            match units::figure(figure) {
                Ok(quantity) => self.push(Part::Figure(figure.trim().into(), quantity)),
                Err(_) => self.error(start, start + figure.trim().len(), ExprError::NotAFigure),
            }
        } else if inside.is_empty() {
            self.error(brace, end + 1, ExprError::EmptyBraces);
        } else if let Some((slot, _)) = self.names.find(inside) {
            self.push(Part::Slot(slot));
        } else {
            let span = Span { start, end: start + inside.len() };
            self.errors.push(unknown_name(self.source, span, self.names));
        }
        end + 1
    }
}
