//! The rows of a table below its headings, cell by cell, before it is settled what they say.

use super::headings::{Column, Headings, Known};
use super::terms::{Reads, Term};
use super::{Reading, Schedule, Unused, is_blank, plain};
use crate::diag::{Diagnostic, Location, nearest};
use crate::input::{Decimals, Flaw, Row, Table};
use crate::units::Unit;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A cell in a column that is understood; never blank.
#[derive(Clone, Debug)]
pub(super) struct Raw {
    pub term: usize,
    pub place: Location,
    pub text: Arc<str>,
    pub unit: Option<&'static Unit>,
    pub flaw: Option<Flaw>,
    /// Whether it is one cell merged over several rows.
    pub merged: bool,
    pub decimals: Decimals,
}

/// A row that says anything.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub number: u32,
    pub place: Location,
    /// In the order of the vocabulary; of two columns for one term, the first in the table first.
    pub cells: Vec<Raw>,
    /// Texts in columns that are not understood.
    pub others: Vec<Arc<str>>,
    /// Whether it is struck through from end to end.
    pub struck: bool,
    /// Whether it says nothing but the headings again.
    pub again: bool,
}

impl Entry {
    pub(super) fn cell(&self, term: usize) -> Option<&Raw> {
        self.cells.iter().find(|it| it.term == term)
    }

    /// What to call the row by: its mark, or its first text.
    pub(super) fn name(&self, mark: usize) -> Arc<str> {
        let first = self.cells.first().map(|it| &it.text);
        self.cell(mark).map(|it| &it.text).or(first).or(self.others.first()).cloned().unwrap_or_default()
    }
}

/// The rows below the headings. Columns that are not understood or not used are told.
pub(super) fn of_table(
    table: &Table,
    mut headings: Headings,
    reading: &Reading<'_>,
    schedule: &mut Schedule,
) -> Vec<Entry> {
    schedule.problems.append(&mut headings.problems);
    let used = used(table, &headings, reading, schedule);
    let downward = Downward::of(table);
    let below = table.rows.iter().filter(|row| row.number > headings.last);
    below.map(|row| entry(table, row, &headings, &used, &downward)).collect()
}

/// Cells merged over several rows: by column, first and last row in order.
struct Downward(BTreeMap<usize, Vec<[u32; 2]>>);

impl Downward {
    fn of(table: &Table) -> Self {
        let mut columns: BTreeMap<usize, Vec<[u32; 2]>> = BTreeMap::new();
        for merge in table.about.merges.iter().filter(|it| it.rows[0] < it.rows[1]) {
            columns.entry(merge.columns[0]).or_default().push(merge.rows);
        }
        columns.values_mut().for_each(|rows| rows.sort_unstable());
        Self(columns)
    }

    fn holds(&self, row: u32, column: usize) -> bool {
        let Some(merges) = self.0.get(&column) else { return false };
        let after = merges.partition_point(|[first, _]| *first <= row);
        after.checked_sub(1).is_some_and(|at| row <= merges[at][1])
    }
}

/// The columns that are read, each with its index, in the order of the vocabulary.
fn used(
    table: &Table,
    headings: &Headings,
    reading: &Reading<'_>,
    schedule: &mut Schedule,
) -> Vec<(usize, Column)> {
    let place = || Location::cell(&table.file, headings.row, None);
    let mut used: Vec<(usize, Column)> = Vec::new();
    for (index, known) in headings.columns.iter().enumerate() {
        let text = &headings.names[index];
        let mut leave = |why| schedule.unused.push(Unused { place: place(), text: text.clone(), why });
        match known {
            Known::Column(column) => {
                let first = used.iter().position(|(_, it)| it.term == column.term);
                let term = &reading.vocabulary[column.term];
                match first {
                    // Two columns of free words need not agree; the one by the more usual name is read.
                    Some(at) if matches!(term.reads, Reads::Text) => {
                        let usual = |index: usize| rank(&headings.names[index], term);
                        let keep_new = usual(index) < usual(used[at].0);
                        let dropped = if keep_new { used[at].0 } else { index };
                        if keep_new {
                            used[at] = (index, *column);
                        }
                        let text = headings.names[dropped].clone();
                        let why = "another column says what this one would; that one is read";
                        schedule.unused.push(Unused { place: place(), text, why });
                    }
                    _ => used.push((index, *column)),
                }
            }
            Known::Ignored => leave("the job leaves this column out"),
            Known::Not if text.is_empty() => {}
            Known::Not => {
                leave("the heading is not understood");
                let aliases = reading.vocabulary.iter().flat_map(|term| term.aliases.iter().copied());
                if let Some(nearest) = nearest(text, aliases) {
                    let mut problem =
                        Diagnostic::new(place(), "is a heading that is not understood").text(&**text);
                    problem.nearest = Some(nearest.to_owned());
                    schedule.problems.push(problem);
                }
            }
        }
    }
    used.sort_by_key(|(index, column)| (column.term, *index));
    used
}

/// How usual a heading is for its term: the vocabulary lists the usual ones first; a job's own name comes before.
fn rank(heading: &str, term: &Term) -> usize {
    term.aliases.iter().position(|alias| plain(alias) == plain(heading)).map_or(0, |at| at + 1)
}

/// Whether two texts are one but for case and punctuation; the first letters settle it nearly always.
fn is_alike(text: &str, heading: &str) -> bool {
    let first = |text: &str| text.chars().find(|c| c.is_alphanumeric()).map(|c| c.to_lowercase().next());
    first(text).is_some() && first(text) == first(heading) && plain(text) == plain(heading)
}

fn entry(
    table: &Table,
    row: &Row,
    headings: &Headings,
    used: &[(usize, Column)],
    downward: &Downward,
) -> Entry {
    let about = &table.about;
    let mut cells = Vec::new();
    let mut again = 0;
    for (index, column) in used {
        let text = row.cell(*index).trim();
        if is_blank(text) {
            continue;
        }
        again += usize::from(is_alike(text, &headings.names[*index]));
        cells.push(Raw {
            term: column.term,
            place: Location::cell(&table.file, row.number, Some(&headings.names[*index])),
            text: text.into(),
            unit: column.unit,
            flaw: about.flaws.get(&(row.number, *index)).copied(),
            merged: downward.holds(row.number, *index),
            decimals: about.decimals,
        });
    }
    let is_other =
        |index: usize| !matches!(headings.columns.get(index), Some(Known::Column(_) | Known::Ignored));
    let others = row.cells.iter().enumerate().filter(|(index, text)| is_other(*index) && !is_blank(text));
    Entry {
        number: row.number,
        place: Location::cell(&table.file, row.number, None),
        again: again >= 2 && again == cells.len(),
        cells,
        others: others.map(|(_, text)| text.trim().into()).collect(),
        struck: about.struck.contains(&row.number),
    }
}
