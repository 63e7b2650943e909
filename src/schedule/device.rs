//! Reads a cell with every fact it states. A cell of the backflow device may name the standard too: "ASSE 1019-B",
//! "vacuum breaker (ASSE 1011)". One of the inlet may give its size: "1/2" MIP".

use super::cell::{CellError, read_cell};
use super::cites::cited_by_name;
use super::description::{Description, parse_description};
use super::doubt::doubts;
use super::vocabulary::{CellValue, Subject, Term, term_of};
use crate::units::{Unit, find_unit};

/// Reads a cell that is not blank: its own fact first, then others that it states. A bare number takes `unit`.
pub fn read_facts(
    term: usize,
    text: &str,
    unit: Option<&Unit>,
    vocabulary: &[Term],
) -> Result<Vec<(usize, CellValue)>, CellError> {
    let Term { reads, subject, .. } = &vocabulary[term];
    let own = read_cell(reads, text, unit);
    if *subject == Some(Subject::Inlet)
        && own.is_err()
        && let Some(facts) = sized_inlet(term, text, vocabulary)
    {
        return Ok(facts);
    }
    if *subject != Some(Subject::BackflowDevice) {
        return Ok(vec![(term, own?)]);
    }
    match (own, standard_in(text, vocabulary)) {
        (Ok(device), None) => Ok(vec![(term, device)]),
        (Ok(device), Some((_, standard))) => Ok(vec![(term, device), standard]),
        (Err(_), Some((Some(device), standard))) => Ok(vec![(term, device), standard]),
        (Err(error), _) => Err(error),
    }
}

/// The kind and the size of an inlet: `1/2" MIP`, `3/4 FIP`.
fn sized_inlet(term: usize, text: &str, vocabulary: &[Term]) -> Option<Vec<(usize, CellValue)>> {
    let of_size = term_of(Subject::SupplySize, vocabulary)?;
    let read = |(at, _)| {
        let size = read_cell(&vocabulary[of_size].reads, &text[..at], find_unit("in")).ok()?;
        let kind = read_cell(&vocabulary[term].reads, text[at..].trim_start(), None).ok()?;
        let is_range = matches!(size, CellValue::Quantity(size) if size.is_banded());
        (!is_range).then(|| vec![(term, kind), (of_size, size)])
    };
    text.match_indices(' ').find_map(read)
}

/// The standard that a text names, if it leaves nothing open, and the device: the one it names, or else the standard's.
fn standard_in(text: &str, vocabulary: &[Term]) -> Option<(Option<CellValue>, (usize, CellValue))> {
    let Description { stated, contradictions, open, unknown, too_long, .. } =
        parse_description(text, vocabulary);
    let is_clear = contradictions.is_empty() && open.is_empty() && unknown.is_empty();
    if too_long || !is_clear || !doubts(text).is_empty() || !cited_by_name(text).is_empty() {
        return None;
    }
    let of = |subject| stated.iter().find(|it| vocabulary[it.term].subject == Some(subject));
    let standard = of(Subject::BackflowStandard)?;
    let device = of(Subject::BackflowDevice).map(|it| it.value.clone());
    let of_standard = || match &standard.value {
        CellValue::Text(word) => {
            read_cell(&vocabulary[term_of(Subject::BackflowDevice, vocabulary)?].reads, word, None).ok()
        }
        _ => None,
    };
    Some((device.or_else(of_standard), (standard.term, standard.value.clone())))
}
