//! A review as CSV: one line per row of the schedule, with its result and what to do, to sort and to filter.

use super::comment_sheet::CommentSheet;
use super::page::{BYTE_ORDER_MARK, csv_line};
use super::words::listed;
use crate::review::{Findings, Review};
use crate::units::System;
use std::collections::BTreeMap;
use std::sync::Arc;

const HEADINGS: [&str; 9] =
    ["File", "Row", "Mark", "Qty", "Location", "As scheduled", "Result", "Do, or order instead", "Comments"];

/// The review as CSV that a spreadsheet opens: UTF-8 with its mark, lines ended by CR and LF.
pub fn review_csv(review: &Review, system: System) -> String {
    let sheet = CommentSheet::of(review, system);
    let types: BTreeMap<*const Findings, _> =
        sheet.types.iter().map(|line| (std::ptr::from_ref(line.findings), line)).collect();
    let mut text = format!("{BYTE_ORDER_MARK}{}", csv_line(&HEADINGS));
    for outlet in &review.outlets {
        let Some(line) = types.get(&Arc::as_ptr(&outlet.findings)) else { continue };
        let comments: Vec<Arc<str>> =
            line.comments.iter().map(|comment| comment.comment.rule.number.clone()).collect();
        let cells = [
            outlet.place.file.to_string(),
            outlet.place.line_or_row().map_or_else(String::new, |row| row.to_string()),
            outlet.mark.to_string(),
            outlet.quantity.map_or_else(String::new, |quantity| quantity.to_string()),
            outlet.location.as_deref().unwrap_or_default().to_owned(),
            line.scheduled.clone(),
            line.result.to_owned(),
            line.action.clone(),
            listed(&comments, usize::MAX),
        ];
        text.push_str(&csv_line(&cells));
    }
    text
}
