//! Remedies in words.

use super::WIDTH;
use super::groups::{Group, rows_of};
use super::page::{heading, labelled_at, wrapped};
use super::sentences::complete;
use super::words::{listed, lower};
use crate::diag::capital;
use crate::expr::Value;
use crate::facts::columns::NOMINAL_LENGTH;
use crate::review::{Change, Finished, Piece, Remedy, Review, Shown};
use crate::units::{Rounding, Show, System};
use std::sync::Arc;

pub(super) const LENGTH: Show = Show::new(("in", 2), ("mm", 0), Rounding::Nearest);
/// As every page prints the minimum seat depth.
pub(super) const SEAT: Show = Show::new(("in", 1), ("mm", 0), Rounding::Up);
/// What a length lacks is given to a tenth, and never as none.
const LACKS: Show = Show::new(("in", 1), ("mm", 0), Rounding::Up);

/// The remedies of each type, the best first.
pub(super) fn write<'g, 'r: 'g>(
    out: &mut String,
    review: &Review,
    groups: impl Iterator<Item = &'g Group<'r>>,
    system: System,
) {
    for (at, group) in groups.filter(|group| !group.findings.remedies.is_empty()).enumerate() {
        if at == 0 {
            heading(out, "Remedies, each reviewed again under every rule in force; the least change first");
        }
        let marks: Vec<Arc<str>> = group.outlets.iter().map(|outlet| outlet.mark.clone()).collect();
        let rows = rows_of(&group.outlets, review);
        out.push_str(&wrapped(&format!("{rows}  {}", listed(&marks, 3)), WIDTH, " "));
        let scheduled = group.outlets[0].fact(NOMINAL_LENGTH.name);
        for (remedy, number) in group.findings.remedies.iter().zip(1..) {
            let text = paragraph(remedy, scheduled.as_ref(), system);
            out.push_str(&labelled_at(6, &format!("   {number}"), &text, WIDTH));
        }
    }
}

/// What to do, in few words: "order 10 in; use stainless screws".
pub(super) fn what(remedy: &Remedy, system: System) -> String {
    changes(remedy, |words, column| format!("strike \"{words}\" under {column}"), system)
}

/// What to do, for somebody who has the drawings and not the schedule's words: without what to strike in it.
pub(super) fn for_drawings(remedy: &Remedy, system: System) -> String {
    joined(remedy, |change| said(&change.says, system))
}

/// The changes, with the words that each contradicts.
fn changes(remedy: &Remedy, strike: impl Fn(&str, &str) -> String, system: System) -> String {
    joined(remedy, |change| {
        let strikes: Vec<String> =
            change.strikes.iter().map(|(words, column)| strike(words, column)).collect();
        let says = said(&change.says, system);
        if strikes.is_empty() { says } else { format!("{says} ({})", strikes.join("; ")) }
    })
}

/// The changes in a sentence; what is ordered is one order: "use stainless screws; order a stainless barrel, 10 in".
fn joined(remedy: &Remedy, text: impl Fn(&Change) -> String) -> String {
    let (orders, others): (Vec<&Change>, Vec<&Change>) =
        remedy.changes.iter().partition(|change| change.is_order);
    let order = orders
        .into_iter()
        .map(&text)
        .reduce(|order, more| format!("{order}, {}", more.strip_prefix("order ").unwrap_or(&more)));
    others.into_iter().map(&text).chain(order).collect::<Vec<_>>().join("; ")
}

/// What to do, for a table: with what a shorter length lacks, and without the column of words to strike.
pub(super) fn in_table(remedy: &Remedy, scheduled: Option<&Shown>, system: System) -> String {
    let what = changes(remedy, |words, _| format!("strike \"{words}\""), system);
    short(remedy, scheduled, system).map_or_else(|| what.clone(), |short| format!("{what} ({short})"))
}

/// The words of a change.
pub(super) fn said(says: &Vec<Piece>, system: System) -> String {
    complete(std::slice::from_ref(says), system).collect()
}

/// The remedy with what it settles and leaves, as a paragraph.
pub(super) fn paragraph(remedy: &Remedy, scheduled: Option<&Shown>, system: System) -> String {
    let mut text = format!("{}.", capital(&what(remedy, system)));
    if let Some(short) = short(remedy, scheduled, system) {
        text.push_str(&format!(" {short}."));
    }
    text.push_str(&format!(" Settles {}.", listed(&remedy.answers, usize::MAX)));
    if let Some(leaves) = asked(&remedy.leaves) {
        text.push_str(&format!(" Still to answer: {leaves}."));
    }
    if let Some(cost) = remedy.cost {
        text.push_str(&format!(" Adds ${cost:.2} each."));
    }
    text.push_str(&format!(" Possible in a finished wall: {}.", finished(remedy.finished)));
    text
}

/// What the next shorter length lacks: "8 in is 1 7/8 in short" of the length scheduled, "10 in is still 1 3/4 in short" of
/// a longer one.
pub(super) fn short(remedy: &Remedy, scheduled: Option<&Shown>, system: System) -> Option<String> {
    let short = remedy.short?;
    let length = LENGTH.value(&short.length, system);
    let is = match scheduled.map(|fact| &fact.value) {
        Some(Ok(Value::Quantity(stated))) if stated.is_near(&short.length) => "is",
        Some(Ok(_)) => "is still",
        _ => "would be",
    };
    Some(if short.by.is > 0.0 {
        format!("{length} {is} {} short", LACKS.value(&short.by, system))
    } else {
        let needed = SEAT.value(&short.seat_needed, system);
        format!("{length} is enough only if product data puts its seat at {needed} or more")
    })
}

/// What still has to be answered, and the rules that wait: "barrel and inside stop (Freezing 1 and Freezing 4)".
pub(super) fn asked(asks: &[(Arc<str>, Vec<Arc<str>>)]) -> Option<String> {
    let mut headings: Vec<Arc<str>> = Vec::new();
    for heading in asks.iter().flat_map(|(_, headings)| headings) {
        if !headings.contains(heading) {
            headings.push(heading.clone());
        }
    }
    let rules: Vec<Arc<str>> = asks.iter().map(|(rule, _)| rule.clone()).collect();
    (!rules.is_empty()).then(|| format!("{} ({})", lower(&headings), listed(&rules, usize::MAX)))
}

pub(super) fn finished(finished: Finished) -> &'static str {
    match finished {
        Finished::Yes => "yes",
        Finished::AtThePipe => "where the pipe inside can be reached",
        Finished::No => "no",
    }
}
