//! Finds the headings of a table, in one line or two, with a line of units below them; and what each column is.

use super::columns::{Meant, term_named};
use super::terms::{Reads, Term};
use super::{Reading, plain};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Row, Table};
use crate::units::{Unit, find_unit};
use std::collections::BTreeSet;
use std::sync::Arc;

/// What a column is: a term, and the unit its heading gives to bare numbers.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    pub term: usize,
    pub unit: Option<&'static Unit>,
}

/// What is known of a column.
#[derive(Clone, Copy, Debug)]
pub(super) enum Known {
    Column(Column),
    /// The job leaves it out.
    Ignored,
    /// Nobody understands its heading.
    Not,
}

/// The headings of a table.
#[derive(Debug)]
pub(super) struct Headings {
    /// The row they stand in; the first of two.
    pub row: u32,
    /// The last row that belongs to them, units included.
    pub last: u32,
    /// Each column's heading, on one line.
    pub names: Vec<Arc<str>>,
    pub columns: Vec<Known>,
    /// Units below a heading that do not measure what the column states.
    pub problems: Diagnostics,
}

impl Headings {
    /// How many different terms are understood.
    pub(super) fn understood(&self) -> usize {
        let terms = self.columns.iter().filter_map(|it| match it {
            Known::Column(column) => Some(column.term),
            Known::Ignored | Known::Not => None,
        });
        terms.collect::<BTreeSet<_>>().len()
    }
}

/// Title blocks above the headings are not longer than this.
const LOOKED_AT: usize = 40;
/// Words over a group of headings that do not change what they say.
const GROUPS: [&str; 8] =
    ["outlet", "outlets", "fixture", "hydrant", "hose bibb", "general", "identification", "schedule"];

/// The headings: the first row, or two, in which at least two are understood, or one where that is all there is.
pub(super) fn find(table: &Table, reading: &Reading<'_>) -> Result<Headings, Diagnostic> {
    let rows = &table.rows[..table.rows.len().min(LOOKED_AT)];
    let mut single = None;
    for (at, row) in rows.iter().enumerate() {
        let mut found = one_line(row, reading);
        let next = table.rows.get(at + 1);
        if let Some(next) = next {
            let both = two_lines(table, row, next, reading);
            let alone = one_line(next, reading).understood();
            // Of two lines only where neither says as much by itself.
            if both.understood() > found.understood().max(alone) {
                found = both;
            }
        }
        if found.understood() >= 2 {
            units_below(table, &mut found, reading.vocabulary);
            return Ok(found);
        }
        if found.understood() == 1 && single.is_none() {
            single = Some(found);
        }
    }
    if let Some(mut found) = single {
        units_below(table, &mut found, reading.vocabulary);
        return Ok(found);
    }
    let terms = reading.vocabulary;
    let headings: Vec<&str> = terms.iter().filter_map(|term| term.aliases.first().copied()).take(8).collect();
    let place = Location::whole(&table.file);
    Err(Diagnostic::new(place, "no row of headings is understood")
        .expected(format!("headings such as {}", headings.join(", "))))
}

fn one_line(row: &Row, reading: &Reading<'_>) -> Headings {
    let names: Vec<Arc<str>> = row.cells.iter().map(|text| on_one_line(text)).collect();
    let columns = names.iter().map(|name| known(name, reading)).collect();
    Headings { row: row.number, last: row.number, names, columns, problems: Diagnostics::new() }
}

/// Two lines as one: what is merged across above stands over each column below.
fn two_lines(table: &Table, upper: &Row, lower: &Row, reading: &Reading<'_>) -> Headings {
    let width = upper.cells.len().max(lower.cells.len());
    let (mut names, mut columns) = (Vec::new(), Vec::new());
    let merges: Vec<_> = table.about.merges.iter().filter(|it| it.rows[0] == upper.number).collect();
    for column in 0..width {
        let merged = merges.iter().find(|it| it.holds(upper.number, column));
        let above = upper.cell(merged.map_or(column, |it| it.columns[0])).trim();
        let below = lower.cell(column).trim();
        let mut name = on_one_line(&format!("{above} {below}"));
        // A heading merged over both lines is one heading.
        if plain(above) == plain(below)
            || GROUPS.contains(&above.to_lowercase().as_str()) && !below.is_empty()
        {
            name = on_one_line(below);
        }
        columns.push(known(&name, reading));
        names.push(name);
    }
    Headings { row: upper.number, last: lower.number, names, columns, problems: Diagnostics::new() }
}

