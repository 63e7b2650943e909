//! The comment sheet on a screen or two: each row with its result and what to order instead, then why, what to ask, what
//! to note on the drawings, and what was assumed. `text` gives every reason and source.

use super::comment_sheet::{CommentLine, CommentSheet, TypeLine};
use super::groups::MOST_QUESTIONS;
use super::page::{heading, inert, labelled_at, opening, short_table, wrapped};
use super::words::listed;
use super::{REMINDER, WIDTH};
use crate::review::Review;
use crate::units::System;
use std::collections::BTreeMap;

/// Types printed before the rest is only counted.
pub const MOST_TYPES: usize = 40;
/// Types printed in full, with their reasons; where there are more, each takes two lines and only the first have reasons.
const MOST_IN_FULL: usize = 7;
/// Lines of what was not read before the rest is only counted.
const MOST_UNREAD: usize = 10;
/// Rows of a line before the rest is only counted.
const MOST_ROWS: usize = 4;
/// Assumed values of a fact before the rest is only counted.
const MOST_VALUES: usize = 4;
/// Where the text of a comment starts.
const TEXT_AT: usize = 20;

/// The summary as text.
pub fn summary(review: &Review, system: System) -> String {
    let sheet = CommentSheet::of(review, system);
    let mut out = opening("COMMENT SHEET", &sheet.head);
    write_table(&mut out, &sheet);
    write_revisions(&mut out, &sheet);
    write_questions(&mut out, &sheet);
    write_notes(&mut out, &sheet);
    write_assumed(&mut out, &sheet);
    write_unread(&mut out, &sheet, &review.schedule);
    let close = format!(
        "\u{2020} Section number not checked: see the adopted edition. calc: not by itself a code violation. Reasons, ranges: \
         `--detail`; arithmetic: `coldsill sheet`.\n{REMINDER}"
    );
    out.push('\n');
    for paragraph in close.lines() {
        out.push_str(&wrapped(paragraph, WIDTH, ""));
    }
    inert(out)
}

fn write_table(out: &mut String, sheet: &CommentSheet<'_>) {
    out.push('\n');
    let rows = sheet.types.iter().take(MOST_TYPES).map(|line| {
        let TypeLine { rows, marks, quantity, scheduled, result, action, .. } = line;
        vec![
            rows.clone(),
            marks.clone(),
            quantity.clone(),
            scheduled.clone(),
            (*result).into(),
            action.clone(),
        ]
    });
    let headings = ["Row", "Mark", "Qty", "As scheduled", "Result", "Do, or order instead"];
    let is_cut = sheet.types.len() > MOST_IN_FULL;
    let table = short_table(&headings, rows.collect(), WIDTH, is_cut);
    out.push_str(&table);
    let mut note = String::new();
    if sheet.types.len() > MOST_TYPES {
        note.push_str(&format!("And {} more types: `--detail` lists them. ", sheet.types.len() - MOST_TYPES));
    }
    if sheet.types.iter().any(|line| line.result == "REVISE") {
        note.push_str(sheet.capitals);
        note.push(' ');
    }
    note.push_str("Lengths are nominal. Check the seat depth: outside face of the wall to valve seat.");
    if let Some(split) = sheet.split() {
        note.push_str(&format!(" {split}"));
    }
    if table.contains('…') {
        note.push_str(" … is cut short: `--detail` has the whole text.");
    }
    out.push('\n');
    out.push_str(&wrapped(&note, WIDTH, ""));
}

/// The comments on rows, the same text printed once.
fn write_revisions(out: &mut String, sheet: &CommentSheet<'_>) {
    let mut printed: BTreeMap<(&str, &str), &str> = BTreeMap::new();
    let mut has_heading = false;
    for line in sheet.types.iter().take(MOST_IN_FULL) {
        let comments: Vec<&CommentLine<'_>> = line.comments.iter().filter(|line| !line.is_asked).collect();
        if comments.is_empty() {
            continue;
        }
        if !has_heading {
            heading(out, "Why");
            has_heading = true;
        }
        let place =
            if line.places.is_empty() { String::new() } else { format!(", {}", listed(&line.places, 2)) };
        out.push_str(&wrapped(&format!("{}  {}{place}", line.rows, line.marks), WIDTH, " "));
        for CommentLine { tag, text, comment, .. } in comments {
            let text = match printed.get(&(&*comment.rule.number, text)) {
                Some(row) => format!("As row {row}."),
                None => {
                    printed.insert((&comment.rule.number, text), &line.rows);
                    text.clone()
                }
            };
            let label = format!("  {tag:<5} {:<12}", comment.rule.number);
            out.push_str(&labelled_at(label.chars().count().max(TEXT_AT), &label, &text, WIDTH));
        }
    }
    let further = sheet.types.iter().skip(MOST_IN_FULL);
    let unexplained = further.filter(|line| line.comments.iter().any(|line| !line.is_asked)).count();
    if unexplained > 0 {
        let types = if unexplained == 1 { "1 more type".into() } else { format!("{unexplained} more types") };
        out.push_str(&wrapped(
            &format!("Why for {types}: `--detail`, or `coldsill sheet` for one."),
            WIDTH,
            "",
        ));
    }
}

fn write_questions(out: &mut String, sheet: &CommentSheet<'_>) {
    if sheet.questions.is_empty() {
        return;
    }
    heading(out, "Ask first: question, rows, rules that depend on it");
    for (question, number) in sheet.questions.iter().take(MOST_QUESTIONS).zip(1..) {
        let which = if question.rows.len() == 1 { "row" } else { "rows" };
        let rows = listed(&question.rows, MOST_ROWS);
        let line = format!("{} {which} {rows} ({})", question.sentence, listed(&question.rules, 3));
        out.push_str(&labelled_at(4, &format!("Q{number}"), &line, WIDTH));
    }
    let more = sheet.questions.len().saturating_sub(MOST_QUESTIONS);
    let more = if more == 0 { String::new() } else { format!("{more} more: `--detail` lists them. ") };
    let note = format!("{more}`--questions FILE` writes them to fill in; `--answers FILE` reads them back.");
    out.push_str(&wrapped(&note, WIDTH, ""));
}

fn write_notes(out: &mut String, sheet: &CommentSheet<'_>) {
    if sheet.notes.is_empty() {
        return;
    }
    heading(out, "Notes for the drawings");
    for note in &sheet.notes {
        out.push_str(&wrapped(
            &format!("{} ({}): {}.", note.title, note.number, note.where_to(MOST_ROWS)),
            WIDTH,
            "",
        ));
    }
}

fn write_assumed(out: &mut String, sheet: &CommentSheet<'_>) {
    if sheet.assumed.is_empty() {
        return;
    }
    heading(out, "Assumed; state it in the schedule or job to change it");
    let lines: Vec<String> = sheet
        .assumed
        .iter()
        .map(|(heading, values)| format!("{heading}: {}.", listed(values, MOST_VALUES)))
        .collect();
    out.push_str(&wrapped(&lines.join(" "), WIDTH, ""));
}

fn write_unread(out: &mut String, sheet: &CommentSheet<'_>, schedule: &str) {
    if sheet.unread.is_empty() {
        return;
    }
    heading(out, &format!("Could not read, or not used: {schedule}"));
    for line in sheet.unread.iter().take(MOST_UNREAD) {
        out.push_str(&wrapped(line, WIDTH, ""));
    }
    if sheet.unread.len() > MOST_UNREAD {
        let more = format!("And {} more: `coldsill read` lists them all.", sheet.unread.len() - MOST_UNREAD);
        out.push_str(&wrapped(&more, WIDTH, ""));
    }
}
