//! Finds the row of headings and what each column is.

use super::plain;
use super::terms::{Reads, Term};
use crate::diag::{Place, Problem};
use crate::input::{Row, Table};
use crate::units::{Unit, find_unit};

/// What a column is: a term, and the unit its heading gives to bare numbers.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    pub term: usize,
    pub unit: Option<&'static Unit>,
}

/// Title blocks above the headings are not longer than this.
const LOOKED_AT: usize = 40;

/// The row of headings and its columns: the first row in which at least two headings are understood, or one where
/// that is all there is.
pub(super) fn find<'t>(table: &'t Table, terms: &[Term]) -> Result<(&'t Row, Vec<Option<Column>>), Problem> {
    let understood = |row: &'t Row| {
        let columns: Vec<_> = row.cells.iter().map(|text| column(text, terms)).collect();
        let found = columns.iter().flatten().count();
        (row, columns, found)
    };
    let mut rows = table.rows.iter().take(LOOKED_AT).map(understood);
    let mut single = None;
    let pair = rows.find(|(_, _, found)| {
        single = single.or((*found == 1).then_some(()));
        *found >= 2
    });
    let pair =
        pair.or_else(|| table.rows.iter().take(LOOKED_AT).map(understood).find(|(_, _, found)| *found == 1));
    pair.map(|(row, columns, _)| (row, columns)).ok_or_else(|| {
        let headings: Vec<&str> =
            terms.iter().filter_map(|term| term.aliases.first().copied()).take(8).collect();
        Problem::new(Place::whole(&table.file), "no row of headings is understood")
            .expected(format!("headings such as {}", headings.join(", ")))
    })
}

fn column(text: &str, terms: &[Term]) -> Option<Column> {
    let heading = plain(text);
    let matches =
        |words: &str| terms.iter().position(|term| term.aliases.iter().any(|alias| plain(alias) == words));
    if let Some(term) = matches(&heading) {
        return Some(Column { term, unit: None });
    }
    // A unit in the heading: `Seat depth (in)`, `Seat depth, mm`.
    let (words, unit) = text.trim().trim_end_matches([')', ']']).rsplit_once(['(', '[', ',', ' '])?;
    let unit = find_unit(unit.trim())?;
    let words = plain(words);
    // "Nominal length in inches" as well as "Nominal length (in)".
    let term = matches(&words).or_else(|| matches(words.strip_suffix("in")?))?;
    // A unit that does not measure what the column states is no unit of it.
    let measures =
        matches!(terms[term].reads, Reads::Quantity { measure, .. } if unit.to_si(1.0, measure).is_some());
    measures.then_some(Column { term, unit: Some(unit) })
}
