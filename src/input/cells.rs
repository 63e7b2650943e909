//! Raw tables: rows of texts, numbered as a spreadsheet numbers them.

use super::about::About;
use crate::diag::Location;
use std::sync::Arc;

/// The rows of a table with content.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// The file as the person named it.
    pub file: Arc<str>,
    /// The rows in order, the heading among them.
    pub rows: Vec<Row>,
    /// More about it.
    pub about: About,
}

/// A row of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The number a spreadsheet shows beside it: from 1; blank rows count, line breaks within quotes do not.
    pub number: u32,
    /// The cells, unquoted. A row may have fewer or more than the heading. Shared: a schedule keeps its rows as written.
    pub cells: Arc<[String]>,
}

impl Table {
    /// A row, or the whole file.
    pub fn location(&self, row: Option<u32>) -> Location {
        match row {
            Some(row) => Location::cell(&self.file, row, None),
            None => Location::whole(&self.file),
        }
    }
}

impl Row {
    /// The text of a cell, counted from 0; empty past the end of the row.
    pub fn cell(&self, column: usize) -> &str {
        self.cells.get(column).map_or("", String::as_str)
    }
}
