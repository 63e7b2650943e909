//! The text of an expression and where it stands in its file, so that a problem inside it can be placed.

use super::MOST_CHARACTERS;
use crate::diag::{Diagnostic, Diagnostics, Location, Position, Span as FileSpan};

/// A part of a text, in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Span {
    pub start: usize,
    pub end: usize,
}

impl Span {
    /// From the start of this to the end of a later one.
    pub fn to(self, later: Self) -> Self {
        Self { start: self.start, end: later.end }
    }
}

/// A text and the place of its first character.
#[derive(Clone, Copy)]
pub(super) struct Source<'a> {
    pub text: &'a str,
    pub place: &'a Location,
}

impl<'a> Source<'a> {
    /// The part itself.
    pub fn slice(&self, span: Span) -> &'a str {
        self.text.get(span.start..span.end).unwrap_or_default()
    }

    /// The location of a part, up to the end of its first line. Assumes that a later line of a block is indented as the
    /// first is. The whole text, if escapes make it longer in the file than it is here.
    pub fn at(&self, part: Span) -> Location {
        let Position::Line(whole) = self.place.position else {
            return self.place.clone();
        };
        let count = |chars: usize| u32::try_from(chars).unwrap_or(u32::MAX);
        if whole.length() > 0 && whole.length() != count(self.text.chars().count()) {
            return self.place.clone();
        }
        let before = self.text.get(..part.start).unwrap_or(self.text);
        let lines = before.matches('\n').count();
        let across = before.rsplit('\n').next().unwrap_or_default().chars().count();
        let line = whole.line.saturating_add(count(lines));
        let start = whole.start.saturating_add(count(across));
        let shown = self.slice(part).lines().next().unwrap_or_default().chars().count();
        Location::span(&self.place.file, FileSpan { line, start, end: start.saturating_add(count(shown)) })
    }

    /// Refuses a text that is too long to be meant.
    pub fn bounded(&self, expected: &str) -> Result<(), Diagnostics> {
        let length = self.text.chars().count();
        if length <= MOST_CHARACTERS {
            return Ok(());
        }
        let what = format!("is {length} characters long, more than {MOST_CHARACTERS}");
        Err(Diagnostic::new(self.place.clone(), what).text(self.text).expected(expected).into())
    }

    /// A problem with a part, which it quotes.
    pub fn problem(&self, span: Span, what: impl Into<String>) -> Diagnostic {
        Diagnostic::new(self.at(span), what).text(self.slice(span))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;

    #[test]
    fn columns_are_counted_in_characters_and_lines_are_followed() {
        let file: Arc<str> = "rules.yaml".into();
        let place = Location::line(&file, 7, 12);
        let source = Source { text: "°°x\nab", place: &place };
        let part = |before: &str, text: &str| Span { start: before.len(), end: before.len() + text.len() };
        let found = |line, start, end| Location::span(&file, FileSpan { line, start, end });
        assert_eq!(source.at(part("°°", "x")), found(7, 14, 15));
        assert_eq!(source.at(part("°°x\na", "b")), found(8, 13, 14));
        assert_eq!(source.at(part("°", "°x\nab")), found(7, 13, 15));
    }

    #[test]
    fn a_cell_of_a_table_keeps_its_place() {
        let place = Location::cell(&"a.csv".into(), 3, None);
        let source = Source { text: "abc", place: &place };
        assert_eq!(source.at(Span { start: 2, end: 3 }), place);
    }
}
