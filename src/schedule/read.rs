//! Reads a schedule from a table.

use super::columns::Columns;
use super::types::{AsWritten, ReadOptions, Schedule};
use super::vocabulary::Term;
use super::{entries, headings, rows};
use crate::diag::Diagnostic;
use crate::input::Table;

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
    let entries = entries::of_table(table, headings, options, &mut schedule);
    rows::add(entries, options, &mut schedule);
    Ok(schedule)
}
