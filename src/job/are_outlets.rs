//! Answers to the question whether a row is an outdoor outlet.

use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::schedule::{Cell, CellType, CellValue, Unused, plain, read_cell};
use std::collections::{BTreeMap, BTreeSet};

/// The fact of the question whether a row is an outdoor outlet, as the sheet has it.
pub const IS_OUTLET: &str = "Outdoor outlet";
/// The answers to that question; the second answers any other question too.
pub const IS_OUTLET_ANSWERS: [&str; 2] = ["outdoor outlet", "not an outdoor outlet"];

/// Rows, by index, that answers say are outdoor outlets or not, and where; `None` if two responses of one sheet contradict each
/// other.
pub(super) type AreOutlets = BTreeMap<usize, (Option<bool>, Location)>;

/// Notes that rows are outdoor outlets, or not. The newest answer, which comes first, stands.
pub(super) fn choose(
    answer: &Cell,
    is_outlet: bool,
    meant: &BTreeSet<usize>,
    chosen: &mut AreOutlets,
    problems: &mut Diagnostics,
    unused: &mut Vec<Unused>,
) {
    let mut newer = None;
    for index in meant {
        let (stands, location) =
            chosen.entry(*index).or_insert_with(|| (Some(is_outlet), answer.location.clone()));
        if *stands == Some(is_outlet) {
            continue;
        }
        if location.file == answer.location.file {
            *stands = None;
        }
        newer = newer.or(Some(location.clone()));
    }
    if let Some(newer) = newer {
        let used = if newer.file == answer.location.file { "neither" } else { "that" };
        let what = format!("is answered otherwise by {newer}; {used} is used");
        problems.push(Diagnostic::new(answer.location.clone(), what).text(&*answer.text));
    } else if meant.is_empty() {
        let why = "no faucet of the schedule has these marks and rows";
        unused.push(Unused { location: answer.location.clone(), text: answer.text.clone(), why });
    }
}

/// What a response says of whether its rows are outdoor outlets, if it does.
pub(super) fn is_outlet(response: &Cell, fact: Option<&Cell>) -> Result<Option<bool>, Diagnostic> {
    let is = |text: &str| plain(&response.text) == plain(text);
    let [yes, no] = IS_OUTLET_ANSWERS;
    if is(no) {
        return Ok(Some(false));
    }
    if fact.is_none_or(|fact| plain(&fact.text) != plain(IS_OUTLET)) {
        return Ok(None);
    }
    if is(yes) {
        return Ok(Some(true));
    }
    match read_cell(&CellType::YesNo, &response.text, None) {
        Ok(CellValue::YesNo(is_outlet)) => Ok(Some(is_outlet)),
        _ => {
            let what = "does not say whether it is an outdoor outlet";
            let error = Diagnostic::new(response.location.clone(), what).text(&*response.text);
            Err(error.expected(format!("{yes} or {no}")))
        }
    }
}
