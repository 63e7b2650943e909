//! The rows of a table below its headings, cell by cell, before they are read.

use super::errors::ScheduleError;
use super::headings::{Column, Headings, Known, unknown_heading};
use super::over::{Above, Doubt};
use super::remarks;
use super::text::{count_up, is_blank, plain, says_unknown};
use super::types::{ReadOptions, Schedule, Unused};
use super::unused::Why;
use super::vocabulary::{CellType, Subject, Term};
use crate::diag::Location;
use crate::input::{Decimals, Flaw, Row, Table};
use crate::units::Unit;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Where a cell of a row comes from, if it is not the row's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum AddedFrom {
    /// A line that goes on with the row.
    Continued,
    /// A numbered note that the row cites.
    Cited,
    /// A row that this one is the same as, but for what it says itself.
    Inherited,
}

/// A cell in a known column; never blank.
#[derive(Clone, Debug)]
pub(super) struct Raw {
    pub term: usize,
    pub location: Location,
    pub text: Arc<str>,
    pub unit: Option<&'static Unit>,
    pub flaw: Option<Flaw>,
    /// Whether it is one cell merged over several rows.
    pub merged: bool,
    pub decimals: Decimals,
}

/// A row with any text.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub number: u32,
    pub location: Location,
    /// In the order of the vocabulary; of two columns for one term, the first in the table first.
    pub cells: Vec<Raw>,
    /// Texts in unknown columns.
    pub others: Vec<Arc<str>>,
    /// Texts under an unknown heading, or in a second column of a fact, each with its location.
    pub unread: Vec<(Location, Arc<str>)>,
    /// Cells that are not the row's own: lines that go on with it, notes it cites, another row it is the same as.
    pub added: Vec<(Raw, AddedFrom)>,
    /// Comments on its cells in known columns.
    pub comments: Vec<(Location, Arc<str>)>,
    /// What leaves the whole row in doubt and is in none of its cells.
    pub doubts: Vec<Doubt>,
    /// Whether all of it is struck through.
    pub struck: bool,
    /// What a column of removed things says of it.
    pub removed: Option<Arc<str>>,
    /// Whether it repeats the headings and has nothing else.
    pub again: bool,
}

impl Entry {
    pub(super) fn cell(&self, term: usize) -> Option<&Raw> {
        self.cells.iter().find(|raw| raw.term == term)
    }

    /// A cell of a text that is in no known column.
    pub(super) fn raw(&self, term: usize, text: Arc<str>) -> Raw {
        let (location, decimals) = (self.location.clone(), Decimals::Point);
        Raw { term, location, text, unit: None, flaw: None, merged: false, decimals }
    }

    /// The name of the row: its mark, or its first text.
    pub(super) fn name(&self, mark: usize) -> Arc<str> {
        let first = self.cells.first().map(|raw| &raw.text);
        self.cell(mark).map(|raw| &raw.text).or(first).or(self.others.first()).cloned().unwrap_or_default()
    }
}

/// The rows below the headings. Reports unknown and unused columns.
pub(super) fn of_table(
    table: &Table,
    mut headings: Headings,
    options: &ReadOptions<'_>,
    schedule: &mut Schedule,
) -> Vec<Entry> {
    schedule.problems.append(&mut headings.problems);
    let used = used(table, &headings, options, schedule);
    let downward = Downward::of(table);
    let above = Above::of(table, &headings);
    let below = table.rows.iter().filter(|row| row.number > headings.last);
    let entries: Vec<Entry> =
        below.clone().map(|row| entry(table, row, &headings, &used, &downward, &above, options)).collect();
    let of_rows = below.zip(&entries).filter(|(_, entry)| !entry.cells.is_empty()).map(|(row, _)| row);
    schedule.unused.extend(without_heading(table, of_rows, &headings));
    let comments = table.about.comments.iter().map(|((row, column), text)| {
        Why::Comment.of(cell_at(table, *row, *column, &headings), text.as_str())
    });
    schedule.unused.extend(comments);
    entries
}

/// The location of a cell: with the heading of its column, or with the letters of it.
fn cell_at(table: &Table, row: u32, column: usize, headings: &Headings) -> Location {
    let letters = || {
        let (mut text, mut rest) = (String::new(), column + 1);
        while let Some(at) = rest.checked_sub(1) {
            text.insert(0, char::from(b'A' + u8::try_from(at % 26).unwrap_or(0)));
            rest = at / 26;
        }
        Arc::from(text)
    };
    let name = headings.names.get(column).filter(|name| !name.is_empty()).cloned();
    Location::cell(&table.file, row, Some(&name.unwrap_or_else(letters)))
}

