//! What is known about a table besides its texts: unreliable cells, merged cells, hidden parts.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::diag::{Diagnostic, Location};

/// Information about the rows of a table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    /// The sheet of a workbook.
    pub sheet: Option<Sheet>,
    /// How the file writes decimals.
    pub decimals: Decimals,
    /// How a text table is written, if not in the usual way: `semicolons`, `Windows-1252`, `decimal commas`.
    pub written: Vec<&'static str>,
    /// Cells with an unreliable text, by row number and column from 0.
    pub flaws: BTreeMap<(u32, usize), Flaw>,
    /// Comments on cells, by row number and column from 0.
    pub comments: BTreeMap<(u32, usize), String>,
    /// Cells merged into one.
    pub merges: Vec<Merge>,
    /// Rows all of whose cells are struck through.
    pub struck: BTreeSet<u32>,
    /// Rows that a drawn line crosses.
    pub crossed: BTreeSet<u32>,
    /// Texts drawn over the sheet, and words for pictures, each with the row of its upper edge, if it has one.
    pub drawn: Vec<(Option<u32>, String)>,
    /// Texts printed above and below the sheet.
    pub margins: BTreeSet<String>,
    /// Notes about how it was read.
    pub notes: Vec<Remark>,
    /// What was skipped.
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
    /// With a point; a comma between digits is ambiguous.
    #[default]
    Point,
    /// With a comma: the separator is another character and there are numbers such as `0,75`.
    Comma,
}

/// Why the text of a cell is unreliable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flaw {
    /// A date, perhaps converted from a fraction.
    Date,
    /// An error of the spreadsheet's own, such as `#REF!`.
    Error,
    /// A formula saved without its result.
    NoResult,
    /// Struck through in a row that otherwise stands.
    Struck,
    /// Under a heading that is struck through.
    UnderStruck,
    /// A line is drawn over it alone.
    Crossed,
    /// It shows another text than the workbook holds for it.
    Differs,
    /// The last text of a file that ends within its last line.
    CutOff,
}

impl Flaw {
    /// The diagnostic at the location of the text.
    pub fn problem(self, location: Location, text: &str) -> Diagnostic {
        let (what, expected) = match self {
            Self::Date => (
                "is a date in the workbook; spreadsheets turn fractions such as 3/4 into dates, and the \
                 original text is lost",
                "the cell formatted as text and typed again, such as 3/4 in",
            ),
            Self::Error => ("is an error of the spreadsheet, not a value", "the value itself"),
            Self::NoResult => (
                "is a formula saved without its result",
                "the workbook opened and saved in a spreadsheet, or the value itself",
            ),
            Self::Struck => (
                "is struck through in a row that is not; it is unclear whether it applies",
                "the value that applies",
            ),
            Self::UnderStruck => (
                "is under a heading that is struck through; it is unclear whether it applies",
                "the column without the line through its heading, or left out",
            ),
            Self::Crossed => {
                ("has a line drawn over it; it is unclear whether it applies", "the value that applies")
            }
            Self::Differs => (
                "is shown in a cell that holds another text; it is unclear which applies",
                "the cell typed again",
            ),
            Self::CutOff => (
                "is where the file ends, in a row that is shorter than the others; it may be cut off",
                "the whole file, with the end of its last line",
            ),
        };
        Diagnostic::new(location, what).text(text).expected(expected)
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

/// A note of a reader.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// The row, if it is about one.
    pub row: Option<u32>,
    /// The text.
    pub text: String,
    /// The note; completes a sentence that starts with the text.
    pub what: &'static str,
}

impl Remark {
    /// Of a row, or of the whole file.
    pub fn new(row: Option<u32>, text: impl Into<String>, what: &'static str) -> Self {
        Self { row, text: text.into(), what }
    }
}
