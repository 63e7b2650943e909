//! A review as CSV: one line per row of the schedule, with its result and what to do, to sort and to filter; and one for
//! each heading, line and sheet besides that could not be read or is not used.

use super::comment_sheet::{CommentSheet, TypeLine};
use super::page::{BYTE_ORDER_MARK, csv_line};
use super::words::listed;
use super::workbook::Cell;
use crate::diag::Location;
use crate::review::{Findings, OutletReview, Review};
use crate::units::System;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

pub(super) const HEADINGS: [&str; 9] =
    ["File", "Row", "Mark", "Qty", "Location", "As scheduled", "Result", "Do, or order instead", "Comments"];

/// The review as CSV that a spreadsheet opens: UTF-8 with its mark, lines ended by CR and LF.
pub fn review_csv(review: &Review, system: System) -> String {
    let sheet = CommentSheet::of(review, system);
    let types: BTreeMap<*const Findings, _> =
        sheet.types.iter().map(|line| (std::ptr::from_ref(line.findings), line)).collect();
    let beside = beside(review);
    let mut text = format!("{BYTE_ORDER_MARK}{}", csv_line(&HEADINGS));
    let mut reviewed = BTreeSet::new();
    for outlet in &review.outlets {
        let Some(line) = types.get(&Arc::as_ptr(&outlet.findings)) else { continue };
        let mut cells: Vec<String> = cells(outlet, line).iter().map(Cell::text).collect();
        let row = outlet.location.line_or_row().map(|row| (&outlet.location.file, row));
        let own = row.and_then(|row| beside.get(&row));
        reviewed.extend(row);
        if let (Some(own), Some(comments)) = (own, cells.last_mut()) {
            let told = |what: &str, cells: &[String]| {
                (!cells.is_empty()).then(|| format!("{what}: {}", cells.join(", ")))
            };
            let own = [told("not read", &own.unread), told("not used", &own.unused)].into_iter().flatten();
            let all = std::iter::once(std::mem::take(comments)).filter(|it| !it.is_empty()).chain(own);
            *comments = all.collect::<Vec<_>>().join("; ");
        }
        text.push_str(&csv_line(&cells));
    }
    text.extend(besides(review, &reviewed).iter().map(|line| csv_line(line)));
    text
}

/// What could not be read and what is not used, but for the cells of the rows that have a line.
fn besides(review: &Review, reviewed: &BTreeSet<(&Arc<str>, u32)>) -> Vec<[String; HEADINGS.len()]> {
    let has_line = |at: &Location| {
        at.heading().is_some() && at.line_or_row().is_some_and(|row| reviewed.contains(&(&at.file, row)))
    };
    let line = |at: &Location, result: &str, said: String| {
        let mut cells = [const { String::new() }; HEADINGS.len()];
        cells[0] = at.file.to_string();
        cells[1] = at.line_or_row().map(|it| it.to_string()).unwrap_or_default();
        cells[6] = result.to_owned();
        cells[8] = said;
        cells
    };
    let unread = review.problems.iter().filter(|it| !has_line(&it.location));
    let unread = unread.map(|it| {
        let (whole, location) = (it.to_string(), format!("{}: ", it.location));
        line(&it.location, "not read", whole.strip_prefix(&location).unwrap_or(&whole).to_owned())
    });
    let unused = review.unused.iter().filter(|it| !has_line(&it.location));
    let unused = unused.map(|it| line(&it.location, "not used", format!("\"{}\": {}", it.text, it.why)));
    unread.chain(unused).collect()
}

/// Cells that could not be read, and words that are not used: `Barrel "Stainless/brass"`.
#[derive(Default)]
struct Beside {
    unread: Vec<String>,
    unused: Vec<String>,
}

/// What is not in the facts of a row, by its file and number.
fn beside(review: &Review) -> BTreeMap<(&Arc<str>, u32), Beside> {
    let mut rows: BTreeMap<(&Arc<str>, u32), Beside> = BTreeMap::new();
    let key = |at: &Location| Some((at.line_or_row()?, at.heading()?.clone()));
    for problem in review.problems.iter() {
        if let (Some((row, heading)), Some(text)) = (key(&problem.location), &problem.text) {
            let own = rows.entry((&problem.location.file, row)).or_default();
            own.unread.push(format!("{heading} \"{text}\""));
        }
    }
    for it in &review.unused {
        if let Some((row, heading)) = key(&it.location) {
            let own = rows.entry((&it.location.file, row)).or_default();
            own.unused.push(format!("{heading} \"{}\"", it.text));
        }
    }
    rows
}

/// The cells of a row.
pub(super) fn cells(outlet: &OutletReview, line: &TypeLine<'_>) -> Vec<Cell> {
    let number = |number: Option<f64>| number.map_or_else(|| "".into(), Cell::Number);
    vec![
        outlet.location.file.as_ref().into(),
        number(outlet.location.line_or_row().map(f64::from)),
        outlet.mark.as_ref().into(),
        number(outlet.quantity),
        outlet.where_it_is.as_deref().unwrap_or_default().into(),
        line.scheduled.as_str().into(),
        Cell::Strong(line.result.into()),
        line.action.as_str().into(),
        rules(line).into(),
    ]
}

/// The rules that comment on a type: "Freezing 1 and Freezing 2".
pub(super) fn rules(line: &TypeLine<'_>) -> String {
    let comments = line.comments.iter();
    let numbers: Vec<Arc<str>> = comments.map(|comment| comment.comment.rule.number.clone()).collect();
    listed(&numbers, usize::MAX)
}
