//! Comments to send: what to revise and what to clarify, numbered, without a word on the program.

use super::REMINDER;
use super::blocks::{Block, Blocks};
use super::comment_sheet::{CommentSheet, QuestionLine, row_text};
use super::comments::{Gathered, gathered};
use super::page::ASIDE;
use super::since;
use super::words::listed;
use crate::expr::Slot;
use crate::review::{Review, RowOf, Spotted};
use crate::ruleset::{Basis, Outcome};
use crate::units::System;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Where the text of a comment starts.
const TEXT_AT: usize = 4;
/// Lines for whoever sends it to fill in.
const BLANKS: [&str; 4] = ["To", "Permit", "Date", "Reviewer"];

/// A numbered comment.
pub(super) struct LetterItem<'r> {
    /// Its number, which it keeps from one review of the schedule to the next.
    pub number: usize,
    /// The id of its rule; of a question, the fact it asks for.
    pub about: &'r str,
    /// The problem in one line, or the question.
    pub title: Arc<str>,
    /// Marks it is made of, each once.
    pub marks: Vec<&'r str>,
    part: Part,
    says: Says<'r>,
}

/// A part of the letter, in its order.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Part {
    Required,
    Calculated,
    Questions,
    Open,
}

enum Says<'r> {
    Comment(Gathered<'r>),
    Question(String),
}

/// The letter as text.
pub fn letter(review: &Review, system: System) -> String {
    blocks(review, &CommentSheet::of(review, system), system).into_text()
}

/// The letter as blocks.
pub(super) fn blocks(review: &Review, sheet: &CommentSheet<'_>, system: System) -> Blocks {
    let mut out = Blocks::default();
    out.push(Block::Title { text: "PLAN REVIEW COMMENTS".into(), aside: ASIDE });
    for label in BLANKS {
        out.push(Block::Blank(label));
    }
    out.space();
    for (label, line) in sheet.head.iter().filter(|(label, _)| ["Job", "Climate", "Code"].contains(label)) {
        out.labelled(label, line);
    }
    let items = items(review, sheet, system);
    for part in [Part::Required, Part::Calculated, Part::Questions, Part::Open] {
        let own: Vec<&LetterItem<'_>> = items.iter().filter(|item| item.part == part).collect();
        let is_first_to_clarify =
            part == Part::Questions || !items.iter().any(|it| it.part == Part::Questions);
        let title = match part {
            Part::Required => Some("Revise"),
            Part::Calculated => Some("Revise by calculation, not by itself a code violation"),
            Part::Questions | Part::Open => Some("Clarify").filter(|_| is_first_to_clarify),
        };
        if let Some(title) = title.filter(|_| !own.is_empty()) {
            out.heading(title);
        }
        for item in &own {
            write_item(&mut out, item);
        }
        if part == Part::Questions && !own.is_empty() {
            out.space();
        }
    }
    if items.is_empty() {
        out.space();
        out.paragraph("Nothing to revise or to clarify.");
        out.space();
    }
    let gone = since::gone(review, &items);
    if !gone.is_empty() {
        out.heading("No longer open, by their numbers before");
        for (number, text) in gone {
            out.labelled_at(TEXT_AT, &format!("{number}."), &text);
        }
    }
    out.space();
    for paragraph in ["\u{2020} Section number not checked: see the adopted edition.", REMINDER]
        .iter()
        .skip(usize::from(items.is_empty()))
    {
        out.paragraph(paragraph);
    }
    out
}

/// The comments in the order of the letter, numbered.
pub(super) fn items<'r>(
    review: &'r Review,
    sheet: &'r CommentSheet<'r>,
    system: System,
) -> Vec<LetterItem<'r>> {
    let mut items: Vec<LetterItem<'r>> = Vec::new();
    for comment in gathered(review, system).into_iter().filter(|comment| !comment.is_asked) {
        let part = match comment.outcome {
            Outcome::Revise if comment.rule.basis == Basis::Calculation => Part::Calculated,
            Outcome::Revise => Part::Required,
            Outcome::Clarify => Part::Open,
            Outcome::Advise | Outcome::NoComment | Outcome::DoesNotApply => continue,
        };
        let mut seen = BTreeSet::new();
        let rows = review.outlets.iter().map(|outlet| &*outlet.mark);
        let own: BTreeSet<&str> = comment.outlets.iter().map(|(mark, _)| &**mark).collect();
        let marks = rows.filter(|mark| own.contains(mark) && seen.insert(*mark)).collect();
        items.push(LetterItem {
            number: 0,
            about: &comment.rule.id,
            title: comment.rule.title.clone(),
            marks,
            part,
            says: Says::Comment(comment),
        });
    }
    let open = items.iter().filter(|item| item.part == Part::Open);
    let open: Vec<&Gathered<'_>> = open
        .filter_map(|item| match &item.says {
            Says::Comment(comment) => Some(comment),
            Says::Question(_) => None,
        })
        .collect();
    let questions = review.questions.iter().zip(&sheet.questions);
    let questions: Vec<LetterItem<'r>> = questions
        .filter_map(|(question, line)| {
            Some(LetterItem {
                number: 0,
                about: &question.fact,
                title: line.sentence.as_str().into(),
                marks: question.asked_of.iter().map(|mark| &**mark).collect(),
                part: Part::Questions,
                says: Says::Question(still_open(question.slot, line, &open)?),
            })
        })
        .collect();
    items.extend(questions);
    items.sort_by_key(|item| match &item.says {
        Says::Comment(comment) => (item.part, Some(comment.rule.basis)),
        Says::Question(_) => (item.part, None),
    });
    let about: Vec<(&str, Vec<&str>)> = items.iter().map(|item| (item.about, item.marks.clone())).collect();
    let numbers = review.since.as_ref().map_or_else(|| (1..=about.len()).collect(), |it| it.numbers(&about));
    for (item, number) in items.iter_mut().zip(numbers) {
        item.number = number;
    }
    // Numbers rise within a part.
    items.sort_by_key(|item| (item.part, item.number));
    items
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

fn write_item(out: &mut Blocks, item: &LetterItem<'_>) {
    let comment = match &item.says {
        Says::Comment(comment) => comment,
        Says::Question(question) => {
            out.labelled_at(TEXT_AT, &format!("{}.", item.number), question);
            return;
        }
    };
    let outlets: Vec<Arc<str>> = comment.outlets.iter().map(|(mark, row)| outlet(mark, *row)).collect();
    let title = format!("{}: {}.", listed(&outlets, usize::MAX), comment.rule.title);
    out.push(Block::Item { column: TEXT_AT, number: item.number, text: title });
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
