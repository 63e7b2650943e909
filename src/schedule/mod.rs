//! A fixture schedule: raw cells matched to the terms of a vocabulary that the caller gives. One bad cell is one
//! located problem and a cell without a value; the rest goes on.

mod description;
mod doubt;
mod fall;
mod from_words;
mod headings;
mod leftover;
mod patterns;
mod terms;

pub use description::{Heard, hear};
pub use patterns::{PATTERNS, Pattern};
pub use terms::{Read, Reads, Term, read_cell};

use crate::diag::{Place, Problem};
use crate::input::Table;
use crate::units::Unit;
use std::sync::Arc;

/// A cell that says something about an outlet.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Which term of the vocabulary, by index.
    pub term: usize,
    /// Where it stands.
    pub place: Place,
    /// What stands there.
    pub text: Arc<str>,
    /// What it says; `None` where that was a problem.
    pub value: Option<Read>,
}

/// A row that is an outlet.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// As the spreadsheet numbers it.
    pub number: u32,
    /// The cells that are not blank, in the order of the vocabulary.
    pub cells: Vec<Cell>,
}

/// A schedule as it was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct Schedule {
    /// The file as the person named it.
    pub file: Arc<str>,
    /// The rows that are outlets.
    pub rows: Vec<Row>,
    /// What was not used: columns nobody understood, rows that are no outlets.
    pub unused: Vec<Unused>,
    /// Every cell and column with a problem.
    pub problems: Vec<Problem>,
}

/// Something in the schedule that the review does not use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unused {
    /// Where it stands.
    pub place: Place,
    /// What stands there.
    pub text: Arc<str>,
    /// Why it is not used.
    pub why: &'static str,
}

/// Cells that say the fact is not known.
const BLANKS: [&str; 9] = ["", "-", "--", "—", "–", "?", "tbd", "n/a", "na"];

/// A name as it is compared: letters and digits in lower case.
pub fn plain(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Whether a text stands for nothing known.
pub fn is_blank(text: &str) -> bool {
    BLANKS.contains(&text.trim().to_lowercase().as_str())
}

/// Whether what stands in the mark's column starts a total, or stands alone and is too long a text for a mark: a title
/// or a note that runs across the sheet.
fn is_no_mark(text: &str, cells: usize) -> bool {
    const TOTALS: [&str; 6] = ["total", "totals", "subtotal", "subtotals", "grand total", "sum"];
    const LONGEST_MARK: usize = 16;
    let word = text.trim().trim_end_matches([':', '.']).to_lowercase();
    TOTALS.contains(&word.as_str()) || (cells == 1 && text.chars().count() > LONGEST_MARK)
}

/// Reads a table. `vocabulary` says what columns there can be; `mark` is the index of the term that names the outlet.
/// Refused only where no row of headings is understood.
pub fn read(table: &Table, vocabulary: &[Term], mark: usize) -> Result<Schedule, Problem> {
    let (heading, columns) = headings::find(table, vocabulary)?;
    let mut schedule =
        Schedule { file: table.file.clone(), rows: Vec::new(), unused: Vec::new(), problems: Vec::new() };
    let mut used: Vec<(usize, usize, Option<&'static Unit>)> = Vec::new();
    for (index, column) in columns.iter().enumerate() {
        let text = heading.cell(index).trim();
        let place = || Place::cell(&table.file, heading.number, None);
        match column {
            Some(found) => match used.iter().find(|(_, term, _)| *term == found.term) {
                Some((first, ..)) => {
                    let other = heading.cell(*first).trim();
                    let what = format!("is a second column for what \"{other}\" says; it is not used");
                    schedule.problems.push(Problem::new(place(), what).text(text));
                }
                None => used.push((index, found.term, found.unit)),
            },
            None if text.is_empty() => {}
            None => {
                let aliases = vocabulary.iter().flat_map(|term| term.aliases.iter().copied());
                let nearest = crate::diag::nearest(text, aliases);
                let why = "the heading is not understood";
                schedule.unused.push(Unused { place: place(), text: text.into(), why });
                if let Some(nearest) = nearest {
                    let mut problem = Problem::new(place(), "is a heading that is not understood").text(text);
                    problem.nearest = Some(nearest.to_owned());
                    schedule.problems.push(problem);
                }
            }
        }
    }
    used.sort_by_key(|(_, term, _)| *term);
    let names: Vec<Arc<str>> = (0..columns.len()).map(|index| heading.cell(index).trim().into()).collect();
    for row in table.rows.iter().skip_while(|row| row.number <= heading.number) {
        let mut cells = Vec::new();
        for &(index, term, unit) in &used {
            let text = row.cell(index).trim();
            if is_blank(text) {
                continue;
            }
            let place = Place::cell(&table.file, row.number, Some(&names[index]));
            let value = match read_cell(&vocabulary[term].reads, text, unit) {
                Ok(value) => Some(value),
                Err(refused) => {
                    schedule.problems.push(refused.at(place.clone(), text));
                    None
                }
            };
            cells.push(Cell { term, place, text: text.into(), value });
        }
        match cells.as_slice() {
            [] => {}
            [first, ..] if first.term == mark && is_no_mark(&first.text, cells.len()) => {
                let (place, text) = (Place::cell(&table.file, row.number, None), first.text.clone());
                schedule.unused.push(Unused {
                    place,
                    text,
                    why: "the row is a total, a title or a note, not an outlet",
                });
            }
            _ => schedule.rows.push(Row { number: row.number, cells }),
        }
    }
    from_words::add(&mut schedule, vocabulary);
    Ok(schedule)
}