fn on_one_line(text: &str) -> Arc<str> {
    text.split_whitespace().collect::<Vec<_>>().join(" ").into()
}

/// What a column of counts may have in a line of units.
const COUNTED_IN: [&str; 4] = ["ea", "each", "pc", "pcs"];

/// A row of nothing but units gives them to the columns that have none.
fn units_below(table: &Table, headings: &mut Headings, terms: &[Term]) {
    let Some(row) = table.rows.iter().find(|row| row.number > headings.last) else { return };
    let units: Vec<Option<&'static Unit>> = row.cells.iter().map(|text| bare_unit(text)).collect();
    let counts = |index: usize, text: &str| {
        let is_count = |it: &Column| matches!(terms[it.term].reads, Reads::Count);
        matches!(headings.columns.get(index), Some(Known::Column(it)) if is_count(it))
            && COUNTED_IN.contains(&super::plain(text).as_str())
    };
    let all = row
        .cells
        .iter()
        .enumerate()
        .all(|(index, text)| units[index].is_some() || super::is_blank(text) || counts(index, text));
    if !all || units.iter().all(Option::is_none) {
        return;
    }
    headings.last = row.number;
    for (index, unit) in units.into_iter().enumerate() {
        let (Some(unit), Some(Known::Column(column))) = (unit, headings.columns.get_mut(index)) else {
            continue;
        };
        if column.unit.is_none() && measures(terms, column.term, unit) {
            column.unit = Some(unit);
        } else if column.unit.is_none() {
            let place = Location::cell(&table.file, row.number, headings.names.get(index));
            let problem = Diagnostic::new(place, "is no unit of what this column states");
            headings.problems.push(problem.text(row.cell(index).trim()));
        }
    }
}

fn bare_unit(text: &str) -> Option<&'static Unit> {
    find_unit(text.trim().trim_matches(['(', ')', '[', ']']).trim_end_matches('.').trim())
}

/// A unit that does not measure what a column states is no unit of it.
fn measures(terms: &[Term], term: usize, unit: &Unit) -> bool {
    matches!(terms[term].reads, Reads::Quantity { measure, .. } if unit.to_si(1.0, measure).is_some())
}

pub(super) fn known(text: &str, reading: &Reading<'_>) -> Known {
    match reading.columns.of(text) {
        Some(Meant::Ignored) => Known::Ignored,
        Some(Meant::Term(term)) => Known::Column(Column { term, unit: with_unit(text, reading, Some(term)) }),
        None => column(text, reading).map_or(Known::Not, Known::Column),
    }
}

/// The unit that ends a heading of the term.
fn with_unit(text: &str, reading: &Reading<'_>, term: Option<usize>) -> Option<&'static Unit> {
    let (_, unit) = split_unit(text)?;
    term.filter(|term| measures(reading.vocabulary, *term, unit)).map(|_| unit)
}

/// A unit in the heading: `Seat depth (in)`, `Seat depth, mm`.
fn split_unit(text: &str) -> Option<(&str, &'static Unit)> {
    let (words, unit) = text.trim().trim_end_matches([')', ']']).rsplit_once(['(', '[', ',', ' '])?;
    Some((words, find_unit(unit.trim())?))
}

fn column(text: &str, reading: &Reading<'_>) -> Option<Column> {
    let matches = |words: &str| match reading.columns.of(words) {
        Some(Meant::Term(term)) => Some(term),
        Some(Meant::Ignored) => None,
        None => term_named(words, reading.vocabulary),
    };
    if let Some(term) = matches(text) {
        return Some(Column { term, unit: None });
    }
    let (words, unit) = split_unit(text)?;
    // "Nominal length in inches" as well as "Nominal length (in)".
    let term = matches(words).or_else(|| matches(plain(words).strip_suffix("in")?))?;
    measures(reading.vocabulary, term, unit).then_some(Column { term, unit: Some(unit) })
}
