//! Answers: a sheet of questions that came back filled in. A response holds for the rows it names that say nothing
//! themselves, before product data and the job's defaults; a response that cannot be used is told.

use super::products::same;
use super::{Job, Words};
use crate::diag::{Place, Problem, shortened};
use crate::input::{Files, Table, tables};
use crate::schedule::{self, Cell, Reads, Row, Schedule, Term, Unused, plain, read_cell};
use crate::units::find_unit;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::RangeInclusive;
use std::sync::Arc;

/// Headings of the sheet of questions, in their order; answers are read by them, in any order.
pub const SHEET_HEADINGS: [&str; 12] = [
    "No.",
    "Question",
    "Outlet type",
    "Marks",
    "Rows",
    "Settles",
    "Possible answers",
    "Unit",
    "What turns on it",
    "Response",
    "Note",
    "Fact",
];
const MARKS: usize = 3;
const ROWS: usize = 4;
const UNIT: usize = 7;
const RESPONSE: usize = 9;
const FACT: usize = 11;
/// The columns of the sheet, and what else people call them.
static COLUMNS: [Term; SHEET_HEADINGS.len()] = [
    column(&["No.", "Number", "Item"]),
    column(&["Question"]),
    column(&["Outlet type"]),
    column(&["Marks", "Mark"]),
    column(&["Rows", "Row"]),
    column(&["Settles"]),
    column(&["Possible answers"]),
    column(&["Unit", "Units"]),
    column(&["What turns on it"]),
    column(&["Response", "Answer"]),
    column(&["Note", "Notes", "Comment", "Comments", "Remarks"]),
    column(&["Fact"]),
];

const fn column(aliases: &'static [&'static str]) -> Term {
    Term { fact: "", aliases, reads: Reads::Text }
}

/// The responses of a file.
pub(super) struct Answers {
    /// The file as it was named.
    pub file: Arc<str>,
    answers: Vec<Answer>,
    problems: Vec<Problem>,
    unused: Vec<Unused>,
}

struct Answer {
    /// What it says, as a cell of the schedule.
    cell: Cell,
    marks: Option<Cell>,
    rows: Option<Vec<RangeInclusive<u32>>>,
}

impl Answers {
    /// Reads a file. A response that cannot be read is kept as a problem; the others go on.
    pub(super) fn read(path: &str, files: &dyn Files, vocabulary: &[Term]) -> Result<Self, Problem> {
        let bytes = files.read(path)?;
        let tables = tables(path, &bytes)?;
        let lacks = |table: &Table| [RESPONSE, FACT].into_iter().find(|index| !has_column(table, *index));
        let table = match tables.iter().find(|it| lacks(it).is_none()) {
            Some(table) => table,
            None => {
                let lacking = tables.first().and_then(lacks).unwrap_or(RESPONSE);
                let what = format!("has no column \"{}\"", SHEET_HEADINGS[lacking]);
                let expected = "a sheet of questions as `--questions` writes it, with responses filled in";
                return Err(Problem::new(Place::whole(path), what).expected(expected));
            }
        };
        let Schedule { file, rows, unused, problems, .. } = schedule::read(table, &COLUMNS, usize::MAX)?;
        let mut read = Self { file, answers: Vec::new(), problems, unused };
        for row in &rows {
            match answer(row, vocabulary) {
                Ok(answer) => read.answers.extend(answer),
                Err(problem) => read.problems.push(problem),
            }
        }
        Ok(read)
    }

    /// Puts what is answered into the rows of a schedule, files in their order. Returns what is wrong, and what is not
    /// used.
    pub(super) fn put(
        files: &[Self],
        schedule: &mut Schedule,
        job: &Job,
        words: &Words<'_>,
    ) -> (Vec<Problem>, Vec<Unused>) {
        let (mut problems, mut unused) = (Vec::new(), Vec::new());
        let outlets = Outlets::of(schedule, words.mark);
        for file in files {
            problems.extend(file.problems.iter().cloned());
            unused.extend(file.unused.iter().cloned());
            for answer in &file.answers {
                let mut cell = answer.cell.clone();
                if words.vocabulary[cell.term].fact == "outlet.wall"
                    && let Err(problem) = job.read_wall(&mut cell)
                {
                    problems.push(problem);
                    continue;
                }
                let meant = answer.meant(&outlets, &mut problems);
                put(&cell, &meant, schedule, &mut problems, &mut unused);
            }
        }
        (problems, unused)
    }
}

