//! A review as CSV: one line per row of the schedule, with its result and what to do, to sort and to filter.

use super::comment_sheet::{CommentSheet, TypeLine};
use super::page::{BYTE_ORDER_MARK, csv_line};
use super::words::listed;
use super::workbook::Cell;
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
    let unread = unread(review);
    let mut text = format!("{BYTE_ORDER_MARK}{}", csv_line(&HEADINGS));
    for outlet in &review.outlets {
        let Some(line) = types.get(&Arc::as_ptr(&outlet.findings)) else { continue };
        let mut cells: Vec<String> = cells(outlet, line).iter().map(Cell::text).collect();
        let own = outlet.location.line_or_row().and_then(|row| unread.get(&(&outlet.location.file, row)));
        if let (Some(own), Some(comments)) = (own, cells.last_mut()) {
            let own = format!("not read: {}", own.join(", "));
            *comments = [comments.as_str(), &own]
                .into_iter()
                .filter(|it| !it.is_empty())
                .collect::<Vec<_>>()
                .join("; ");
        }
        text.push_str(&csv_line(&cells));
    }
    text
}

/// Cells that could not be read, by the file and row they are in: `Barrel "Stainless/brass"`.
fn unread(review: &Review) -> BTreeMap<(&Arc<str>, u32), Vec<String>> {
    let mut unread: BTreeMap<_, Vec<String>> = BTreeMap::new();
    for problem in review.problems.iter() {
        if let (Some(row), Some(heading), Some(text)) =
            (problem.location.line_or_row(), problem.location.heading(), &problem.text)
        {
            unread.entry((&problem.location.file, row)).or_default().push(format!("{heading} \"{text}\""));
        }
    }
    unread
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
