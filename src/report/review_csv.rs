//! A review as CSV: one line per row of the schedule, with its result and what to do, to sort and to filter.

use super::comment_sheet::{CommentSheet, TypeLine};
use super::page::{BYTE_ORDER_MARK, csv_line};
use super::words::listed;
use super::workbook::Cell;
use crate::diag::Location;
use crate::review::{Findings, OutletReview, Review};
use crate::units::System;
use std::collections::BTreeMap;
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
    for outlet in &review.outlets {
        let Some(line) = types.get(&Arc::as_ptr(&outlet.findings)) else { continue };
        let mut cells: Vec<String> = cells(outlet, line).iter().map(Cell::text).collect();
        let own = outlet.location.line_or_row().and_then(|row| beside.get(&(&outlet.location.file, row)));
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
    text
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
