//! The page of `coldsill compare`.

use super::page::{heading, labelled, table, titled, wrapped};
use super::words::listed;
use super::{REMINDER, WIDTH};
use crate::diag::uncapital;
use crate::facts::{self, slot_named};
use crate::review::{Comparison, Difference, OutletDifference};
use crate::standard::StandardComparison;
use std::sync::Arc;

/// Marks printed before the rest is only counted.
const MOST_MARKS: usize = 6;

/// What differs between two reviews: inputs first, then outlets.
pub fn compared(names: [&str; 2], comparison: &Comparison) -> String {
    let mut out = head("COMPARISON OF REVIEWS", names, &comparison.inputs);
    if !comparison.outlets.is_empty() {
        heading(&mut out, "Faucets that differ");
        let rows = comparison.outlets.iter().map(|(marks, difference)| {
            let outcome = |side: usize| difference.outcome[side].as_deref().unwrap_or("-").to_owned();
            vec![listed(marks, MOST_MARKS), outcome(0), outcome(1), in_words(difference)]
        });
        out.push_str(&table(&["Marks", "Old", "New", "What differs"], rows.collect(), WIDTH));
        out.push('\n');
    }
    let count = comparison.unchanged;
    let rows = if count == 1 { "1 row" } else { &format!("{count} rows") };
    out.push_str(&wrapped(&format!("Nothing differs in {rows} that both have."), WIDTH, ""));
    end(out)
}

/// What differs between two standards: inputs first, then cells.
pub fn compared_standards(names: [&str; 2], comparison: &StandardComparison) -> String {
    let mut out = head("COMPARISON OF STANDARDS", names, &comparison.inputs);
    if !comparison.cells.is_empty() {
        heading(&mut out, "Orders that differ");
        let rows = comparison.cells.iter().map(|cell| {
            let order = |side: usize| cell.order[side].as_deref().unwrap_or("-").to_owned();
            let why: Vec<String> = cell.why.iter().map(change).collect();
            vec![cell.place.to_string(), cell.setting.to_string(), order(0), order(1), why.join("; ")]
        });
        let headings = ["Place", "Wall, barrel, supply", "Old", "New", "Why"];
        out.push_str(&table(&headings, rows.collect(), WIDTH));
        out.push('\n');
    }
    let text = format!("The same order in {} of the cells that both have.", comparison.unchanged);
    out.push_str(&wrapped(&text, WIDTH, ""));
    end(out)
}

fn head(title: &str, names: [&str; 2], inputs: &[Difference]) -> String {
    let mut out = titled(title);
    out.push_str(&labelled("Old", names[0], WIDTH));
    out.push_str(&labelled("New", names[1], WIDTH));
    heading(&mut out, "Inputs that differ");
    if inputs.is_empty() {
        out.push_str("None.\n");
    }
    for input in inputs {
        out.push_str(&wrapped(&format!("{}.", change(input)), WIDTH, ""));
    }
    out
}

fn end(mut out: String) -> String {
    out.push('\n');
    out.push_str(&wrapped(REMINDER, WIDTH, ""));
    out
}

/// "design low -26 °F, was -22 °F".
fn change(difference: &Difference) -> String {
    let what = &difference.what;
    match (&difference.was, &difference.is) {
        (Some(was), Some(is)) => format!("{what} {is}, was {was}"),
        (None, Some(is)) => format!("{what} {is}, was none"),
        (Some(was), None) => format!("{what} none, was {was}"),
        (None, None) => what.to_string(),
    }
}

fn in_words(difference: &OutletDifference) -> String {
    let side = match &difference.outcome {
        [None, Some(_)] => Some("new in the schedule"),
        [Some(_), None] => Some("no longer in the schedule"),
        _ => None,
    };
    let comments = difference.comments.iter().map(|comment| match (&comment.was, &comment.is) {
        (None, Some(is)) => format!("{} {is}, new", comment.what),
        (Some(was), None) => format!("{} settled, was {was}", comment.what),
        _ => change(comment),
    });
    let facts = difference.facts.iter().map(|fact| {
        let heading: Arc<str> = slot_named(&fact.what).map_or_else(|| fact.what.clone(), facts::heading);
        change(&Difference { what: uncapital(&heading).into(), ..fact.clone() })
    });
    let parts: Vec<String> = side.map(str::to_owned).into_iter().chain(comments).chain(facts).collect();
    parts.join("; ")
}
