//! Finds the sheet of a workbook that is the schedule.

use super::errors::ScheduleError;
use super::headings;
use super::read::read_with;
use super::types::{Noted, Reading, Schedule};
use super::unused::Why;
use crate::diag::{Diagnostic, Location};
use crate::input::Table;
use std::cmp::Reverse;
use std::sync::Arc;

/// A sheet that the job or the command line names.
#[derive(Clone, Copy, Debug)]
pub struct NamedSheet<'w> {
    /// Its name.
    pub name: &'w str,
    /// Where it is named.
    pub place: &'w Location,
    /// What it is the sheet of: `the schedule`.
    pub of: &'static str,
}

impl NamedSheet<'_> {
    /// The error if the file has no sheets.
    pub fn of_no_workbook(&self) -> Diagnostic {
        ScheduleError::NotAWorkbook { of: self.of }.at(self.place.clone()).text(self.name)
    }

    fn find<'t>(&self, tables: &'t [Table]) -> Result<&'t Table, Diagnostic> {
        let key = |name: &str| name.trim().to_lowercase();
        let is_it = |table: &&Table| name(table).is_some_and(|name| key(name) == key(self.name));
        tables.iter().find(is_it).ok_or_else(|| {
            let names: Vec<&str> = tables.iter().filter_map(name).map(AsRef::as_ref).collect();
            if names.is_empty() {
                return self.of_no_workbook();
            }
            let error = ScheduleError::NoSuchSheet { sheets: names.join(", ") };
            error.at(self.place.clone()).text(self.name).nearest(self.name, names)
        })
    }
}

fn name(table: &Table) -> Option<&Arc<str>> {
    table.about.sheet.as_ref().map(|sheet| &sheet.name)
}

fn is_hidden(table: &Table) -> bool {
    table.about.sheet.as_ref().is_some_and(|sheet| sheet.hidden)
}

/// Reads the named sheet, or the one with the most known headings, and reports the others.
pub fn choose(
    tables: &[Table],
    named: Option<NamedSheet<'_>>,
    reading: &Reading<'_>,
) -> Result<Schedule, Diagnostic> {
    if let Some(named) = named {
        return read_sheet(named.find(tables)?, reading);
    }
    // One known heading may be in a sheet of keys, and does not count where another sheet has more.
    let known = |table: &Table| headings::find(table, reading).map_or(0, |headings| headings.known_terms());
    let scores: Vec<usize> = tables.iter().map(known).collect();
    let order = |at: &usize| (scores[*at], !is_hidden(&tables[*at]), Reverse(*at));
    let Some(best) = (0..tables.len()).max_by_key(order) else {
        return Err(ScheduleError::NoTable.at(Location::whole("")));
    };
    let mut schedule = read_sheet(&tables[best], reading)?;
    let Some(text) = name(&tables[best]).filter(|_| tables.len() > 1).cloned() else { return Ok(schedule) };
    let what =
        format!("is the sheet that was read: of {} sheets it has the most known headings", tables.len());
    let place = Location::whole(&tables[best].file);
    schedule.notes.insert(0, Noted { place: place.clone(), text, what: what.into() });
    for (_, table) in tables.iter().enumerate().filter(|(at, _)| *at != best && scores[*at] >= 2) {
        let why = if is_hidden(table) { Why::HiddenSheet } else { Why::OtherSheet };
        schedule.unused.extend(name(table).map(|name| why.of(place.clone(), name.clone())));
    }
    Ok(schedule)
}

fn read_sheet(table: &Table, reading: &Reading<'_>) -> Result<Schedule, Diagnostic> {
    let mut schedule = read_with(table, reading)?;
    if let Some(text) = name(table).filter(|_| is_hidden(table)).cloned() {
        let what = "is a hidden sheet of the workbook; it is read";
        schedule.notes.push(Noted { place: Location::whole(&table.file), text, what: what.into() });
    }
    Ok(schedule)
}
