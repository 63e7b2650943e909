//! Puts an answer into the rows it is for.

use super::compare::same;
use crate::diag::{Diagnostic, Diagnostics, shortened};
use crate::schedule::{Cell, RowOf, Schedule, Spotted, Unused};
use std::collections::BTreeSet;

/// Puts a response of a previous review into the rows that neither state the fact by now nor have a newer answer.
pub(super) fn put_where_blank(
    answer: &Cell,
    meant: &BTreeSet<usize>,
    schedule: &mut Schedule,
    unused: &mut Vec<Unused>,
) {
    let mut is_used = false;
    for index in meant {
        let Some(row) = schedule.rows.get_mut(*index) else { continue };
        if row.cells.iter().all(|own| own.term != answer.term) {
            let at = row.cells.partition_point(|own| own.term < answer.term);
            row.cells.insert(at, answer.clone());
            is_used = true;
        }
    }
    if !is_used {
        let why = "a response of the previous review; stated or answered since, or its faucet is no longer scheduled";
        unused.push(Unused { location: answer.location.clone(), text: answer.text.clone(), why });
    }
}

/// Puts an answer into the rows it is for. What the schedule states stands; a cell that could not be read gives way.
pub(super) fn put(
    answer: &Cell,
    meant: &BTreeSet<usize>,
    is_answer: &dyn Fn(&Cell) -> bool,
    schedule: &mut Schedule,
    problems: &mut Diagnostics,
    unused: &mut Vec<Unused>,
) {
    let (mut is_used, mut is_contested) = (false, false);
    let mut otherwise: Vec<(Spotted, Cell)> = Vec::new();
    for index in meant {
        let Some(row) = schedule.rows.get_mut(*index) else { continue };
        let stands = row.spotted(&schedule.file);
        match row.cells.iter_mut().find(|it| it.term == answer.term) {
            None => {
                let at = row.cells.partition_point(|it| it.term < answer.term);
                row.cells.insert(at, answer.clone());
                is_used = true;
            }
            Some(own) => match (&own.value, &answer.value) {
                (Some(value), Some(said)) if same(value, said) => {
                    // Said by two answers.
                    is_used |= is_answer(own);
                }
                (Some(_), _) => {
                    otherwise.push((stands, own.clone()));
                    // Of two responses of one sheet neither is the newer.
                    if own.location.file == answer.location.file {
                        own.value = None;
                    }
                }
                // Contested by two responses before.
                (None, _) if is_answer(own) => is_contested = true,
                (None, _) => {
                    *own = answer.clone();
                    is_used = true;
                }
            },
        }
    }
    let not_used = |why| Unused { location: answer.location.clone(), text: answer.text.clone(), why };
    if let Some((stands, own)) = otherwise.first() {
        let more = match otherwise.len() - 1 {
            0 => String::new(),
            1 => " and 1 more".into(),
            more => format!(" and {more} more"),
        };
        let text = shortened(&own.text);
        let what = if own.location.file == answer.location.file {
            format!("contradicts \"{text}\" in {}, for {stands}{more}; neither is used", own.location)
        } else if is_answer(own) {
            format!("contradicts \"{text}\" in {}, for {stands}{more}; \"{text}\" is used", own.location)
        } else if stands.of == RowOf::Schedule {
            format!("contradicts \"{text}\" in {stands}{more} of the schedule; \"{text}\" is used")
        } else {
            format!(
                "contradicts \"{text}\", stated for the faucet of {stands}{more} ({}); \"{text}\" is used",
                own.location
            )
        };
        problems.push(Diagnostic::new(answer.location.clone(), what).text(&*answer.text));
    } else if meant.is_empty() {
        unused.push(not_used("no faucet of the schedule has these marks and rows"));
    } else if !is_used && is_contested {
        unused.push(not_used("the responses of a newer sheet, or of this one, contradict each other"));
    } else if !is_used {
        unused.push(not_used("the schedule states it already"));
    }
}
