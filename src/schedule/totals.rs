//! Totals: whether a row that adds up counts has the sum of the rows above it. If it has not, a row is missing or a count
//! is wrong.

use super::cell::read_cell;
use super::entries::{Entry, Raw};
use super::errors::ScheduleError;
use super::types::ReadOptions;
use super::vocabulary::{CellType, CellValue, Subject, term_of};
use crate::diag::Diagnostics;
use std::collections::BTreeSet;

/// The counts of a table, from above.
#[derive(Default)]
pub(super) struct Counts {
    /// Each with the number of its row and whether that stands; `None` where it is not known.
    rows: Vec<Option<Counted>>,
    /// The totals, each with how many rows are above it.
    totals: Vec<(usize, Raw)>,
}

struct Counted {
    row: u32,
    count: f64,
    stands: bool,
}

impl Counts {
    /// Notes the count of a row; `stands` is false for one that is struck through or deleted.
    pub(super) fn add(&mut self, entry: &Entry, stands: bool, options: &ReadOptions<'_>) {
        let count = own(entry, options).and_then(number);
        self.rows.push(count.map(|count| Counted { row: entry.number, count, stands }));
    }

    /// Notes a total.
    pub(super) fn add_total(&mut self, entry: &Entry, options: &ReadOptions<'_>) {
        self.totals.extend(own(entry, options).map(|raw| (self.rows.len(), raw.clone())));
    }

    /// Reports each total that is the sum neither of all rows above it nor of those since the last one, of outlets alone
    /// or with other fixtures, with or without those that are taken out. Where a count is not known, nothing is said.
    pub(super) fn check(&self, outlets: &BTreeSet<u32>, problems: &mut Diagnostics) {
        let mut start = 0;
        for (end, raw) in &self.totals {
            let parts = [&self.rows[..*end], &self.rows[start..*end]];
            start = *end;
            let Some(total) = number(raw) else { continue };
            let sums: Vec<f64> = parts.into_iter().flat_map(|rows| sums(rows, outlets)).collect();
            if let Some(sum) = sums.first().filter(|_| !sums.contains(&total)) {
                let error = ScheduleError::TotalDiffers { sum: *sum };
                problems.push(error.at(raw.location.clone()).text(&*raw.text));
            }
        }
    }
}

/// The cell of a row's count.
fn own<'e>(entry: &'e Entry, options: &ReadOptions<'_>) -> Option<&'e Raw> {
    term_of(Subject::Quantity, options.vocabulary).and_then(|term| entry.cell(term))
}

/// A count, if the cell states one.
fn number(raw: &Raw) -> Option<f64> {
    match read_cell(&CellType::Count, &raw.text, None) {
        Ok(CellValue::Quantity(count)) if raw.flaw.is_none() => Some(count.is),
        _ => None,
    }
}

/// What a total of these rows may be; nothing if a count is not known.
fn sums(rows: &[Option<Counted>], outlets: &BTreeSet<u32>) -> Vec<f64> {
    let known: Option<Vec<&Counted>> = rows.iter().map(Option::as_ref).collect();
    let Some(known) = known.filter(|it| !it.is_empty()) else { return Vec::new() };
    let of = |is_meant: &dyn Fn(&Counted) -> bool| {
        known.iter().filter(|it| is_meant(it)).map(|it| it.count).sum::<f64>()
    };
    vec![of(&|it| it.stands), of(&|_| true), of(&|it| it.stands && outlets.contains(&it.row))]
}
