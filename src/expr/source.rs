//! The text of an expression and its location in a file.

use super::error::{ExprError, MOST_CHARACTERS};
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

/// A text and its location.
#[derive(Clone, Copy)]
pub(super) struct Source<'a> {
    pub text: &'a str,
    pub location: &'a Location,
}

impl<'a> Source<'a> {
    /// The text of a part.
    pub fn slice(&self, span: Span) -> &'a str {
        self.text.get(span.start..span.end).unwrap_or_default()
    }

    /// The location of a part, up to the end of its first line. Assumes that a later line of a block is indented as the
    /// first is. The location of the whole text if escapes make it longer in the file than it is here.
    pub fn locate(&self, part: Span) -> Location {
        let Position::Line(whole) = self.location.position else {
            return self.location.clone();
        };
        let count = |chars: usize| u32::try_from(chars).unwrap_or(u32::MAX);
        if whole.length() > 0 && whole.length() != count(self.text.chars().count()) {
            return self.location.clone();
        }
        let before = self.text.get(..part.start).unwrap_or(self.text);
        let lines = before.matches('\n').count();
        let across = before.rsplit('\n').next().unwrap_or_default().chars().count();
        let line = whole.line.saturating_add(count(lines));
        let start = whole.start.saturating_add(count(across));
        let shown = self.slice(part).lines().next().unwrap_or_default().chars().count();
        Location::span(&self.location.file, FileSpan { line, start, end: start.saturating_add(count(shown)) })
    }

    /// An error unless the text is within the limit. `expected` says what to write instead.
    pub fn check_length(&self, expected: &'static str) -> Result<(), Diagnostics> {
        let length = self.text.chars().count();
        if length <= MOST_CHARACTERS {
            return Ok(());
        }
        let whole = Span { start: 0, end: self.text.len() };
        Err(self.error(whole, ExprError::TooLong(length, expected)).into())
    }

    /// An error in a part, which it quotes.
    pub fn error(&self, span: Span, error: ExprError) -> Diagnostic {
        let (message, expected) = error.texts();
        // An empty pattern is quoted; the end of the text is not.
        let is_quoted = span.start < span.end || matches!(error, ExprError::Pattern(..));
        let text = is_quoted.then(|| self.slice(span).to_owned());
        Diagnostic { text, expected, ..Diagnostic::new(self.locate(span), message) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;

    #[test]
    fn columns_count_characters_and_lines_are_followed() {
        let file: Arc<str> = "rules.yaml".into();
        let location = Location::line(&file, 7, 12);
        let source = Source { text: "°°x\nab", location: &location };
        let part = |before: &str, text: &str| Span { start: before.len(), end: before.len() + text.len() };
        let found = |line, start, end| Location::span(&file, FileSpan { line, start, end });
        assert_eq!(source.locate(part("°°", "x")), found(7, 14, 15));
        assert_eq!(source.locate(part("°°x\na", "b")), found(8, 13, 14));
        assert_eq!(source.locate(part("°", "°x\nab")), found(7, 13, 15));
    }

    #[test]
    fn a_part_of_an_escaped_text_is_located_as_the_whole() {
        let span = FileSpan { line: 7, start: 12, end: 18 };
        let location = Location::span(&"rules.yaml".into(), span);
        let source = Source { text: "a\"b", location: &location };
        assert_eq!(source.locate(Span { start: 2, end: 3 }), location);
    }

    #[test]
    fn a_table_cell_keeps_its_location() {
        let location = Location::cell(&"a.csv".into(), 3, None);
        let source = Source { text: "abc", location: &location };
        assert_eq!(source.locate(Span { start: 2, end: 3 }), location);
    }
}
