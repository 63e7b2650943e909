//! Reads a cell with every fact it states. A cell of the backflow device may name the standard too: "ASSE 1019-B",
//! "vacuum breaker (ASSE 1011)".

use super::around::cited_by_name;
use super::cell::{CellError, read_cell};
use super::description::{Description, parse_description};
use super::doubt::doubts;
use super::vocabulary::{Read, Reads, Subject, Term, term_of};
use crate::units::Unit;

/// Reads a cell that is not blank: its own fact first, then others that it states. A bare number takes `unit`.
pub fn read_facts(
    term: usize,
    text: &str,
    unit: Option<&Unit>,
    vocabulary: &[Term],
) -> Result<Vec<(usize, Read)>, CellError> {
    let Term { reads, subject, .. } = &vocabulary[term];
    let own = read_cell(reads, text, unit);
    if *subject == Some(Subject::BackflowDevice)
        && let Some((device, standard)) = device_and_standard(reads, text, vocabulary)
    {
        return Ok(vec![(term, own.unwrap_or(device)), standard]);
    }
    Ok(vec![(term, own?)])
}

/// The device and the standard that a text names, if it names a standard and leaves nothing open.
fn device_and_standard(
    device_reads: &Reads,
    text: &str,
    vocabulary: &[Term],
) -> Option<(Read, (usize, Read))> {
    let term = term_of(Subject::BackflowStandard, vocabulary)?;
    let device_of = |standard: &Read| match standard {
        Read::Text(word) => read_cell(device_reads, word, None).ok(),
        _ => None,
    };
    if let Ok(standard) = read_cell(&vocabulary[term].reads, text, None) {
        return Some((device_of(&standard)?, (term, standard)));
    }
    let Description { stated, contradictions, open, denied, unknown, too_long, .. } =
        parse_description(text, vocabulary);
    let is_clear = contradictions.is_empty() && open.is_empty() && denied.is_empty() && unknown.is_empty();
    if too_long || !is_clear || !doubts(text).is_empty() || !cited_by_name(text).is_empty() {
        return None;
    }
    let of = |subject| stated.iter().find(|it| vocabulary[it.term].subject == Some(subject));
    let standard = of(Subject::BackflowStandard)?.value.clone();
    let device = of(Subject::BackflowDevice).map(|it| it.value.clone());
    Some((device.or_else(|| device_of(&standard))?, (term, standard)))
}
