//! The comment sheet in Markdown, for an e-mail or an issue.

use super::REMINDER;
use super::comment_sheet::{CommentSheet, TypeLine};
use super::page::inert;
use super::words::listed;
use crate::review::Review;
use crate::units::System;
use std::fmt::Write;

/// What a comment is based on, by the word after its number.
const TAGS: &str = "CODE: the adopted code, or model codes. list: a listing. instr: manufacturers' instructions. firm: a \
                    company standard. calc: calculated, not by itself a code violation. ask: an open question. note: advice.";

/// The comment sheet as Markdown.
pub fn markdown(review: &Review, system: System) -> String {
    let sheet = CommentSheet::of(review, system);
    let mut out = String::from("# Comment sheet\n\n");
    for (label, line) in &sheet.head {
        let _ = writeln!(out, "- **{label}:** {}", plain(line));
    }
    out.push_str(
        "\n| Row | Mark | Qty | As scheduled | Result | Do, or order instead |\n|---|---|---|---|---|---|\n",
    );
    for TypeLine { rows, marks, quantity, scheduled, result, action, .. } in &sheet.types {
        let cells = [rows, marks, quantity, scheduled, *result, action].map(plain);
        let _ = writeln!(out, "| {} |", cells.join(" | "));
    }
    let has_capitals = sheet.types.iter().any(|line| line.result == "REVISE");
    let capitals = if has_capitals { format!("{} ", sheet.capitals) } else { String::new() };
    let split = sheet.split().map(|split| format!(" {}", plain(&split))).unwrap_or_default();
    let _ = writeln!(out, "\n{capitals}Lengths are nominal: check the seat depth.{split} {TAGS}");
    for line in sheet.types.iter().filter(|line| !line.comments.is_empty()) {
        let _ = writeln!(out, "\n## Row {}: {}\n", plain(&line.rows), plain(&line.marks));
        for comment in &line.comments {
            let _ = writeln!(
                out,
                "- **{}** ({}): {}",
                comment.comment.rule.number,
                comment.tag,
                plain(&comment.text)
            );
        }
    }
    if !sheet.questions.is_empty() {
        out.push_str("\n## Ask first\n\n");
        for (question, number) in sheet.questions.iter().zip(1..) {
            let (rows, rules) = (listed(&question.rows, usize::MAX), listed(&question.rules, usize::MAX));
            let _ = writeln!(
                out,
                "{number}. {} {} {} ({})",
                plain(&question.sentence),
                if question.rows.len() == 1 { "Row" } else { "Rows" },
                plain(&rows),
                plain(&rules)
            );
        }
    }
    if !sheet.notes.is_empty() {
        out.push_str("\n## Notes for the drawings\n\n");
        for note in &sheet.notes {
            let _ = writeln!(
                out,
                "- {} ({}): {}",
                plain(&note.title),
                note.number,
                plain(&note.where_to(usize::MAX))
            );
        }
    }
    if !sheet.assumed.is_empty() {
        out.push_str("\n## Assumed; state it in the schedule or job to change it\n\n");
        for (heading, values) in &sheet.assumed {
            let _ = writeln!(out, "- {}: {}", plain(heading), plain(&listed(values, usize::MAX)));
        }
    }
    if !sheet.unread.is_empty() {
        out.push_str("\n## Could not read, or not used\n\n");
        for line in &sheet.unread {
            let _ = writeln!(out, "- {}", plain(line));
        }
    }
    let _ = write!(out, "\n\u{2020} Section number not checked: see the adopted edition.\n\n_{REMINDER}_\n");
    inert(out)
}

/// A text that means nothing to Markdown, HTML or a table: what a schedule says stays text.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '<' | '>' | '#' | '!' => out.extend(['\\', c]),
            '\n' | '\r' => out.push(' '),
            _ => out.push(c),
        }
    }
    out
}
