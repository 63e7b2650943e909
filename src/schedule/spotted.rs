//! How a row is referred to: by its number in the schedule or in a list of places, or by its line in the job.

use super::types::Row;
use crate::diag::{Location, Position};
use std::borrow::Cow;
use std::fmt::{self, Display, Formatter};
use std::sync::Arc;

/// What a row belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RowOf {
    /// The schedule.
    Schedule,
    /// Another sheet of its workbook, by number.
    Sheet(u16),
    /// A list of places.
    Places,
    /// A list in the job itself, or in another YAML file: the number is a line.
    Job,
}

impl RowOf {
    /// `row`, `sheet 2 row`, `place row` or `job line`.
    pub fn word(self) -> Cow<'static, str> {
        match self {
            Self::Schedule => "row".into(),
            Self::Sheet(number) => format!("sheet {number} row").into(),
            Self::Places => "place row".into(),
            Self::Job => "job line".into(),
        }
    }
}

/// A row and what it belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spotted {
    /// What it belongs to.
    pub of: RowOf,
    /// As a spreadsheet numbers rows, or an editor lines.
    pub number: u32,
}

impl Spotted {
    /// The row of an outlet's location; `schedule` is the schedule's file.
    pub fn at(location: &Location, schedule: &str) -> Self {
        let (of, number) = match (&location.position, &location.sheet) {
            (Position::Row(row, _), Some(sheet)) => (RowOf::Sheet(sheet.number), *row),
            (Position::Row(row, _), None) if *location.file == *schedule => (RowOf::Schedule, *row),
            (Position::Row(row, _), None) => (RowOf::Places, *row),
            (Position::Line(span), _) => (RowOf::Job, span.line),
            (Position::Whole, _) => (RowOf::Schedule, 0),
        };
        Self { of, number }
    }
}

impl Display for Spotted {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.of.word(), self.number)
    }
}

impl Row {
    /// What it is called without a mark: `row 7`, or `sheet 2 row 7`.
    pub fn name(&self) -> String {
        match self.at.as_ref().and_then(|at| at.sheet.as_ref()) {
            Some(sheet) => Spotted { of: RowOf::Sheet(sheet.number), number: self.number }.to_string(),
            None => format!("row {}", self.number),
        }
    }

    /// How it is referred to; `file` is the schedule's.
    pub fn spotted(&self, file: &Arc<str>) -> Spotted {
        Spotted::at(&self.location(file), file)
    }
}
