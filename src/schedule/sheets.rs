//! Finds the sheets of a workbook that are the schedule.

use super::errors::ScheduleError;
use super::general::Marks;
use super::headings;
use super::place::Place;
use super::read::{lines, read_with};
use super::text::plain;
use super::types::{Cell, Noted, ReadOptions, Schedule, Unused};
use super::unused::Why;
use super::vocabulary::{Subject, term_of};
use crate::diag::{Diagnostic, Location, SheetName};
use crate::input::Table;
use std::cmp::Reverse;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A sheet that the job or the command line names.
#[derive(Clone, Copy, Debug)]
pub struct NamedSheet<'w> {
    /// Its name.
    pub name: &'w str,
    /// Where it is named.
    pub location: &'w Location,
    /// What it is the sheet of: `the schedule`.
    pub of: &'static str,
}

impl NamedSheet<'_> {
    /// The error if the file has no sheets.
    pub fn of_no_workbook(&self) -> Diagnostic {
        ScheduleError::NotAWorkbook { of: self.of }.at(self.location.clone()).text(self.name)
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
            error.at(self.location.clone()).text(self.name).nearest(self.name, names)
        })
    }
}

fn name(table: &Table) -> Option<&Arc<str>> {
    table.about.sheet.as_ref().map(|sheet| &sheet.name)
}

fn is_hidden(table: &Table) -> bool {
    table.about.sheet.as_ref().is_some_and(|sheet| sheet.hidden)
}

/// What the sheets of a workbook hold.
#[derive(Debug)]
pub struct Sheets {
    /// The rows of all sheets that are read.
    pub schedule: Schedule,
    /// A sheet that says where the outlets of the schedule go, by their marks.
    pub places: Option<Schedule>,
}

/// Reads the named sheet; or the one with the most known headings, and with it all others that hold outdoor outlets or
/// where those go. Reports the rest.
pub fn choose(
    tables: &[Table],
    named: Option<NamedSheet<'_>>,
    options: &ReadOptions<'_>,
) -> Result<Sheets, Diagnostic> {
    if let Some(named) = named {
        return Ok(Sheets { schedule: read_sheet(named.find(tables)?, options)?, places: None });
    }
    // One known heading may be in a sheet of keys, and does not count where another sheet has more.
    let known = |table: &Table| headings::find(table, options).map_or(0, |headings| headings.known_terms());
    let scores: Vec<usize> = tables.iter().map(known).collect();
    let order = |at: &usize| (scores[*at], !is_hidden(&tables[*at]), Reverse(*at));
    let Some(best) = (0..tables.len()).max_by_key(order) else {
        return Err(ScheduleError::NoTable.at(Location::whole("")));
    };
    let mut sheets = Sheets { schedule: read_sheet(&tables[best], options)?, places: None };
    let Some(text) = name(&tables[best]).filter(|_| tables.len() > 1).cloned() else { return Ok(sheets) };
    let what =
        format!("is the sheet that was read: of {} sheets it has the most known headings", tables.len());
    let location = Location::whole(&tables[best].file);
    sheets.schedule.notes.insert(0, Noted { location: location.clone(), text, what: what.into() });
    let marks = Marks::of_rows(&sheets.schedule, options.mark);
    for (_, (at, table)) in (0..).zip((1..).zip(tables)).filter(|(at, _)| *at != best && scores[*at] < 2) {
        sheets.schedule.unused.extend(lines_with_marks(table, at, &marks));
    }
    let others = (1..).zip(tables.iter().zip(&scores)).enumerate();
    for (_, (number, (table, _))) in others.filter(|(at, (_, (_, score)))| *at != best && **score >= 2) {
        let Some(name) = name(table).cloned() else { continue };
        let sheet = Arc::new(SheetName { number, name: name.clone() });
        match Other::of(table, &sheets.schedule, options) {
            Other::Unused(why) => sheets.schedule.unused.push(why.of(location.clone(), name)),
            Other::Outlets(mut more) => {
                more.locate_on(&sheet);
                let what =
                    format!("is read too: it has outdoor faucets; its rows are those of sheet {number}");
                sheets
                    .schedule
                    .notes
                    .insert(1, Noted { location: location.clone(), text: name, what: what.into() });
                sheets.schedule.append(*more);
            }
            Other::Places(mut places) => {
                places.locate_on(&sheet);
                let what = format!("is read as where the faucets go; its rows are those of sheet {number}");
                places.notes.insert(0, Noted { location: location.clone(), text: name, what: what.into() });
                sheets.places = Some(*places);
            }
        }
    }
    Ok(sheets)
}

