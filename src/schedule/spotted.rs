//! How people look a row up: by its number in the schedule or in a list of places, or by its line in the job.

use super::Row;
use crate::diag::{Location, Position};
use std::fmt::{self, Display, Formatter};
use std::sync::Arc;

/// What a row is a row of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RowOf {
    /// The schedule.
    Schedule,
    /// A list of places.
    Places,
    /// A list in the job itself, or in another file of its kind: the number is a line's.
    Job,
}

impl RowOf {
    /// `row`, `place row` or `job line`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Schedule => "row",
            Self::Places => "place row",
            Self::Job => "job line",
        }
    }
}

/// A row and what it is a row of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spotted {
    /// What it is a row of.
    pub of: RowOf,
    /// As a spreadsheet numbers rows, or an editor lines.
    pub number: u32,
}

impl Spotted {
    /// Where an outlet of a schedule stands; `schedule` is the schedule's file.
    pub fn at(place: &Location, schedule: &str) -> Self {
        let (of, number) = match place.position {
            Position::Row(row, _) if *place.file == *schedule => (RowOf::Schedule, row),
            Position::Row(row, _) => (RowOf::Places, row),
            Position::Line(span) => (RowOf::Job, span.line),
            Position::Whole => (RowOf::Schedule, 0),
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
    /// How people look it up; `file` is the schedule's.
    pub fn spotted(&self, file: &Arc<str>) -> Spotted {
        Spotted::at(&self.place(file), file)
    }
}
