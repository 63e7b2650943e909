//! The comment sheet as one web page: no other file, no network.

mod blocks;
mod outlet;
mod svg;

pub(super) use blocks::{blocks, table};
pub(super) use svg::coordinates;

use super::REMINDER;
use super::comment_sheet::{CommentSheet, TypeLine};
use super::page::inert;
use super::words::listed;
use crate::facts::Drawn;
use crate::review::{Absence, Findings, Review, RuleCard};
use crate::units::System;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The style sheet of every page.
const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("page.js");

/// Rows of a line before the rest is only counted.
const MOST_ROWS: usize = 20;
/// Types up to which the page has every value of each; of more, it would be too long to open.
const MOST_WITH_VALUES: usize = 300;

/// Drawings by findings.
type Drawings<'d> = BTreeMap<*const Findings, &'d Result<Drawn, Absence>>;

/// The page of a review. `drawings` are those of [`crate::review::drawings`].
pub fn html(review: &Review, drawings: &[(Arc<Findings>, Result<Drawn, Absence>)], system: System) -> String {
    let sheet = CommentSheet::of(review, system);
    let drawings: Drawings<'_> = drawings.iter().map(|(of, drawn)| (Arc::as_ptr(of), drawn)).collect();
    let title = review.job.as_deref().unwrap_or(&review.schedule);
    let title = format!("Comment sheet: {title}");
    let body = html! {
        (opening(&title, "comment sheet", &sheet.head))
        main #main tabindex="-1" {
            (types(&sheet))
            (questions(&sheet))
            h2 #outlets { "Faucets" }
            @for line in &sheet.types {
                (outlet::outlet(line, drawings.get(&std::ptr::from_ref(line.findings)).copied(), review, system))
                @if sheet.types.len() <= MOST_WITH_VALUES { (outlet::values(line, system)) }
            }
            (rules(&sheet))
            (notes(&sheet))
            (assumed(&sheet))
            (unread(&sheet, &review.schedule))
        }
        footer {
            p { "\u{2020} Section number not checked: see the adopted edition." }
            p.caution { (REMINDER) }
        }
    };
    page(&title, &body, Some(SCRIPT))
}

/// The top of a page: a way past it, the title, each line of the head with its label, and the cautions.
pub(super) fn opening(title: &str, name: &str, head: &[(&str, String)]) -> Markup {
    html! {
        a.skip href="#main" { "Skip to the " (name) }
        header {
            h1 { (title) }
            dl.head { @for (label, line) in head { dt { (label) } dd { (line) } } }
            p.caution { (REMINDER) }
        }
    }
}

/// A whole page of one file, with its style: no network, and no script but the one given.
pub(super) fn page(title: &str, body: &Markup, script: Option<&str>) -> String {
    let scripts = script.map_or("", |_| " script-src 'unsafe-inline';");
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta http-equiv="Content-Security-Policy"
                    content=(format!("default-src 'none'; style-src 'unsafe-inline';{scripts} img-src data:"));
                link rel="icon" href="data:,";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                (body)
                @if let Some(script) = script { script { (PreEscaped(script)) } }
            }
        }
    };
    inert(page.into_string())
}

/// The result as a class of the style sheet, and as the value the list is filtered by.
fn class(result: &str) -> &'static str {
    match result {
        "REVISE" | "revise" => "revise",
        "clarify" => "clarify",
        "advisory" | "advise" => "advisory",
        _ => "fine",
    }
}

/// Where the page's part on a type starts.
fn anchor(line: &TypeLine<'_>) -> String {
    let row =
        line.first.location.row().map_or_else(|| line.first.location.to_string(), |row| row.to_string());
    format!("row-{row}")
}

