//! Two columns that state one fact of a row: which of them is used.

use super::text::plain;
use super::types::Cell;
use super::vocabulary::{CellValue, Subject};

/// Which of two cells is used.
pub(super) enum Used {
    /// The first, with which the second agrees.
    First,
    /// The second: it says the same more fully.
    Second,
    /// The one in the column of the supply; the other is under a bare "Size", and may well be the faucet's own.
    OfSupply { is_first: bool },
}

/// Which of two cells is used; `None` if they contradict each other.
pub(super) fn used(first: &Cell, second: &Cell, subject: Option<Subject>) -> Option<Used> {
    if plain(&first.text) == plain(&second.text) || is_same(&first.value, &second.value) {
        return Some(Used::First);
    }
    if subject == Some(Subject::SupplySize) {
        let [is_bare, other_is_bare] = [first, second]
            .map(|cell| cell.location.heading().is_some_and(|heading| plain(heading) == "size"));
        if is_bare != other_is_bare {
            return Some(Used::OfSupply { is_first: other_is_bare });
        }
    }
    match (&first.value, &second.value) {
        // Metric drawings give the inches in whole millimeters.
        (Some(CellValue::Quantity(one)), Some(CellValue::Quantity(other))) => {
            let is_rounded = other.is_in_millimeters(one);
            is_rounded.then_some(Used::First).or_else(|| one.is_in_millimeters(other).then_some(Used::Second))
        }
        // Of "ASSE 1019" and "ASSE 1019-A" the fuller is meant.
        (Some(CellValue::Text(one)), Some(CellValue::Text(other)))
            if subject == Some(Subject::BackflowStandard) =>
        {
            let is_part = one.contains(&**other) || other.contains(&**one);
            is_part.then_some(if other.len() > one.len() { Used::Second } else { Used::First })
        }
        _ => None,
    }
}

/// Whether two cells have the same value, but for binary rounding.
fn is_same(a: &Option<CellValue>, b: &Option<CellValue>) -> bool {
    match (a, b) {
        (Some(CellValue::Quantity(a)), Some(CellValue::Quantity(b))) => {
            a.measure == b.measure && (a.is - b.is).abs() <= 1e-9 * a.is.abs().max(b.is.abs())
        }
        _ => a.is_some() && a == b,
    }
}
