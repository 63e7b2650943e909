//! What a reader has to tell of a table besides its texts: cells not to be trusted, merged cells, what was hidden.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::diag::{Diagnostic, Location};

/// What goes with the rows of a table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    /// The sheet of a workbook.
    pub sheet: Option<Sheet>,
    /// How the file writes decimals.
    pub decimals: Decimals,
    /// How a table of text is written, where not the usual way: `semicolons`, `Windows-1252`, `decimal commas`.
    pub written: Vec<&'static str>,
    /// Cells whose text is not what somebody meant, by row number and column from 0.
    pub flaws: BTreeMap<(u32, usize), Flaw>,
    /// Cells merged into one.
    pub merges: Vec<Merge>,
    /// Rows all of whose cells are struck through.
    pub struck: BTreeSet<u32>,
    /// How it was read, where that is worth telling.
    pub notes: Vec<Remark>,
    /// What the file holds that was not read.
    pub left_out: Vec<Remark>,
}

/// A sheet of a workbook.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Its name.
    pub name: Arc<str>,
    /// Whether the workbook hides it.
    pub hidden: bool,
}

/// How a file writes decimals.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Decimals {
    /// With a point; a comma between digits is not plain.
    #[default]
    Point,
    /// With a comma, plainly: other signs separate its cells and it has such numbers as `0,75`.
    Comma,
}

/// Why the text of a cell is not what somebody meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flaw {
    /// A date, which a spreadsheet makes of a fraction.
    Date,
    /// An error of the spreadsheet's own, such as `#REF!`.
    Error,
    /// A formula saved without its result.
    NoResult,
    /// Struck through in a row that otherwise stands.
    Struck,
}

impl Flaw {
    /// The problem it is at a place where a text stands.
    pub fn problem(self, place: Location, text: &str) -> Diagnostic {
        let (what, expected) = match self {
            Self::Date => (
                "is a date in the workbook; a spreadsheet makes dates of fractions such as 3/4, and what was typed is \
                 not known",
                "the cell formatted as text and typed anew, such as 3/4 in",
            ),
            Self::Error => ("is an error of the spreadsheet, not a value", "the value itself"),
            Self::NoResult => (
                "is a formula saved without its result",
                "the workbook opened and saved in a spreadsheet, or the value itself",
            ),
            Self::Struck => (
                "is struck through in a row that is not; whether it holds is not known",
                "the value that holds",
            ),
        };
        Diagnostic::new(place, what).text(text).expected(expected)
    }
}

/// A rectangle of cells merged into one; bounds are within it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Merge {
    /// First and last row number.
    pub rows: [u32; 2],
    /// First and last column, from 0.
    pub columns: [usize; 2],
}

impl Merge {
    /// Whether a cell is part of it.
    pub fn holds(&self, row: u32, column: usize) -> bool {
        (self.rows[0]..=self.rows[1]).contains(&row) && (self.columns[0]..=self.columns[1]).contains(&column)
    }
}

/// Something a reader tells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// The row, where it is of one.
    pub row: Option<u32>,
    /// What stands there.
    pub text: String,
    /// What is told of it; completes a sentence that starts with the text.
    pub what: &'static str,
}

impl Remark {
    /// Of a row, or of the whole file.
    pub fn new(row: Option<u32>, text: impl Into<String>, what: &'static str) -> Self {
        Self { row, text: text.into(), what }
    }
}
