//! Which sheet of a workbook is the schedule.

use super::{Noted, Reading, Schedule, Unused, headings, read_with};
use crate::diag::{Diagnostic, Location};
use crate::input::Table;
use std::cmp::Reverse;

/// A sheet that somebody names.
#[derive(Clone, Copy, Debug)]
pub struct NamedSheet<'w> {
    /// Its name.
    pub name: &'w str,
    /// Where that stands.
    pub place: &'w Location,
    /// What it is named of: `the schedule`.
    pub of: &'w str,
}

impl NamedSheet<'_> {
    /// The problem where that has no sheets.
    pub fn of_no_workbook(&self) -> Diagnostic {
        let what = format!("names a sheet, and {} is no workbook", self.of);
        Diagnostic::new(self.place.clone(), what).text(self.name)
    }
}

/// Reads the sheet named, or the one in which most headings are understood; the others are told.
pub fn choose(
    tables: &[Table],
    named: Option<NamedSheet<'_>>,
    reading: &Reading<'_>,
) -> Result<Schedule, Diagnostic> {
    let name = |table: &Table| table.about.sheet.as_ref().map(|it| it.name.clone());
    let is_hidden = |table: &Table| table.about.sheet.as_ref().is_some_and(|it| it.hidden);
    if let Some(it) = named {
        let NamedSheet { name: wanted, place, .. } = it;
        let names: Vec<_> = tables.iter().filter_map(name).collect();
        let is_it = |table: &&Table| {
            name(table).is_some_and(|it| it.trim().to_lowercase() == wanted.trim().to_lowercase())
        };
        let table = tables.iter().find(is_it).ok_or_else(|| {
            if names.is_empty() {
                return it.of_no_workbook();
            }
            Diagnostic::new(place.clone(), "is not a sheet with anything in it of the workbook")
                .text(wanted)
                .expected(names.join(", "))
                .nearest(wanted, names.iter().map(AsRef::as_ref))
        })?;
        let mut schedule = read_with(table, reading)?;
        schedule.note_hidden(table);
        return Ok(schedule);
    }
    let understood = |table: &Table| headings::find(table, reading).map_or(0, |it| it.understood());
    let scores: Vec<usize> = tables.iter().map(understood).collect();
    let order = |at: &usize| (scores[*at], !is_hidden(&tables[*at]), Reverse(*at));
    // The first row of a key sheet may well be a heading: one alone is no schedule where another has more.
    let Some(best) = (0..tables.len()).max_by_key(order) else {
        return Err(Diagnostic::new(Location::whole(""), "there is no table"));
    };
    let table = &tables[best];
    let mut schedule = read_with(table, reading)?;
    schedule.note_hidden(table);
    let Some(taken) = name(table).filter(|_| tables.len() > 1) else { return Ok(schedule) };
    let what = format!(
        "is the sheet that was read: of {} sheets it has the most headings that are understood",
        tables.len()
    );
    let place = Location::whole(&table.file);
    schedule.notes.insert(0, Noted { place: place.clone(), text: taken, what: what.into() });
    for (at, other) in tables.iter().enumerate().filter(|(at, _)| *at != best && scores[*at] >= 2) {
        let Some(text) = name(&tables[at]) else { continue };
        let why = if is_hidden(other) {
            "a hidden sheet that looks like a schedule too; name it to have it reviewed"
        } else {
            "a sheet that looks like a schedule too; name it to have it reviewed"
        };
        schedule.unused.push(Unused { place: place.clone(), text, why });
    }
    Ok(schedule)
}

impl Schedule {
    fn note_hidden(&mut self, table: &Table) {
        if let Some(sheet) = table.about.sheet.as_ref().filter(|it| it.hidden) {
            let what = "is a sheet that the workbook hides; it is read all the same";
            let place = Location::whole(&table.file);
            self.notes.push(Noted { place, text: sheet.name.clone(), what: what.into() });
        }
    }
}