fn has_column(table: &Table, index: usize) -> bool {
    let names = COLUMNS[index].aliases;
    let is_named = |cell: &String| names.iter().any(|name| plain(name) == plain(cell));
    table.rows.iter().any(|row| row.cells.iter().any(is_named))
}

/// The answer of a row; none where its response is blank.
fn answer(row: &Row, vocabulary: &[Term]) -> Result<Option<Answer>, Problem> {
    let own = |index: usize| row.cells.iter().find(|it| it.term == index);
    let Some(response) = own(RESPONSE) else { return Ok(None) };
    let at_response = |what: &str| Problem::new(response.place.clone(), what).text(&*response.text);
    let fact = own(FACT).ok_or_else(|| {
        at_response("does not say what it answers")
            .expected("the column \"Fact\" as the sheet of questions had it")
    })?;
    let wanted = plain(&fact.text);
    let is_meant =
        |term: &Term| term.fact == &*fact.text || term.aliases.iter().any(|alias| plain(alias) == wanted);
    let term = vocabulary.iter().position(is_meant).ok_or_else(|| {
        let aliases = vocabulary.iter().flat_map(|term| term.aliases.iter().copied());
        let problem =
            Problem::new(fact.place.clone(), "is not a column a schedule can have").text(&*fact.text);
        let expected = "a schedule's heading; what holds for the whole job goes into the job file";
        problem.expected(expected).nearest(&fact.text, aliases)
    })?;
    let reads = &vocabulary[term].reads;
    let unit = own(UNIT).and_then(|it| find_unit(&it.text)).filter(|unit| {
        // A unit that does not measure the fact is no unit of it.
        matches!(reads, Reads::Quantity { measure, .. } if unit.to_si(1.0, *measure).is_some())
    });
    let value = read_cell(reads, &response.text, unit)
        .map_err(|refused| refused.at(response.place.clone(), &response.text))?;
    let rows = own(ROWS).map(|it| {
        ranges(&it.text).ok_or_else(|| {
            let problem =
                Problem::new(it.place.clone(), "does not name rows of the schedule").text(&*it.text);
            problem.expected("rows such as 2, 5 to 9")
        })
    });
    let (marks, rows) = (own(MARKS).cloned(), rows.transpose()?);
    if marks.is_none() && rows.is_none() {
        return Err(at_response("names no outlet").expected("marks or rows of the schedule in their columns"));
    }
    let cell = Cell { term, value: Some(value), ..response.clone() };
    Ok(Some(Answer { cell, marks, rows }))
}

/// "rows 2, 5 to 9" or "2; 5-9".
fn ranges(text: &str) -> Option<Vec<RangeInclusive<u32>>> {
    let text = text.to_lowercase().replace("rows", " ").replace("row", " ").replace("and", ",");
    let parts = text.split([',', ';', '\n']).map(str::trim).filter(|part| !part.is_empty());
    let ranges = parts.map(|part| {
        let ends = part.split_once("to").or_else(|| part.split_once(['-', '–'])).unwrap_or((part, part));
        Some(ends.0.trim().parse().ok()?..=ends.1.trim().parse().ok()?)
    });
    ranges.collect()
}

/// The rows of a schedule, to be found by mark and by number.
struct Outlets {
    /// Indices by mark in lower case; by `row 7` where there is none.
    by_mark: BTreeMap<String, Vec<usize>>,
    by_number: BTreeMap<u32, usize>,
}

impl Outlets {
    fn of(schedule: &Schedule, mark: usize) -> Self {
        let mut outlets = Self { by_mark: BTreeMap::new(), by_number: BTreeMap::new() };
        for (index, row) in schedule.rows.iter().enumerate() {
            let own = row.cells.iter().find(|cell| cell.term == mark);
            let own = own.map_or_else(|| format!("row {}", row.number), |cell| cell.text.to_lowercase());
            outlets.by_mark.entry(own).or_default().push(index);
            outlets.by_number.insert(row.number, index);
        }
        outlets
    }