/// Cells of rows in columns without a heading: the first text of each column. Numbers that count the rows are no facts.
fn without_heading<'t>(
    table: &Table,
    rows: impl Iterator<Item = &'t Row>,
    headings: &Headings,
) -> Vec<Unused> {
    let is_read = |column: usize| {
        let known = headings.columns.get(column);
        !matches!(known, None | Some(Known::Not))
            || headings.names.get(column).is_some_and(|name| !name.is_empty())
    };
    let mut columns: BTreeMap<usize, Vec<(u32, &str)>> = BTreeMap::new();
    for row in rows {
        for (column, text) in row.cells.iter().enumerate().filter(|(column, _)| !is_read(*column)) {
            let text = text.trim();
            if !is_blank(text) && (says_unknown(text) || text.contains(char::is_alphanumeric)) {
                columns.entry(column).or_default().push((row.number, text));
            }
        }
    }
    let listed = columns.iter().filter(|(_, cells)| !count_up(cells.iter().map(|(_, text)| *text)));
    let first = listed.filter_map(|(column, cells)| Some((*column, cells.first()?)));
    first
        .map(|(column, (row, text))| Why::NoHeading.of(cell_at(table, *row, column, headings), *text))
        .collect()
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
    options: &ReadOptions<'_>,
    schedule: &mut Schedule,
) -> Vec<(usize, Column)> {
    let location = || Location::cell(&table.file, headings.row, None);
    let mut used: Vec<(usize, Column)> = Vec::new();
    let mut of_others: Vec<&str> = Vec::new();
    for (index, (known, text)) in headings.columns.iter().zip(&headings.names).enumerate() {
        let unused = match known {
            Known::Not if text.is_empty() => continue,
            Known::Not => {
                schedule.problems.extend(unknown_heading(text, location(), options.vocabulary));
                (index, Why::UnknownHeading)
            }
            Known::Ignored => (index, Why::IgnoredColumn),
            Known::Removed => continue,
            Known::OfOthers => {
                of_others.push(text);
                continue;
            }
            Known::Second => (index, Why::SecondColumn),
            Known::Column(column) => {
                let term = &options.vocabulary[column.term];
                // All columns of words are read.
                let is_words = matches!(term.subject, Some(Subject::Description | Subject::Notes));
                let is_text = matches!(term.reads, CellType::Text) && !(is_words && options.select.is_some());
                let same = used.iter_mut().find(|(_, other)| is_text && other.term == column.term);
                let Some(same) = same else {
                    used.push((index, *column));
                    continue;
                };
                // Two columns of free words need not agree; the one with the more usual heading is read.
                let rank = |index: usize| rank(&headings.names[index], term);
                let is_more_usual = rank(index) < rank(same.0);
                let dropped = if is_more_usual { std::mem::replace(same, (index, *column)).0 } else { index };
                (dropped, Why::SecondColumn)
            }
        };
        let (index, why) = unused;
        if why == Why::SecondColumn && differs_from_its_like(table, headings, index) {
            let error = ScheduleError::HeadingTwice.at(location());
            schedule.problems.push(error.text(&*headings.names[index]));
        }
        schedule.unused.push(why.of(location(), headings.names[index].clone()));
    }
    if !of_others.is_empty() {
        schedule.unused.push(Why::ColumnsOfOthers.of(location(), of_others.join(", ")));
    }
    used.sort_by_key(|(index, column)| (column.term, *index));
    used
}

/// Whether another column has the same heading and other texts: two tables side by side, or a slip.
fn differs_from_its_like(table: &Table, headings: &Headings, index: usize) -> bool {
    let is_like = |other: &usize| *other != index && headings.names[*other] == headings.names[index];
    let below = || table.rows.iter().filter(|row| row.number > headings.last);
    let differ = |other: usize| {
        below().any(|row| {
            let [one, two] = [row.cell(index), row.cell(other)].map(plain);
            !one.is_empty() && !two.is_empty() && one != two
        })
    };
    (0..headings.names.len()).filter(is_like).any(differ)
}

/// How usual a heading is for its term: the vocabulary lists usual ones first, and a job's own name comes before.
fn rank(heading: &str, term: &Term) -> usize {
    term.aliases.iter().position(|alias| plain(alias) == plain(heading)).map_or(0, |at| at + 1)
}

