//! Answers: a completed sheet of questions. A response fills the blanks of the rows it names, before product data and
//! the job's defaults; a response that cannot be used is reported.

use super::answer_notes::is_doubtful;
use super::answered_rows::{Rows, ranges};
use super::are_outlets::{AreOutlets, choose, is_outlet};
use super::put_answers::{put, put_where_blank};
use super::{Job, Vocabulary, Words};
use crate::diag::{Diagnostic, Diagnostics, Location, shortened};
use crate::input::{Files, Table, tables};
use crate::schedule::{self, Cell, CellType, Row, RowOf, Schedule, Spotted, Term, Unused, plain, read_facts};
use crate::units::find_unit;
use std::collections::{BTreeMap, BTreeSet};
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
const NOTE: usize = 10;
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
    Term { fact: "", aliases, reads: CellType::Text, subject: None }
}

/// The responses of a file.
pub(super) struct Answers {
    /// The file as it was named.
    pub file: Arc<str>,
    pub(super) answers: Vec<Answer>,
    pub(super) problems: Diagnostics,
    pub(super) unused: Vec<Unused>,
    /// Whether they are those of a previous review: the schedule as it is now, and newer answers, come first.
    pub is_carried: bool,
}

#[derive(Clone)]
pub(super) struct Answer {
    /// What it says, as a cell of the schedule.
    pub cell: Cell,
    /// Whether its rows are outdoor outlets, if that is what it says.
    pub is_outlet: Option<bool>,
    pub marks: Option<Cell>,
    pub rows: Option<(Cell, Vec<Rows>)>,
}