fn types(sheet: &CommentSheet<'_>) -> Markup {
    let head = ["Row", "Mark", "Qty", "As scheduled", "Result", "Do, or order instead"];
    html! {
        h2 #summary { "Result by type" }
        div.find {
            div { label for="search" { "Search" } input #search type="search"; }
            div {
                label for="result" { "Result" }
                select #result {
                    option value="" { "all" }
                    @for (value, word) in
                        [("revise", "revise"), ("clarify", "clarify"), ("advisory", "advisory"), ("fine", "no comment")]
                    { option value=(value) { (word) } }
                }
            }
            span #found role="status" {}
        }
        table.cards #types {
            thead { tr { @for heading in head { th scope="col" { (heading) } } } }
            tbody {
                @for line in &sheet.types {
                    tr data-result=(class(line.result)) {
                        td data-head=(head[0]) { (line.rows) }
                        th scope="row" data-head=(head[1]) { a href=(format!("#{}", anchor(line))) { (line.marks) } }
                        td data-head=(head[2]) { (line.quantity) }
                        td data-head=(head[3]) { (line.scheduled) }
                        td data-head=(head[4]) { span class=(format!("result {}", class(line.result))) { (line.result) } }
                        td data-head=(head[5]) { (line.action) }
                    }
                }
            }
        }
        p.why { (sheet.capitals) " Lengths are nominal." }
    }
}

fn questions(sheet: &CommentSheet<'_>) -> Markup {
    let head = ["No.", "Question", "Rows", "Rules", "Response"];
    html! {
        @if !sheet.questions.is_empty() {
            h2 #questions { "Ask first" }
            table.cards {
                thead { tr { @for heading in head { th scope="col" { (heading) } } } }
                tbody {
                    @for (question, number) in sheet.questions.iter().zip(1..) {
                        tr {
                            th scope="row" data-head=(head[0]) { "Q" (number) }
                            td data-head=(head[1]) { (question.sentence) }
                            td data-head=(head[2]) { (listed(&question.rows, MOST_ROWS)) }
                            td data-head=(head[3]) { (listed(&question.rules, MOST_ROWS)) }
                            td data-head=(head[4]) { textarea aria-label=(format!("Response to Q{number}")) {} }
                        }
                    }
                }
            }
            p.why { "Responses typed here stay on this page and print with it. `coldsill review --questions FILE` writes a sheet \
                     whose responses are read back." }
        }
    }
}

/// The rules behind the comments, each once.
fn rules(sheet: &CommentSheet<'_>) -> Markup {
    let comments = sheet.types.iter().flat_map(|line| &line.comments);
    let cards: BTreeMap<&str, &RuleCard> =
        comments.map(|line| (&*line.comment.rule.id, &*line.comment.rule)).collect();
    html! {
        @if !cards.is_empty() {
            h2 #rules { "Rules behind the comments" }
            dl {
                @for card in cards.values() {
                    dt id=(rule_anchor(card)) { strong { (card.number) ": " (card.title) } " (" (card.basis.word()) ")" }
                    dd { (card.why) @for see in &card.see { " [" (see) "]" } }
                }
            }
        }
    }
}

/// Where the page's part on a rule starts.
fn rule_anchor(card: &RuleCard) -> String {
    format!("rule-{}", card.number.to_lowercase().replace(' ', "-"))
}

fn notes(sheet: &CommentSheet<'_>) -> Markup {
    html! {
        @if !sheet.notes.is_empty() {
            h2 #notes { "Notes for the drawings" }
            ul {
                @for note in &sheet.notes {
                    li {
                        (note.title) " (" (note.number) "): "
                        (note.where_to(MOST_ROWS)) "."
                    }
                }
            }
        }
    }
}

fn assumed(sheet: &CommentSheet<'_>) -> Markup {
    html! {
        @if !sheet.assumed.is_empty() {
            h2 #assumed { "Assumed; state it in the schedule or job to change it" }
            dl.head { @for (heading, values) in &sheet.assumed { dt { (heading) } dd { (listed(values, usize::MAX)) } } }
        }
    }
}

fn unread(sheet: &CommentSheet<'_>, schedule: &str) -> Markup {
    html! {
        @if !sheet.unread.is_empty() {
            h2 #unread { "Could not read, or not used: " (schedule) }
            ul { @for line in &sheet.unread { li { (line) } } }
        }
    }
}