/// Whether two texts are equal but for case and punctuation. Compares the first letters first, to be fast.
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
    above: &Above,
    options: &ReadOptions<'_>,
) -> Entry {
    let about = &table.about;
    let location = |column: usize| cell_at(table, row.number, column, headings);
    let mut cells = Vec::new();
    let mut again = 0;
    for (index, column) in used {
        let text = row.cell(*index).trim();
        // "TBD" among remarks is a doubt about the row; as a description it says no more than a blank.
        let is_silent = options.is_free_text(column.term)
            && says_unknown(text)
            && !(options.is_notes(column.term) && remarks::is_doubt(text));
        if is_blank(text) || is_silent {
            continue;
        }
        again += usize::from(is_alike(text, &headings.names[*index]));
        cells.push(Raw {
            term: column.term,
            location: Location::cell(&table.file, row.number, Some(&headings.names[*index])),
            text: text.into(),
            unit: column.unit,
            flaw: about.flaws.get(&(row.number, *index)).copied().or(above.flaw(*index)),
            merged: downward.holds(row.number, *index),
            decimals: about.decimals,
        });
    }
    let is_other = |index: usize| {
        let known = headings.columns.get(index);
        !matches!(
            known,
            Some(Known::Column(_) | Known::Ignored | Known::OfOthers | Known::Removed | Known::Second)
        )
    };
    let others = row
        .cells
        .iter()
        .enumerate()
        .filter(|(index, text)| is_other(*index) && !is_blank(text) && !says_unknown(text));
    let has_name = |index: usize| headings.names.get(index).is_some_and(|name| !name.is_empty());
    let is_unread = |index: usize| match headings.columns.get(index) {
        Some(Known::Not | Known::Second) => has_name(index),
        Some(Known::Column(_)) => !used.iter().any(|(it, _)| *it == index),
        _ => false,
    };
    let unread = row.cells.iter().enumerate().filter(|(index, text)| is_unread(*index) && !is_blank(text));
    let columns = headings.columns.iter().enumerate().filter(|(_, known)| matches!(known, Known::Removed));
    let removed = columns.map(|(index, _)| row.cell(index).trim()).find(|text| {
        const NEVER: [&str; 5] = ["none", "no", "n", "false", "aucune"];
        !(is_blank(text) || says_unknown(text) || NEVER.contains(&plain(text).as_str()))
    });
    Entry {
        removed: removed.map(Into::into),
        number: row.number,
        location: Location::cell(&table.file, row.number, None),
        again: again >= 2 && again == cells.len(),
        cells,
        others: others.map(|(_, text)| text.trim().into()).collect(),
        unread: unread.map(|(index, text)| (location(index), text.trim().into())).collect(),
        added: Vec::new(),
        comments: about
            .comments
            .range((row.number, 0)..=(row.number, usize::MAX))
            .filter(|((_, column), _)| used.iter().any(|(index, _)| index == column))
            .map(|((_, column), text)| (location(*column), text.as_str().into()))
            .collect(),
        doubts: above.doubts(table, row),
        struck: about.struck.contains(&row.number),
    }
}

/// The only text of a row, as a cell.
pub(super) fn alone(entry: &Entry, options: &ReadOptions<'_>) -> Option<Raw> {
    match (entry.cells.as_slice(), entry.others.as_slice()) {
        ([raw], []) => Some(raw.clone()),
        ([], [text]) => Some(entry.raw(options.mark, text.clone())),
        // A section of a specification: "2.4 | WALL HYDRANTS".
        ([mark, raw], []) if mark.term == options.mark && is_section(&mark.text, &raw.text) => {
            Some(entry.raw(options.mark, raw.text.clone()))
        }
        _ => None,
    }
}

fn is_section(number: &str, text: &str) -> bool {
    let is_digits = |it: &str| !it.is_empty() && it.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    let is_number = number.split_once('.').is_some_and(|(part, rest)| is_digits(part) && is_digits(rest));
    let is_part = ["part", "section"].iter().any(|it| number.to_lowercase().starts_with(it));
    (is_number || is_part) && !text.chars().any(char::is_lowercase)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_section_of_a_specification_has_a_number_with_points_and_capitals() {
        assert!(is_section("2.4", "WALL HYDRANTS") && is_section("2.4.1", "WALL HYDRANTS"));
        assert!(is_section("PART 2", "PRODUCTS"));
        assert!(!is_section("2.4.1", "Wall hydrants") && !is_section("HB-1.2", "WALL HYDRANTS"));
        assert!(!is_section("24", "WALL HYDRANTS"));
    }
}
