//! Reads a schedule from a table.

use super::columns::Columns;
use super::text::is_blank;
use super::types::{AsWritten, ReadOptions, Schedule};
use super::vocabulary::Term;
use super::{entries, headings, rows};
use crate::diag::{Diagnostic, Location};
use crate::input::Table;
use std::sync::Arc;

/// Reads a table. `vocabulary` has the columns there can be; `mark` is the index of the term of the mark. An error only
/// if no row of headings is found.
pub fn read(table: &Table, vocabulary: &[Term], mark: usize) -> Result<Schedule, Diagnostic> {
    read_with(
        table,
        &ReadOptions {
            vocabulary,
            mark,
            columns: &Columns::default(),
            own: &[],
            is_mixed: false,
            select: None,
        },
    )
}

/// Reads a table as a job says. An error only if no row of headings is found.
pub fn read_with(table: &Table, options: &ReadOptions<'_>) -> Result<Schedule, Diagnostic> {
    let headings = headings::find(table, options)?;
    let mut schedule = Schedule { file: table.file.clone(), ..Schedule::default() };
    schedule.add_notes_of(table);
    schedule.heading = Some(headings.row);
    schedule.headings.clone_from(&headings.names);
    let below = table.rows.iter().filter(|row| row.number > headings.last);
    schedule.written_tables.push(AsWritten {
        sheet: None,
        headings: headings.names.clone(),
        rows: below.cloned().collect(),
    });
    let above = above(table, headings.row);
    let entries = entries::of_table(table, headings, options, &mut schedule);
    rows::add(entries, above, options, &mut schedule);
    Ok(schedule)
}

/// The lines above the headings, each with its cells on one line.
fn above(table: &Table, row: u32) -> Vec<(Location, Arc<str>)> {
    let rows = table.rows.iter().take_while(|it| it.number < row);
    let lines = rows.map(|row| {
        let mut cells: Vec<&str> = row.cells.iter().map(|it| it.trim()).filter(|it| !is_blank(it)).collect();
        // A title merged over columns may stand in each.
        cells.dedup();
        (Location::cell(&table.file, row.number, None), Arc::from(cells.join(" ")))
    });
    lines.filter(|(_, text): &(_, Arc<str>)| !text.is_empty()).collect()
}
