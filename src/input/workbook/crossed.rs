//! Lines drawn over a sheet: how people strike out rows on paper. They are no text, and are held against the rows they cross.

use std::collections::{BTreeMap, BTreeSet};

use crate::input::{About, Flaw, Remark};

/// A straight line over cells; bounds are within it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Line {
    pub rows: [u32; 2],
    pub columns: [usize; 2],
    pub role: Role,
}

/// What a line is there for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Role {
    /// It crosses what is under it.
    Across,
    /// It runs along the edge between two rows.
    Edge,
    /// It has an arrowhead.
    Pointer,
}

impl Line {
    /// From one cell to another, each by column and row.
    pub(super) fn between(from: (usize, u32), to: (usize, u32), role: Role) -> Self {
        let rows = [from.1.min(to.1), from.1.max(to.1)];
        Self { rows, columns: [from.0.min(to.0), from.0.max(to.0)], role }
    }

    /// The cell that lies a distance in centimeters from another, if all are of the usual width and height.
    pub(super) fn usual_end(from: (usize, u32), across: f64, down: f64) -> (usize, u32) {
        const WIDTH: f64 = 2.0;
        const HEIGHT: f64 = 0.5;
        let [across, down] = [across / WIDTH, down / HEIGHT].map(|it| it.clamp(0.0, 1e6));
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to a million")]
        let (columns, rows) = (across as usize, down as u32);
        (from.0.saturating_add(columns), from.1.saturating_add(rows))
    }

    /// The only column it crosses.
    fn alone(self) -> Option<usize> {
        (self.columns[0] == self.columns[1]).then_some(self.columns[0])
    }
}

/// Lists the lines over the rows of a sheet, and notes which rows and cells they cross.
pub(super) fn apply(mut lines: Vec<Line>, rows: &BTreeMap<u32, Vec<String>>, about: &mut About) {
    let width = rows.values().map(Vec::len).max().unwrap_or(0);
    // A line beside the table, or one between its columns, strikes nothing out.
    lines.retain(|it| it.columns[0] < width && (it.columns[0] < it.columns[1] || it.rows[0] == it.rows[1]));
    lines.sort_unstable_by_key(|it| (it.rows, it.role, it.alone(), it.columns));
    // Lines through the same rows, or through one cell, are reported once.
    lines.dedup_by_key(|it| (it.rows, it.role, it.alone()));
    // Lines over one another cost no more than one.
    let mut next = 0;
    for line in lines {
        let [first, last] = line.rows;
        let mut over = rows.range(first..=last.max(first)).map(|(row, _)| *row);
        let Some(top) = over.next() else { continue };
        let text = match over.next_back() {
            Some(bottom) => format!("a line across rows {top} to {bottom}"),
            None => format!("a line across row {top}"),
        };
        let aside = match line.role {
            Role::Across => None,
            Role::Edge => Some("is drawn along the edge of the row; nothing is read from it"),
            Role::Pointer => Some("has an arrowhead and points at something; nothing is read from it"),
        };
        if let Some(what) = aside {
            about.left_out.push(Remark::new(Some(top), text, what));
            continue;
        }
        if let Some(column) = line.alone() {
            about.flaws.entry((top, column)).or_insert(Flaw::Crossed);
            continue;
        }
        let what = "is drawn over the sheet; rows that it crosses may be struck out";
        about.left_out.push(Remark::new(Some(top), text, what));
        let new = rows.range(first.max(next)..).map(|(row, _)| *row).take_while(|row| *row <= last);
        about.crossed.extend(new);
        next = next.max(last.saturating_add(1));
    }
}

/// Notes which cells with text have a border from corner to corner, and which rows have it in all of them.
pub(super) fn apply_borders(
    crossed: BTreeMap<u32, BTreeSet<usize>>,
    rows: &BTreeMap<u32, Vec<String>>,
    about: &mut About,
) {
    for (row, columns) in crossed {
        let Some(cells) = rows.get(&row) else { continue };
        let stands = |(column, text): (usize, &String)| !text.is_empty() && !columns.contains(&column);
        if !cells.iter().enumerate().any(stands) {
            about.crossed.insert(row);
        }
        for column in columns {
            about.flaws.entry((row, column)).or_insert(Flaw::Crossed);
        }
    }
}
