//! A schedule as it was read: rows, cells, notes, what is not used, errors.

use super::columns::Columns;
use super::unused::Aside;
use super::vocabulary::{CellValue, Subject, Term, heading_of};
use crate::diag::{Diagnostics, Location, SheetName};
use crate::input::{self, Table};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A cell with a fact of an outlet.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Which term of the vocabulary, by index.
    pub term: usize,
    /// Its location.
    pub location: Location,
    /// Its text.
    pub text: Arc<str>,
    /// Its value; `None` if it could not be read.
    pub value: Option<CellValue>,
}

/// A row that is an outlet.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// As the spreadsheet numbers it.
    pub number: u32,
    /// The cells that are not blank, in the order of the vocabulary.
    pub cells: Vec<Cell>,
    /// Its location, if it is not on the main sheet of the schedule: in a list of places, or on another sheet.
    pub at: Option<Location>,
}

impl Row {
    /// The first cell of a term.
    pub(super) fn cell(&self, term: usize) -> Option<&Cell> {
        self.cells.iter().find(|cell| cell.term == term)
    }

    /// Its location; `file` is the schedule's.
    pub fn location(&self, file: &Arc<str>) -> Location {
        self.at.clone().unwrap_or_else(|| Location::cell(file, self.number, None))
    }
}

/// The rows of a table as they are written.
#[derive(Clone, Debug, PartialEq)]
pub struct AsWritten {
    /// The sheet, if it is not the main one.
    pub sheet: Option<Arc<SheetName>>,
    /// The heading of each column, on one line.
    pub headings: Vec<Arc<str>>,
    /// The rows below the headings.
    pub rows: Arc<[input::Row]>,
}

/// A schedule as it was read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Schedule {
    /// The file as the person named it.
    pub file: Arc<str>,
    /// The row of headings, as the spreadsheet numbers it, if there is one.
    pub heading: Option<u32>,
    /// How a text file is written, if not in the usual way: `semicolons`, `decimal commas`.
    pub written: Vec<&'static str>,
    /// Its headings, each on one line.
    pub headings: Vec<Arc<str>>,
    /// The tables it was read from, as they are written; none for a schedule in YAML.
    pub written_tables: Vec<AsWritten>,
    /// The rows that are outlets.
    pub rows: Vec<Row>,
    /// Notes about how it was read: dittos, hidden rows, the sheet.
    pub notes: Vec<Noted>,
    /// What is not used: unknown columns, words, rows that were taken out.
    pub unused: Vec<Unused>,
    /// The rows that are not outdoor outlets.
    pub rows_set_aside: Vec<SetAside>,
    /// The rows among the outlets that may not be one.
    pub doubtful_rows: Vec<MayBe>,
    /// All errors and warnings.
    pub problems: Diagnostics,
}

/// Something in the schedule that the review does not use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unused {
    /// Its location.
    pub location: Location,
    /// Its text.
    pub text: Arc<str>,
    /// Why it is not used.
    pub why: &'static str,
}

/// A note about how the schedule was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noted {
    /// Its location.
    pub location: Location,
    /// Its text.
    pub text: Arc<str>,
    /// The note; completes the sentence that starts with the text.
    pub what: Arc<str>,
}

/// How to read a schedule.
#[derive(Clone, Copy, Debug)]
pub struct ReadOptions<'r> {
    /// The columns there can be.
    pub vocabulary: &'r [Term],
    /// The term of the mark, by index.
    pub mark: usize,
    /// What the job says of headings.
    pub columns: &'r Columns,
    /// Facts of a single row: "same as HB-1" does not copy them.
    pub own: &'r [&'r str],
    /// Whether there are other things than outlets in the table even if no row names one.
    pub is_mixed: bool,
    /// Set if the table also has rows that are no outdoor outlets: what the job says of them.
    pub select: Option<&'r Chosen>,
}

/// Rows that a job or an answer includes or sets aside, whatever they say: marks, or numbers of rows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chosen {
    /// Rows that are outlets.
    pub include: Vec<ChosenRow>,
    /// Rows that are not.
    pub set_aside: Vec<ChosenRow>,
}

/// A mark, or the number of a row, and where it is named.
#[derive(Clone, Debug, PartialEq)]
pub struct ChosenRow {
    /// The mark or number.
    pub name: Arc<str>,
    /// Where it is named.
    pub location: Location,
}

