//! Reads a schedule from a table.

use super::columns::Columns;
use super::errors::ScheduleError;
use super::place::Place;
use super::text::is_blank;
use super::types::{AsWritten, ReadOptions, Schedule};
use super::vocabulary::Term;
use super::{entries, headings, over, rows};
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
    let mut outside: Vec<_> = lines(table, |row| row < headings.row)
        .map(|(location, text)| (location, text, Place::Above))
        .collect();
    outside.extend(over::whole_sheet(table));
    let second = options.select.and_then(|_| headings::second(table, &headings, options));
    if let Some(start) = second {
        let mut below = lines(table, |row| row >= start);
        if let Some((location, text)) = below.next() {
            schedule.problems.push(ScheduleError::SecondTable.at(location).text(&*text));
        }
        outside.extend(below.map(|(location, text)| (location, text, Place::OtherTable)));
    }
    let first = second.map(|start| {
        let rows = table.rows.iter().filter(|row| row.number < start).cloned().collect();
        Table { rows, ..table.clone() }
    });
    let entries = entries::of_table(first.as_ref().unwrap_or(table), headings, options, &mut schedule);
    rows::add(entries, outside, options, &mut schedule);
    Ok(schedule)
}

/// The rows of a table with some numbers, each with its cells on one line.
pub(super) fn lines(
    table: &Table,
    is_meant: impl Fn(u32) -> bool,
) -> impl Iterator<Item = (Location, Arc<str>)> {
    table.rows.iter().filter(move |row| is_meant(row.number)).filter_map(|row| {
        let mut cells: Vec<&str> = row.cells.iter().map(|it| it.trim()).filter(|it| !is_blank(it)).collect();
        // A title merged over columns may stand in each.
        cells.dedup();
        let text: Arc<str> = cells.join(" ").into();
        (!text.is_empty()).then(|| (Location::cell(&table.file, row.number, None), text))
    })
}
