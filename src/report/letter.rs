//! Comments to send: what to revise and what to clarify, numbered, without a word on the program.

use super::comment_sheet::{CommentSheet, QuestionLine, row_text};
use super::comments::{Gathered, gathered};
use super::page::{heading, inert, labelled, labelled_at, wrapped};
use super::words::listed;
use super::{REMINDER, WIDTH};
use crate::expr::Slot;
use crate::review::{Review, RowOf, Spotted};
use crate::ruleset::{Basis, Outcome};
use crate::units::System;
use std::sync::Arc;

/// Where the text of a comment starts.
const TEXT_AT: usize = 4;
/// Lines for whoever sends it to fill in.
const BLANKS: [&str; 4] = ["To", "Permit", "Date", "Reviewer"];

/// The letter as text.
pub fn letter(review: &Review, system: System) -> String {
    let sheet = CommentSheet::of(review, system);
    let mut out =
        String::from("PLAN REVIEW COMMENTS                          screening only; not an approval\n\n");
    for label in BLANKS {
        out.push_str(&format!("{label:<10} {}\n", "_".repeat(40)));
    }
    out.push('\n');
    for (label, line) in sheet.head.iter().filter(|(label, _)| ["Job", "Climate", "Code"].contains(label)) {
        out.push_str(&labelled(label, line, WIDTH));
    }
    let gathered = gathered(review, system);
    let mut number = 0;
    let comments = |outcome| {
        let mut comments: Vec<&Gathered<'_>> =
            gathered.iter().filter(|comment| comment.outcome == outcome && !comment.is_asked).collect();
        comments.sort_by_key(|comment| comment.rule.basis);
        comments
    };
    let revisions = comments(Outcome::Revise);
    let (calculated, required): (Vec<&Gathered<'_>>, Vec<&Gathered<'_>>) =
        revisions.into_iter().partition(|comment| comment.rule.basis == Basis::Calculation);
    for (title, comments) in
        [("Revise", required), ("Revise by calculation, not by itself a code violation", calculated)]
    {
        if !comments.is_empty() {
            heading(&mut out, title);
        }
        for comment in comments {
            number += 1;
            write_comment(&mut out, number, comment);
        }
    }
    let open = comments(Outcome::Clarify);
    let questions: Vec<String> = review
        .questions
        .iter()
        .zip(&sheet.questions)
        .filter_map(|(of, line)| still_open(of.slot, line, &open))
        .collect();
    if !(open.is_empty() && questions.is_empty()) {
        heading(&mut out, "Clarify");
    }
    for question in &questions {
        number += 1;
        out.push_str(&labelled_at(TEXT_AT, &format!("{number}."), question, WIDTH));
    }
    if !questions.is_empty() {
        out.push('\n');
    }
    for comment in open {
        number += 1;
        write_comment(&mut out, number, comment);
    }
    if number == 0 {
        out.push_str("\nNothing to revise or to clarify.\n\n");
    }
    out.push('\n');
    for paragraph in ["\u{2020} Section number not checked: see the adopted edition.", REMINDER]
        .iter()
        .skip(usize::from(number == 1))
    {
        out.push_str(&wrapped(paragraph, WIDTH, ""));
    }
    inert(out)
}

/// A question with the rows of which no comment asks for the same fact; none if no row is left.
fn still_open(slot: Slot, question: &QuestionLine, comments: &[&Gathered<'_>]) -> Option<String> {
    let asking = comments.iter().filter(|comment| comment.rule.asks == Some(slot));
    let asked: Vec<Arc<str>> =
        asking.flat_map(|comment| &comment.outlets).map(|(_, row)| row_text(row)).collect();
    let rows: Vec<Arc<str>> = question.rows.iter().filter(|row| !asked.contains(row)).cloned().collect();
    let which = if rows.len() == 1 { "Row" } else { "Rows" };
    let (named, rules) = (listed(&rows, usize::MAX), listed(&question.rules, usize::MAX));
    (!rows.is_empty()).then(|| format!("{} {which} {named} ({rules}).", question.sentence))
}

fn write_comment(out: &mut String, number: usize, comment: &Gathered<'_>) {
    let outlets: Vec<Arc<str>> = comment.outlets.iter().map(|(mark, row)| outlet(mark, *row)).collect();
    let title = format!("{}: {}.", listed(&outlets, usize::MAX), comment.rule.title);
    out.push_str(&labelled_at(TEXT_AT, &format!("{number}."), &title, WIDTH));
    let indent = " ".repeat(TEXT_AT);
    let mut paragraph = |text: &str| out.push_str(&wrapped(text, WIDTH, &indent));
    for text in comment.says.iter().chain(&comment.settle) {
        paragraph(text);
    }
    if let Some(remedy) = &comment.remedy {
        paragraph(&format!("Correction: {remedy}"));
    }
    paragraph(&format!("Basis: {}; {}.", comment.rule.basis.word(), comment.rule.see.join("; ")));
    out.push('\n');
}

/// "HB-1 (row 2)".
fn outlet(mark: &Arc<str>, row: Spotted) -> Arc<str> {
    match row {
        _ if mark.starts_with("row ") => mark.clone(),
        Spotted { of: RowOf::Schedule, number } => format!("{mark} (row {number})").into(),
        other => format!("{mark} ({other})").into(),
    }
}
