//! One mark in two rows of one place that are two faucets: a correction below the first row, or a slip. Neither is chosen.
//! At different places a mark may well be ordered in different lengths.

use super::held::Held;
use super::phrases;
use super::text::plain;
use super::types::{Cell, ReadOptions, Row, Schedule};
use super::vocabulary::{Subject, heading_of, term_of};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What tells one faucet from another. Its kind is left out: a sillcock is also called a hose bibb.
const PRODUCT: [Subject; 6] = [
    Subject::Closes,
    Subject::NominalLength,
    Subject::SeatDepth,
    Subject::Barrel,
    Subject::BackflowDevice,
    Subject::BackflowStandard,
];

/// Holds the two rows against each other.
pub(super) fn hold(schedule: &Schedule, options: &ReadOptions<'_>, held: &mut Held) {
    let vocabulary = options.vocabulary;
    let places = [Subject::Location, Subject::Wall, Subject::SpaceBehind].map(|it| term_of(it, vocabulary));
    let product: Vec<usize> = PRODUCT.into_iter().filter_map(|it| term_of(it, vocabulary)).collect();
    let cell = |row: &Row, term: usize| row.cells.iter().position(|cell| cell.term == term);
    // The first row that states each fact, by mark and place.
    let mut first: BTreeMap<(String, [String; 3], usize), (u32, &Cell)> = BTreeMap::new();
    for row in &schedule.rows {
        let Some(mark) = cell(row, options.mark).map(|at| &row.cells[at]) else { continue };
        if !phrases::marks(&mark.text).is_empty() {
            continue;
        }
        let text = |term: Option<usize>| {
            term.and_then(|term| cell(row, term)).map_or_else(String::new, |at| plain(&row.cells[at].text))
        };
        let place = places.map(text);
        for term in &product {
            let Some(own) = cell(row, *term).map(|at| &row.cells[at]) else { continue };
            let Some(value) = &own.value else { continue };
            let key = (plain(&mark.text), place.clone(), *term);
            let (number, other) = *first.entry(key).or_insert((row.number, own));
            if other.value.as_ref().is_some_and(|it| !it.is_compatible(value)) {
                let heading = heading_of(&vocabulary[*term]);
                let label =
                    |row: u32| -> Arc<str> { format!("{heading} of {} in row {row}", mark.text).into() };
                held.add(row.number, &label(number), &other.text, &other.location);
                held.add(number, &label(row.number), &own.text, &own.location);
            }
        }
    }
}
