//! Compares cells of two sources.

use crate::schedule::{Cell, CellValue, plain};

/// Two figures that differ by no more are one figure rounded between inches and millimeters (0.035 in is 0.889 mm, written
/// 0.9), as a share.
const ROUNDING: f64 = 0.02;

pub(super) fn number(cells: &[Cell], term: usize) -> Option<f64> {
    let cell = cells.iter().find(|cell| cell.term == term)?;
    match &cell.value {
        Some(CellValue::Quantity(quantity)) => Some(quantity.is),
        _ => None,
    }
}

pub(super) fn same(a: &CellValue, b: &CellValue) -> bool {
    match (a, b) {
        (CellValue::Quantity(a), CellValue::Quantity(b)) => alike(a.is, b.is),
        (CellValue::Text(a), CellValue::Text(b)) => plain(a) == plain(b),
        (a, b) => a == b,
    }
}

/// Leaves open what two descriptions of one model do not both say; of a `whole` one also what only one of them says.
pub(super) fn keep_common(cells: &mut Vec<Cell>, others: &[Cell], whole: bool) -> bool {
    let mut differs = false;
    for cell in cells.iter_mut() {
        let other = others.iter().find(|other| other.term == cell.term);
        let is_same = match (&cell.value, other.map(|other| &other.value)) {
            (Some(own), Some(Some(other))) => same(own, other),
            (_, None) => !whole,
            _ => false,
        };
        if !is_same {
            (cell.value, differs) = (None, true);
        }
    }
    if whole {
        let new = others.iter().filter(|other| cells.iter().all(|cell| cell.term != other.term));
        let new: Vec<Cell> = new.map(|other| Cell { value: None, ..other.clone() }).collect();
        differs |= !new.is_empty();
        cells.extend(new);
        cells.sort_by_key(|cell| cell.term);
    }
    differs
}

pub(super) fn alike(a: f64, b: f64) -> bool {
    (a - b).abs() <= ROUNDING * a.abs().max(b.abs())
}
