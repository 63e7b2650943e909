//! Where a piece of text stands: a file, and a line, a table row or the whole of it.

use std::fmt;
use std::sync::Arc;

/// Characters of one line of a text file, all counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The line.
    pub line: u32,
    /// The first character.
    pub start: u32,
    /// The character after the last; equal to `start` if only the start is known.
    pub end: u32,
}

impl Span {
    /// Number of characters; 0 if only the start is known.
    pub fn length(self) -> u32 {
        self.end.saturating_sub(self.start)
    }
}

/// A position in a file.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Position {
    /// The file as a whole.
    Whole,
    /// Characters of a line of a text file.
    Line(Span),
    /// A table row as a spreadsheet numbers it, and the heading of a column if one is meant.
    Row(u32, Option<Arc<str>>),
}

/// A sheet of a workbook.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SheetName {
    /// Its number among the sheets with anything in them, from 1.
    pub number: u16,
    /// Its name.
    pub name: Arc<str>,
}

/// A file and a position in it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Location {
    /// The file as the person named it.
    pub file: Arc<str>,
    /// The sheet, if it is another than the one that a schedule is mainly on.
    pub sheet: Option<Arc<SheetName>>,
    /// Where in it.
    pub position: Position,
}

impl Location {
    /// The file as a whole.
    pub fn whole(file: &str) -> Self {
        Self { file: file.into(), sheet: None, position: Position::Whole }
    }

    /// A point in a text file: a line and a character, counted from 1.
    pub fn line(file: &Arc<str>, line: u32, column: u32) -> Self {
        Self::span(file, Span { line, start: column, end: column })
    }

    /// Characters of a line of a text file.
    pub fn span(file: &Arc<str>, span: Span) -> Self {
        Self { file: file.clone(), sheet: None, position: Position::Line(span) }
    }

    /// A row of a table, and the heading of a column.
    pub fn cell(file: &Arc<str>, row: u32, column: Option<&Arc<str>>) -> Self {
        Self { file: file.clone(), sheet: None, position: Position::Row(row, column.cloned()) }
    }

    /// The table row, if it is in a table.
    pub fn row(&self) -> Option<u32> {
        match self.position {
            Position::Row(row, _) => Some(row),
            Position::Line(_) | Position::Whole => None,
        }
    }

    /// The line of a text file or the row of a table.
    pub fn line_or_row(&self) -> Option<u32> {
        match self.position {
            Position::Line(Span { line, .. }) => Some(line),
            Position::Row(row, _) => Some(row),
            Position::Whole => None,
        }
    }

    /// The column heading, if it is in a table with headings.
    pub fn heading(&self) -> Option<&Arc<str>> {
        match &self.position {
            Position::Row(_, column) => column.as_ref(),
            Position::Line(_) | Position::Whole => None,
        }
    }
}

impl fmt::Display for Location {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.file)?;
        if let Some(sheet) = &self.sheet {
            write!(f, ", sheet \"{}\"", sheet.name)?;
        }
        match &self.position {
            Position::Whole => Ok(()),
            Position::Line(Span { line, start, .. }) => write!(f, ", line {line}, column {start}"),
            Position::Row(row, None) => write!(f, ", row {row}"),
            Position::Row(row, Some(column)) => write!(f, ", row {row}, column \"{column}\""),
        }
    }
}
