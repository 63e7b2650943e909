//! One mark in two rows of one place that are two faucets: a correction below the first row, or a slip. Neither is chosen.
//! At different places a mark may well be ordered in different lengths. And a row that comes twice, and would be ordered
//! twice.

use super::held::Held;
use super::phrases;
use super::text::plain;
use super::types::{Cell, ReadOptions, Row, Schedule};
use super::vocabulary::{CellValue, Subject, heading_of, term_of};
use std::collections::{BTreeMap, BTreeSet};

/// What tells one faucet from another. Its kind is left out: a sillcock is also called a hose bibb.
const PRODUCT: [Subject; 6] = [
    Subject::Closes,
    Subject::NominalLength,
    Subject::SeatDepth,
    Subject::Barrel,
    Subject::BackflowDevice,
    Subject::BackflowStandard,
];

/// A mark, its place and a term.
type Key = (String, [String; 3], usize);

fn is_several(quantity: Option<&Cell>) -> bool {
    let value = quantity.and_then(|cell| cell.value.as_ref());
    matches!(value, Some(CellValue::Quantity(quantity)) if quantity.is > 1.0)
}

/// Holds the two rows against each other. One mark merged over several rows is meant to be in each.
pub(super) fn hold(schedule: &Schedule, merged: &BTreeSet<u32>, options: &ReadOptions<'_>, held: &mut Held) {
    let vocabulary = options.vocabulary;
    let places = [Subject::Location, Subject::Wall, Subject::SpaceBehind].map(|it| term_of(it, vocabulary));
    let product: Vec<usize> = PRODUCT.into_iter().filter_map(|it| term_of(it, vocabulary)).collect();
    // The rows that state each fact, by mark and place.
    let mut stated: BTreeMap<Key, Vec<(u32, &Cell)>> = BTreeMap::new();
    // A list of single faucets has a row for each.
    let mut alike: BTreeMap<Vec<(usize, String)>, Vec<&Row>> = BTreeMap::new();
    let quantity = term_of(Subject::Quantity, vocabulary);
    for row in schedule.rows.iter().filter(|row| !merged.contains(&row.number)) {
        let Some(mark) = row.cell(options.mark) else { continue };
        // Several marks are several faucets, and "A." may number a paragraph.
        let has_number = mark.text.chars().any(|c| c.is_ascii_digit());
        if !has_number || !phrases::marks(&mark.text).is_empty() {
            continue;
        }
        let text = |term: Option<usize>| {
            term.and_then(|term| row.cell(term)).map_or_else(String::new, |cell| plain(&cell.text))
        };
        let place = places.map(text);
        if quantity.is_some_and(|term| is_several(row.cell(term))) {
            let cells = row.cells.iter().filter(|cell| Some(cell.term) != quantity);
            let cells = cells.map(|cell| (cell.term, plain(&cell.text))).collect();
            alike.entry(cells).or_default().push(row);
        }
        for term in &product {
            let Some(own) = row.cell(*term).filter(|own| own.value.is_some()) else { continue };
            stated.entry((plain(&mark.text), place.clone(), *term)).or_default().push((row.number, own));
        }
    }
    for rows in alike.values().filter(|rows| rows.len() > 1) {
        for row in &rows[1..] {
            let Some(cell) = quantity.and_then(|term| rows[0].cell(term)) else { continue };
            held.add(row.number, &format!("The same in row {}", rows[0].number), &cell.text, &cell.location);
        }
    }
    for ((.., term), rows) in stated {
        let is_other = |a: &Cell, b: &Cell| {
            a.value.as_ref().zip(b.value.as_ref()).is_some_and(|(a, b)| !a.is_compatible(b))
        };
        let first = rows[0];
        let Some(other) = rows.iter().copied().find(|(_, it)| is_other(first.1, it)) else { continue };
        let heading = heading_of(&vocabulary[term]);
        for (row, own) in rows {
            let (number, against) = if is_other(first.1, own) { first } else { other };
            held.add(row, &format!("{heading} in row {number}"), &against.text, &against.location);
        }
    }
}