    /// The rows of marks parted by semicolons or commas, and the marks there are not. A mark may have a comma in it.
    fn marked<'t>(&self, text: &'t str) -> (BTreeSet<usize>, Vec<&'t str>) {
        let (mut found, mut unknown) = (BTreeSet::new(), Vec::new());
        let mut look = |mark: &str| {
            let rows = self.by_mark.get(&mark.to_lowercase());
            found.extend(rows.into_iter().flatten());
            rows.is_some()
        };
        let parts = |text: &'t str, by: &'static [char]| {
            text.split(by).map(str::trim).filter(|part| !part.is_empty())
        };
        for several in parts(text, &[';', '\n']) {
            if !look(several) {
                unknown.extend(parts(several, &[',']).filter(|mark| !look(mark)));
            }
        }
        (found, unknown)
    }
}

impl Answer {
    /// The rows it is for: those that have one of its marks and one of its numbers, where it names both.
    fn meant(&self, outlets: &Outlets, problems: &mut Vec<Problem>) -> BTreeSet<usize> {
        let numbered = self.rows.as_ref().map(|ranges| {
            let ranges = ranges.iter().filter(|range| !range.is_empty());
            let rows = ranges.flat_map(|range| outlets.by_number.range(range.clone()));
            rows.map(|(_, index)| *index).collect::<BTreeSet<usize>>()
        });
        let Some(marks) = &self.marks else { return numbered.unwrap_or_default() };
        let (marked, unknown) = outlets.marked(&marks.text);
        let meant = match numbered {
            Some(numbered) => &numbered & &marked,
            None => marked,
        };
        for mark in unknown {
            let problem = Problem::new(marks.place.clone(), "is not a mark of the schedule").text(mark);
            let problem = problem.nearest(mark, outlets.by_mark.keys().map(String::as_str));
            // An answer for outlets that are no longer there is listed as not used.
            if problem.nearest.is_some() || !meant.is_empty() {
                problems.push(problem);
            }
        }
        meant
    }
}

/// Puts an answer into the rows it is for. What the schedule states stands; a cell that could not be read gives way.
fn put(
    answer: &Cell,
    meant: &BTreeSet<usize>,
    schedule: &mut Schedule,
    problems: &mut Vec<Problem>,
    unused: &mut Vec<Unused>,
) {
    let mut is_used = false;
    let mut otherwise: Vec<(u32, Cell)> = Vec::new();
    for index in meant {
        let Some(row) = schedule.rows.get_mut(*index) else { continue };
        match row.cells.iter_mut().find(|it| it.term == answer.term) {
            None => {
                let at = row.cells.partition_point(|it| it.term < answer.term);
                row.cells.insert(at, answer.clone());
                is_used = true;
            }
            Some(own) => match (&own.value, &answer.value) {
                (Some(value), Some(said)) if same(value, said) => {
                    // Said by two answers.
                    is_used |= own.place.file != schedule.file;
                }
                (Some(_), _) => otherwise.push((row.number, own.clone())),
                (None, _) => {
                    *own = answer.clone();
                    is_used = true;
                }
            },
        }
    }
    let not_used = |why| Unused { place: answer.place.clone(), text: answer.text.clone(), why };
    if let Some((number, own)) = otherwise.first() {
        let more = match otherwise.len() - 1 {
            0 => String::new(),
            1 => " and 1 more".into(),
            more => format!(" and {more} more"),
        };
        let text = shortened(&own.text);
        let what = if own.place.file == schedule.file {
            format!(
                "is not what the schedule states in row {number}{more}, \"{text}\"; the schedule's is used"
            )
        } else {
            format!("is not what {} answers for row {number}{more}, \"{text}\"; that is used", own.place)
        };
        problems.push(Problem::new(answer.place.clone(), what).text(&*answer.text));
    } else if meant.is_empty() {
        unused.push(not_used("no outlet of the schedule has these marks and rows"));
    } else if !is_used {
        unused.push(not_used("the schedule states it already"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_read_as_the_sheet_writes_them_and_as_people_do() {
        assert_eq!(ranges("row 7"), Some(vec![7..=7]));
        for text in ["rows 2, 5 to 9", "2; 5-9", "2 and 5–9"] {
            assert_eq!(ranges(text), Some(vec![2..=2, 5..=9]), "{text}");
        }
        assert_eq!(ranges("2-Jan"), None);
    }
}
