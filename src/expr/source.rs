//! The text of an expression and where it stands in its file, so that a problem inside it can be placed.

use super::MOST_CHARACTERS;
use crate::diag::{Diagnostic, Diagnostics, Location, Position};

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

    /// Where a byte of the text stands. A later line of a block is taken to be indented as its first.
    pub fn at(&self, byte: usize) -> Location {
        let Position::Line(line, column) = self.place.spot else {
            return self.place.clone();
        };
        let before = self.text.get(..byte).unwrap_or(self.text);
        let lines = before.matches('\n').count();
        let across = before.rsplit('\n').next().unwrap_or_default().chars().count();
        let moved = |from: u32, by: usize| from.saturating_add(u32::try_from(by).unwrap_or(u32::MAX));
        Location::line(&self.place.file, moved(line, lines), moved(column, across))
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
        Diagnostic::new(self.at(span.start), what).text(self.slice(span))
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
        assert_eq!(source.at("°°".len()), Location::line(&file, 7, 14));
        assert_eq!(source.at("°°x\na".len()), Location::line(&file, 8, 13));
    }

    #[test]
    fn a_cell_of_a_table_keeps_its_place() {
        let place = Location::cell(&"a.csv".into(), 3, None);
        let source = Source { text: "abc", place: &place };
        assert_eq!(source.at(2), place);
    }
}
