//! A fixture schedule: raw cells matched to the terms of a vocabulary that the caller gives. One bad cell is one
//! located problem and a cell without a value; the rest goes on.

mod closing;
mod columns;
mod description;
mod doubt;
mod entries;
mod fall;
mod from_words;
mod headings;
mod leftover;
mod listed;
mod patterns;
mod phrases;
mod places;
mod plainly;
mod references;
mod rows;
mod sheets;
mod spotted;
mod terms;

pub use columns::{Columns, Meant, term_named};
pub use description::{Heard, hear};
pub use listed::{OUTLETS, is_listed, read_listed};
pub use patterns::{PATTERNS, Pattern};
pub use places::{Homes, PlaceTerms, put_places};
pub use sheets::{NamedSheet, choose};
pub use spotted::{RowOf, Spotted};
pub use terms::{Read, Reads, Term, read_cell};

use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::Table;
use std::sync::Arc;

/// A cell that says something about an outlet.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Which term of the vocabulary, by index.
    pub term: usize,
    /// Where it stands.
    pub place: Location,
    /// What stands there.
    pub text: Arc<str>,
    /// What it says; `None` where that was a problem.
    pub value: Option<Read>,
}

/// A row that is an outlet.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// As the spreadsheet numbers it.
    pub number: u32,
    /// The cells that are not blank, in the order of the vocabulary.
    pub cells: Vec<Cell>,
    /// Where it stands, where not in the schedule itself: in a list of places.
    pub at: Option<Location>,
}

impl Row {
    /// Where it stands; `file` is the schedule's.
    pub fn place(&self, file: &Arc<str>) -> Location {
        self.at.clone().unwrap_or_else(|| Location::cell(file, self.number, None))
    }
}

/// A schedule as it was understood.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Schedule {
    /// The file as the person named it.
    pub file: Arc<str>,
    /// The row of headings, as the spreadsheet numbers it, where there is one.
    pub heading: Option<u32>,
    /// How its file is written, where it is a table of text and not the usual way: `semicolons`, `decimal commas`.
    pub written: Vec<&'static str>,
    /// Its headings, each on one line.
    pub headings: Vec<Arc<str>>,
    /// The rows that are outlets.
    pub rows: Vec<Row>,
    /// How it was read, where a reader would want to know: dittos, hidden rows, the sheet taken.
    pub notes: Vec<Noted>,
    /// What was not used: columns nobody understood, rows that are no outlets.
    pub unused: Vec<Unused>,
    /// Every cell and column with a problem.
    pub problems: Diagnostics,
}

/// Something in the schedule that the review does not use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unused {
    /// Where it stands.
    pub place: Location,
    /// What stands there.
    pub text: Arc<str>,
    /// Why it is not used.
    pub why: &'static str,
}

/// Something told of how the schedule was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noted {
    /// Where it stands.
    pub place: Location,
    /// What stands there.
    pub text: Arc<str>,
    /// What is told of it; completes the sentence that starts with the text.
    pub what: Arc<str>,
}

/// How a schedule is to be read.
#[derive(Clone, Copy, Debug)]
pub struct Reading<'r> {
    /// What columns there can be.
    pub vocabulary: &'r [Term],
    /// The term that names the outlet, by index.
    pub mark: usize,
    /// What the job says of headings.
    pub columns: &'r Columns,
    /// Facts that are each row's own: "same as HB-1" does not copy them.
    pub own: &'r [&'r str],
}

impl Reading<'_> {
    /// The usual heading of a term.
    fn heading(&self, term: usize) -> &str {
        self.vocabulary[term].aliases.first().copied().unwrap_or(self.vocabulary[term].fact)
    }
}

/// Cells that say the fact is not known.
const BLANKS: [&str; 9] = ["", "-", "--", "—", "–", "?", "tbd", "n/a", "na"];

/// A name as it is compared: letters and digits in lower case.
pub fn plain(text: &str) -> String {
    if text.is_ascii() {
        return text.chars().filter(char::is_ascii_alphanumeric).map(|c| c.to_ascii_lowercase()).collect();
    }
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Whether a text stands for nothing known.
pub fn is_blank(text: &str) -> bool {
    BLANKS.iter().any(|it| it.eq_ignore_ascii_case(text.trim()))
}

/// Reads a table. `vocabulary` says what columns there can be; `mark` is the index of the term that names the outlet.
/// Refused only where no row of headings is understood.
pub fn read(table: &Table, vocabulary: &[Term], mark: usize) -> Result<Schedule, Diagnostic> {
    read_with(table, &Reading { vocabulary, mark, columns: &Columns::default(), own: &[] })
}

/// Reads a table as a job says. Refused only where no row of headings is understood.
pub fn read_with(table: &Table, reading: &Reading<'_>) -> Result<Schedule, Diagnostic> {
    let headings = headings::find(table, reading)?;
    let mut schedule = Schedule { file: table.file.clone(), ..Schedule::default() };
    schedule.tell(table);
    schedule.heading = Some(headings.row);
    schedule.headings.clone_from(&headings.names);
    let entries = entries::of_table(table, headings, reading, &mut schedule);
    rows::settle(entries, reading, &mut schedule);
    Ok(schedule)
}

impl Schedule {
    /// Takes over what the reader of the file tells.
    fn tell(&mut self, table: &Table) {
        let place = |row: Option<u32>| match row {
            Some(row) => Location::cell(&table.file, row, None),
            None => Location::whole(&table.file),
        };
        self.written.clone_from(&table.about.written);
        for it in &table.about.notes {
            self.notes.push(Noted {
                place: place(it.row),
                text: it.text.as_str().into(),
                what: it.what.into(),
            });
        }
        for it in &table.about.left_out {
            self.unused.push(Unused { place: place(it.row), text: it.text.as_str().into(), why: it.what });
        }
    }
}