impl Answers {
    /// Reads a file: a sheet of questions, or the JSON of a review, whose responses are carried over. A response that cannot be
    /// read is kept as a problem; the others go on.
    pub(super) fn read(path: &str, files: &dyn Files, vocabulary: &Vocabulary) -> Result<Self, Diagnostic> {
        let bytes = files.read(path)?;
        if bytes.trim_ascii_start().starts_with(b"{") {
            return Self::carried(path, &bytes, vocabulary);
        }
        let tables = tables(path, &bytes)?;
        let lacks = |table: &Table| [RESPONSE, FACT].into_iter().find(|index| !has_column(table, *index));
        let table = match tables.iter().find(|it| lacks(it).is_none()) {
            Some(table) => table,
            None => {
                let lacking = tables.first().and_then(lacks).unwrap_or(RESPONSE);
                let what = format!("has no column \"{}\"", SHEET_HEADINGS[lacking]);
                let expected = "a sheet of questions as `--questions` writes it, with responses filled in";
                return Err(Diagnostic::new(Location::whole(path), what).expected(expected));
            }
        };
        let Schedule { file, rows, mut unused, problems, .. } = schedule::read(table, &COLUMNS, usize::MAX)?;
        unused.extend(around(&tables, table));
        unused.extend(rows.iter().filter_map(note_of));
        let mut read = Self { file, answers: Vec::new(), problems, unused, is_carried: false };
        for row in &rows {
            match answers(row, vocabulary) {
                Ok(answers) => read.answers.extend(answers),
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
    ) -> (Diagnostics, Vec<Unused>) {
        let (mut problems, mut unused) = (Diagnostics::new(), Vec::new());
        let outlets = Outlets::of(schedule, words.vocabulary.mark);
        let is_answer = |cell: &Cell| files.iter().any(|it| it.file == cell.location.file);
        let mut chosen = AreOutlets::new();
        for file in files {
            problems.extend(file.problems.iter().cloned());
            unused.extend(file.unused.iter().cloned());
            for answer in &file.answers {
                let mut cell = answer.cell.clone();
                if cell.term == words.vocabulary.wall
                    && let Some(problem) =
                        job.resolve_walls(std::iter::once(&mut cell), &mut schedule.notes).pop()
                {
                    problems.push(problem);
                    continue;
                }
                if file.is_carried {
                    put_where_blank(
                        &cell,
                        &answer.meant(&outlets, &mut Diagnostics::new()),
                        schedule,
                        &mut unused,
                    );
                    continue;
                }
                let meant = answer.meant(&outlets, &mut problems);
                if let Some(is_outlet) = answer.is_outlet {
                    choose(&cell, is_outlet, &meant, &mut chosen, &mut problems, &mut unused);
                    continue;
                }
                put(&cell, &meant, &is_answer, schedule, &mut problems, &mut unused);
            }
        }
        schedule.choose(
            chosen.into_iter().filter_map(|(row, (is_outlet, _))| Some((row, is_outlet?))).collect(),
            words.vocabulary.mark,
        );
        (problems, unused)
    }
}

fn has_column(table: &Table, index: usize) -> bool {
    table.rows.iter().any(|row| row.cells.iter().any(|cell| is_named(cell, index)))
}

fn is_named(cell: &str, index: usize) -> bool {
    COLUMNS[index].aliases.iter().any(|name| plain(name) == plain(cell))
}

/// What stands above the headings of the responses, and other sheets of responses: none is read.
fn around(tables: &[Table], read: &Table) -> Vec<Unused> {
    let unused = |location, text: &str, why| Unused { location, text: text.into(), why };
    let above = read.rows.iter().take_while(|row| !row.cells.iter().any(|cell| is_named(cell, RESPONSE)));
    let above = above.filter_map(|row| {
        let text = row.cells.iter().map(|cell| cell.trim()).find(|cell| !cell.is_empty())?;
        let why = "stands above the responses; nothing is read from it";
        Some(unused(Location::cell(&read.file, row.number, None), text, why))
    });
    let others = tables.iter().filter(|it| !std::ptr::eq(*it, read) && !it.rows.is_empty());
    let others = others.filter_map(|table| {
        let name = &table.about.sheet.as_ref()?.name;
        Some(unused(
            Location::whole(&read.file),
            name,
            "is another sheet; only one sheet of responses is read",
        ))
    });
    above.chain(others).collect()
}

/// The note beside a response that is used: it is for people.
fn note_of(row: &Row) -> Option<Unused> {
    let own = |index: usize| row.cells.iter().find(|it| it.term == index);
    own(RESPONSE).filter(|it| it.value.is_some())?;
    let note = own(NOTE).filter(|note| !is_doubtful(&note.text))?;
    let why = "is a note to a response; nothing is read from it";
    Some(Unused { location: note.location.clone(), text: note.text.clone(), why })
}

/// The answers of a row, one for each fact that its response states; none if it is blank.
fn answers(row: &Row, vocabulary: &Vocabulary) -> Result<Vec<Answer>, Diagnostic> {
    let own = |index: usize| row.cells.iter().find(|it| it.term == index);
    // "TBD" is listed as unknown when the sheet is read.
    let Some(response) = own(RESPONSE).filter(|it| it.value.is_some()) else { return Ok(Vec::new()) };
    let at_response = |what: &str| Diagnostic::new(response.location.clone(), what).text(&*response.text);
    if let Some(note) = own(NOTE).filter(|note| is_doubtful(&note.text)) {
        let what = format!("leaves the response \"{}\" in doubt; it is not used", shortened(&response.text));
        let problem = Diagnostic::new(note.location.clone(), what).text(&*note.text);
        return Err(problem.expected("a response that is final, and a note that only says where it is from"));
    }
    let is_outlet = is_outlet(response, own(FACT))?;
    let (marks, rows) = (own(MARKS).cloned(), rows_of(row)?);
    if marks.is_none() && rows.is_none() {
        return Err(
            at_response("does not name a faucet").expected("marks or rows of the schedule in their columns")
        );
    }
    if is_outlet.is_some() {
        return Ok(vec![Answer { cell: response.clone(), is_outlet, marks, rows }]);
    }
    let fact = own(FACT).ok_or_else(|| {
        at_response("is a response without a fact: the column \"Fact\" of its row is blank")
            .expected("the fact as the sheet of questions had it")
    })?;
    let wanted = plain(&fact.text);
    let is_meant =
        |term: &Term| term.fact == &*fact.text || term.aliases.iter().any(|alias| plain(alias) == wanted);
    let term = vocabulary.iter().position(is_meant).ok_or_else(|| {
        let problem =
            Diagnostic::new(fact.location.clone(), "is not a column a schedule can have").text(&*fact.text);
        let expected = "a schedule's heading; what holds for the whole job goes into the job file";
        problem.expected(expected).nearest(&fact.text, vocabulary.headings())
    })?;
    let reads = &vocabulary[term].reads;
    let unit = own(UNIT).and_then(|it| find_unit(&it.text)).filter(|unit| {
        // A unit that does not measure the fact is no unit of it.
        matches!(reads, CellType::Quantity { measure, .. } if unit.to_si(1.0, *measure).is_some())
    });
    let facts = read_facts(term, &response.text, unit, vocabulary)
        .map_err(|error| error.at(response.location.clone(), &response.text))?;
    let answer = |(term, value)| {
        let cell = Cell { term, value: Some(value), ..response.clone() };
        Answer { cell, is_outlet, marks: marks.clone(), rows: rows.clone() }
    };
    Ok(facts.into_iter().map(answer).collect())
}

/// The rows that an answer names.
fn rows_of(row: &Row) -> Result<Option<(Cell, Vec<Rows>)>, Diagnostic> {
    let Some(rows) = row.cells.iter().find(|it| it.term == ROWS) else { return Ok(None) };
    let error = || {
        let error = Diagnostic::new(rows.location.clone(), "does not name rows of faucets").text(&*rows.text);
        error.expected("rows such as 2, 5 to 9, or place rows 2, 3")
    };
    Ok(Some((rows.clone(), ranges(&rows.text).ok_or_else(error)?)))
}

/// The rows of a schedule, to be found by mark and by number.
struct Outlets {
    /// Indices by mark in lower case; by `row 7` if there is none.
    by_mark: BTreeMap<String, Vec<usize>>,
    /// Indices by where people look them up: several entries of a list may stand on one line.
    by_number: BTreeMap<Spotted, Vec<usize>>,
}

/// Marks as an answer names them, each with its rows; none for a mark there is not.
type Marked<'t, 'o> = Vec<(&'t str, Option<&'o [usize]>)>;

impl Outlets {
    fn of(schedule: &Schedule, mark: usize) -> Self {
        let mut outlets = Self { by_mark: BTreeMap::new(), by_number: BTreeMap::new() };
        for (index, row) in schedule.rows.iter().enumerate() {
            let own = row.cells.iter().find(|cell| cell.term == mark);
            let own = own.map_or_else(|| row.name(), |cell| cell.text.to_lowercase());
            outlets.by_mark.entry(own).or_default().push(index);
            outlets.by_number.entry(row.spotted(&schedule.file)).or_default().push(index);
        }
        outlets
    }

    /// Marks parted by semicolons or commas. A mark may have a comma in it.
    fn marked<'t>(&self, text: &'t str) -> Marked<'t, '_> {
        let look = |mark: &'t str| (mark, self.by_mark.get(&mark.to_lowercase()).map(Vec::as_slice));
        let parts = |text: &'t str, by: &'static [char]| {
            text.split(by).map(str::trim).filter(|part| !part.is_empty())
        };
        let mut found = Vec::new();
        for several in parts(text, &[';', '\n']) {
            match look(several) {
                whole @ (_, Some(_)) => found.push(whole),
                _ => found.extend(parts(several, &[',']).map(look)),
            }
        }
        found
    }

    /// The rows of numbers, and the numbers, or ends of their ranges, at which no outlet stands.
    fn numbered(&self, ranges: &[Rows]) -> (BTreeSet<usize>, BTreeSet<Spotted>) {
        let (mut found, mut unknown) = (BTreeSet::new(), BTreeSet::new());
        for (of, rows) in ranges {
            let [first, last] = [*rows.start(), *rows.end()].map(|number| Spotted { of: *of, number });
            found.extend(self.by_number.range(first..=last).flat_map(|(_, indices)| indices));
            unknown.extend([first, last].into_iter().filter(|it| !self.by_number.contains_key(it)));
        }
        (found, unknown)
    }
}

impl Answer {
    /// The rows it applies to: those with one of its marks and one of its row numbers, if it names both. A mark or number
    /// that matches no row is reported; if none matches, the answer is listed as not used.
    fn meant(&self, outlets: &Outlets, problems: &mut Diagnostics) -> BTreeSet<usize> {
        let numbered = self.rows.as_ref().map(|(cell, ranges)| (cell, outlets.numbered(ranges)));
        let marked = self.marks.as_ref().map(|cell| (cell, outlets.marked(&cell.text)));
        let of_marks = marked.as_ref().map(|(_, marks)| -> BTreeSet<usize> {
            marks.iter().filter_map(|(_, rows)| *rows).flatten().copied().collect()
        });
        let meant = match (&of_marks, &numbered) {
            (Some(marked), Some((_, (numbered, _)))) => numbered & marked,
            (Some(rows), None) | (None, Some((_, (rows, _)))) => rows.clone(),
            (None, None) => BTreeSet::new(),
        };
        let mut tell = |problem: Diagnostic| {
            if problem.nearest.is_some() || !meant.is_empty() {
                problems.push(problem);
            }
        };
        for (cell, mark) in marked.iter().flat_map(|(cell, marks)| marks.iter().map(move |it| (cell, it))) {
            let (mark, rows) = *mark;
            match (rows, &numbered) {
                (None, _) => {
                    let problem =
                        Diagnostic::new(cell.location.clone(), "is not a mark of the schedule").text(mark);
                    tell(problem.nearest(mark, outlets.by_mark.keys().map(String::as_str)));
                }
                // Fewer marks beside all the rows, or fewer rows beside all the marks, is a question split in two.
                (Some(rows), Some((_, (numbered, _))))
                    if !rows.iter().any(|it| meant.contains(it)) && !numbered.is_subset(&meant) =>
                {
                    let what = "is in none of the rows named, and other marks are; it is not answered";
                    let problem = Diagnostic::new(cell.location.clone(), what).text(mark);
                    tell(problem.expected("marks and rows of the same schedule"));
                }
                _ => {}
            }
        }
        for (cell, it) in numbered.iter().flat_map(|(cell, (_, none))| none.iter().map(move |it| (cell, it)))
        {
            let others = [RowOf::Schedule, RowOf::Places, RowOf::Job].map(|of| Spotted { of, ..*it });
            let mut problem =
                Diagnostic::new(cell.location.clone(), "is not a row of a faucet").text(it.to_string());
            problem.nearest =
                others.iter().find(|it| outlets.by_number.contains_key(it)).map(|it| it.to_string().into());
            tell(problem);
        }
        meant
    }
}