/// Lines, text boxes and comments of a sheet that is no schedule that name marks of the one that is read, or speak of what
/// its rows order: an addendum, general notes.
fn lines_with_marks(table: &Table, number: u16, marks: &Marks) -> Vec<Unused> {
    const MOST: usize = 20;
    let sheet = name(table).map(|name| Arc::new(SheetName { number, name: name.clone() }));
    let why = |text: &str| {
        let names_mark = Place::Note.is_about_a_row(text) && !marks.named_in(text).is_empty();
        let speaks = || Place::Note.speaks(text).then_some(Why::GeneralNote);
        if names_mark { Some(Why::NamesMark) } else { speaks() }
    };
    let about = &table.about;
    let drawn = about.left_out.iter().map(|it| (table.location(it.row), it.text.as_str().into()));
    let comments = about.comments.iter();
    let comments = comments.map(|((row, _), text)| (table.location(Some(*row)), text.as_str().into()));
    let listed = lines(table, |_| true).chain(drawn).chain(comments).filter_map(|(location, text)| {
        let why = why(&text)?;
        Some(why.of(Location { sheet: sheet.clone(), ..location }, text))
    });
    listed.take(MOST).collect()
}

/// What a further sheet with known headings is.
enum Other {
    Outlets(Box<Schedule>),
    Places(Box<Schedule>),
    Unused(Why),
}

impl Other {
    fn of(table: &Table, main: &Schedule, options: &ReadOptions<'_>) -> Self {
        if is_hidden(table) {
            return Self::Unused(Why::HiddenSheet);
        }
        if options.select.is_none() {
            return Self::Unused(Why::OtherSheet);
        }
        let marks = |schedule: &Schedule| -> Vec<String> {
            let cells = schedule.rows.iter().filter_map(|row| row.cell(options.mark));
            cells.map(|cell| plain(&cell.text)).collect()
        };
        let known: BTreeSet<String> = marks(main).into_iter().collect();
        let are_known = |schedule: &Schedule| {
            let marks = marks(schedule);
            marks.iter().filter(|mark| known.contains(*mark)).count() * 2 > marks.len()
        };
        let list = read_sheet(table, &ReadOptions { select: None, ..*options });
        if let Ok(places) = list.as_ref()
            && are_known(places)
            && says_only_where(places, options)
            && !says_where(main, options)
        {
            return list.map_or(Self::Unused(Why::OtherSheet), |places| Self::Places(Box::new(places)));
        }
        if !headings::find(table, options).is_ok_and(|it| it.state_facts(options)) {
            return Self::Unused(Why::SheetWithoutOutlets);
        }
        match read_sheet(table, &ReadOptions { is_mixed: true, ..*options }) {
            Ok(more) if more.rows.is_empty() => Self::Unused(Why::SheetWithoutOutlets),
            Ok(more) if are_known(&more) => Self::Unused(Why::SameMarks),
            Ok(more) => Self::Outlets(Box::new(more)),
            Err(_) => Self::Unused(Why::OtherSheet),
        }
    }
}

/// Whether most rows say where they are.
fn says_where(schedule: &Schedule, options: &ReadOptions<'_>) -> bool {
    let Some(location) = term_of(Subject::Location, options.vocabulary) else { return false };
    let count = schedule.rows.iter().filter(|row| row.cell(location).is_some()).count();
    count * 2 > schedule.rows.len()
}

/// Whether rows say where they are, and not what.
fn says_only_where(schedule: &Schedule, options: &ReadOptions<'_>) -> bool {
    const OF_WHAT: [Subject; 7] = [
        Subject::Kind,
        Subject::Description,
        Subject::Closes,
        Subject::NominalLength,
        Subject::SeatDepth,
        Subject::Barrel,
        Subject::BackflowDevice,
    ];
    let is_of_what =
        |cell: &Cell| options.vocabulary[cell.term].subject.is_some_and(|it| OF_WHAT.contains(&it));
    says_where(schedule, options) && !schedule.rows.iter().flat_map(|row| &row.cells).any(is_of_what)
}

fn read_sheet(table: &Table, options: &ReadOptions<'_>) -> Result<Schedule, Diagnostic> {
    let mut schedule = read_with(table, options)?;
    if let Some(text) = name(table).filter(|_| is_hidden(table)).cloned() {
        let what = "is a hidden sheet of the workbook; it is read";
        schedule.notes.push(Noted { location: Location::whole(&table.file), text, what: what.into() });
    }
    Ok(schedule)
}
