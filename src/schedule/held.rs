//! Statements held against a row: what the row orders is in doubt, and the review asks. Nothing is changed by them.

use super::types::{Cell, ReadOptions, Schedule};
use super::unused::Why;
use super::vocabulary::{CellValue, Subject, term_of};
use super::word_source::quoted;
use crate::diag::Location;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Statements by the number of the row they are held against.
#[derive(Debug, Default)]
pub(super) struct Held(BTreeMap<u32, Vec<(Location, Arc<str>, String)>>);

impl Held {
    /// Holds a text against a row; the label says what it is about.
    pub(super) fn add(&mut self, row: u32, label: &str, text: &Arc<str>, location: &Location) {
        let statement = format!("{label}: {}", quoted(text, location));
        let all = self.0.entry(row).or_default();
        if !all.iter().any(|(_, _, known)| *known == statement) {
            all.push((location.clone(), text.clone(), statement));
        }
    }

    /// Makes each a contradiction of its row. Those of other rows are listed.
    pub(super) fn apply(self, options: &ReadOptions<'_>, schedule: &mut Schedule) {
        let term = term_of(Subject::Disagreement, options.vocabulary);
        for (number, all) in self.0 {
            let row = schedule.rows.iter_mut().find(|row| row.number == number);
            let (Some(row), Some(term)) = (row, term) else {
                let unused = all.into_iter().map(|(location, text, _)| Why::HeldAgainst.of(location, text));
                schedule.unused.extend(unused);
                continue;
            };
            let location = all[0].0.clone();
            // What the words of the row contradict comes first, and is not said again.
            let known = row.cells.iter().position(|cell| cell.term == term).map(|at| row.cells.remove(at));
            let is_said = |text: &str, at: &Location| {
                known.as_ref().is_some_and(|it| it.text.contains(&quoted(text, at)))
            };
            let mut statements: Vec<String> = all
                .into_iter()
                .filter(|(at, text, _)| !is_said(text, at))
                .map(|(_, _, statement)| statement)
                .collect();
            statements.splice(0..0, known.map(|cell| cell.text.to_string()));
            let text: Arc<str> = statements.join("; ").into();
            row.cells.push(Cell { term, location, text: text.clone(), value: Some(CellValue::Text(text)) });
            row.cells.sort_by_key(|cell| cell.term);
        }
    }
}