/// A row that is reviewed as an outdoor outlet and may not be one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MayBe {
    /// Its location.
    pub location: Location,
    /// Its mark, if it has one.
    pub mark: Option<Arc<str>>,
    /// Its mark and its name.
    pub text: Arc<str>,
    /// Why it may not be one; completes the sentence that starts with the text.
    pub why: &'static str,
}

/// A row that is not an outdoor outlet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetAside {
    /// Its location.
    pub location: Location,
    /// Its mark and its name.
    pub text: Arc<str>,
    /// Why it is set aside.
    pub reason: Aside,
}

impl ReadOptions<'_> {
    /// Whether a term is the mark or free words, of which "TBD" says no more than a blank. Anything else is then unknown.
    pub(super) fn is_free_text(&self, term: usize) -> bool {
        let subject = self.vocabulary[term].subject;
        term == self.mark || matches!(subject, Some(Subject::Description | Subject::Notes))
    }

    pub(super) fn is_notes(&self, term: usize) -> bool {
        self.vocabulary[term].subject == Some(Subject::Notes)
    }

    /// The usual heading of a term.
    pub(super) fn heading(&self, term: usize) -> &str {
        heading_of(&self.vocabulary[term])
    }
}

impl Schedule {
    /// Adds what another sheet of the workbook holds.
    pub(super) fn append(&mut self, more: Self) {
        self.headings.extend(more.headings);
        self.written_tables.extend(more.written_tables);
        self.rows.extend(more.rows);
        self.notes.extend(more.notes);
        self.unused.extend(more.unused);
        self.rows_set_aside.extend(more.rows_set_aside);
        self.doubtful_rows.extend(more.doubtful_rows);
        self.problems.extend(more.problems);
    }

    /// Keeps rows, by index, or sets them aside as a person says; what was asked of them is answered.
    pub(crate) fn choose(&mut self, chosen: BTreeMap<usize, bool>, mark: usize) {
        for (index, is_outlet) in chosen.into_iter().rev() {
            let location = self.rows[index].location(&self.file);
            let asked = self
                .doubtful_rows
                .iter()
                .position(|it| it.location == location)
                .map(|at| self.doubtful_rows.remove(at));
            let is_of_row = |it: &Location| {
                it.file == location.file
                    && it.sheet == location.sheet
                    && it.line_or_row() == location.line_or_row()
            };
            self.problems.retain(|it| {
                let is_asked = asked.as_ref().is_some_and(|asked| it.text.as_deref() == Some(&*asked.text));
                !(is_of_row(&it.location) && (is_asked || !is_outlet))
            });
            if !is_outlet {
                let row = self.rows.remove(index);
                let of_mark = row.cell(mark).map_or_else(|| row.name().into(), |cell| cell.text.clone());
                let text = asked.map_or(of_mark, |asked| asked.text);
                self.rows_set_aside.push(SetAside { location, text, reason: Aside::Stated });
            }
        }
        self.rows_set_aside.sort_by_key(|it| {
            (it.location.sheet.as_ref().map(|sheet| sheet.number), it.location.line_or_row())
        });
    }

    /// Says in every location on which sheet it is.
    pub(super) fn locate_on(&mut self, sheet: &Arc<SheetName>) {
        let file = self.file.clone();
        self.written_tables.iter_mut().for_each(|table| table.sheet = Some(sheet.clone()));
        let rows = self.rows.iter_mut().flat_map(|row| {
            row.at = Some(row.location(&file));
            row.at.iter_mut().chain(row.cells.iter_mut().map(|cell| &mut cell.location))
        });
        let said = self.notes.iter_mut().map(|it| &mut it.location);
        let said = said.chain(self.unused.iter_mut().map(|it| &mut it.location));
        let said = said.chain(self.rows_set_aside.iter_mut().map(|it| &mut it.location));
        let said = said.chain(self.doubtful_rows.iter_mut().map(|it| &mut it.location));
        let said = said.chain(self.problems.iter_mut().map(|it| &mut it.location));
        rows.chain(said).for_each(|location| location.sheet = Some(sheet.clone()));
    }

    /// Adds the notes of the reader of the file.
    pub(super) fn add_notes_of(&mut self, table: &Table) {
        self.written.clone_from(&table.about.written);
        for note in &table.about.notes {
            self.notes.push(Noted {
                location: table.location(note.row),
                text: note.text.as_str().into(),
                what: note.what.into(),
            });
        }
        for skipped in &table.about.left_out {
            self.unused.push(Unused {
                location: table.location(skipped.row),
                text: skipped.text.as_str().into(),
                why: skipped.what,
            });
        }
    }
}
