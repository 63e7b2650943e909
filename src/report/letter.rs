//! Comments to send: what to revise and what to clarify, numbered, without a word on the program.

use super::REMINDER;
use super::blocks::{Block, Blocks};
use super::comment_sheet::{CommentSheet, QuestionLine, row_text};
use super::comments::{Gathered, gathered};
use super::words::listed;
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
    blocks(review, &CommentSheet::of(review, system), system).into_text()
}

/// The letter as blocks.
pub(super) fn blocks(review: &Review, sheet: &CommentSheet<'_>, system: System) -> Blocks {
    let mut out = Blocks::default();
    out.push(Block::Title { text: "PLAN REVIEW COMMENTS".into(), aside: "screening only; not an approval" });
    for label in BLANKS {
        out.push(Block::Blank(label));
    }
    out.space();
    for (label, line) in sheet.head.iter().filter(|(label, _)| ["Job", "Climate", "Code"].contains(label)) {
        out.labelled(label, line);
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
            out.heading(title);
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
        out.heading("Clarify");
    }
    for question in &questions {
        number += 1;
        out.labelled_at(TEXT_AT, &format!("{number}."), question);
    }
    if !questions.is_empty() {
        out.space();
    }
    for comment in open {
        number += 1;
        write_comment(&mut out, number, comment);
    }
    if number == 0 {
        out.space();
        out.paragraph("Nothing to revise or to clarify.");
        out.space();
    }
    out.space();
    for paragraph in ["\u{2020} Section number not checked: see the adopted edition.", REMINDER]
        .iter()
        .skip(usize::from(number == 1))
    {
        out.paragraph(paragraph);
    }
    out
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

fn write_comment(out: &mut Blocks, number: usize, comment: &Gathered<'_>) {
    let outlets: Vec<Arc<str>> = comment.outlets.iter().map(|(mark, row)| outlet(mark, *row)).collect();
    let title = format!("{}: {}.", listed(&outlets, usize::MAX), comment.rule.title);
    out.push(Block::Item { column: TEXT_AT, number, text: title });
    let mut paragraph = |text: &str| out.indented(TEXT_AT, text);
    for text in comment.says.iter().chain(&comment.settle) {
        paragraph(text);
    }
    if let Some(remedy) = &comment.remedy {
        paragraph(&format!("Correction: {remedy}"));
    }
    paragraph(&format!("Basis: {}; {}.", comment.rule.basis.word(), comment.rule.see.join("; ")));
    out.space();
}

/// "HB-1 (row 2)".
fn outlet(mark: &Arc<str>, row: Spotted) -> Arc<str> {
    match row {
        _ if mark.starts_with("row ") => mark.clone(),
        Spotted { of: RowOf::Schedule, number } => format!("{mark} (row {number})").into(),
        other => format!("{mark} ({other})").into(),
    }
}
