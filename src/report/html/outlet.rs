//! One type of outlet on the web page.

use super::super::comments::said;
use super::super::words::{from, value};
use super::{anchor, class, rule_anchor, svg};
use crate::diag::capital;
use crate::facts::{Drawn, Origin};
use crate::report::comment_sheet::{CommentLine, TypeLine};
use crate::report::drawing::{seat::seat, section::section};
use crate::report::words::lower;
use crate::review::{Absence, Review, Shown};
use crate::units::{System, figures};
use maud::{Markup, html};

/// The part of the page on a type.
pub(super) fn outlet(
    line: &TypeLine<'_>,
    drawn: Option<&Result<Drawn, Absence>>,
    review: &Review,
    system: System,
) -> Markup {
    let marks: Vec<String> = line.all_marks.iter().map(|mark| mark.to_lowercase()).collect();
    let places: Vec<&str> = line.places.iter().map(|place| &**place).collect();
    html! {
        article id=(anchor(line)) tabindex="-1" data-result=(class(line.result)) data-marks=(marks.join("\n")) {
            h3 { (line.marks) ", row " (line.rows) ": " span class=(format!("result {}", class(line.result))) { (line.result) } }
            p { (capital(&line.scheduled)) "; quantity " (line.quantity) @if !places.is_empty() { ". " (places.join("; ")) } "." }
            p { strong { "Do: " } (line.action) "." }
            @if !line.comments.is_empty() { ul.comments { @for comment in &line.comments { (commented(comment, system)) } } }
            @if !line.remedies.is_empty() {
                h4 { "Remedies, each reviewed again under every rule" }
                ol { @for remedy in &line.remedies { li { (remedy) } } }
            }
            @match drawn {
                Some(Ok(drawn)) => {
                    @let facts = &line.findings.facts;
                    (svg::figure(&section(&line.marks, facts, drawn, system)))
                    (svg::figure(&seat(&line.marks, facts, drawn, review, system)))
                }
                Some(Err(absence)) => { p.why { "No drawing: " (reason(absence, system)) "." } }
                None => {}
            }
        }
    }
}

fn reason(absence: &Absence, system: System) -> String {
    match absence {
        Absence::Because(why) => figures(why, system),
        Absence::Missing(headings) => format!("not stated: {}", lower(headings)),
    }
}

fn commented(line: &CommentLine<'_>, system: System) -> Markup {
    let comment = line.comment;
    let (says, settle) = said(comment, system);
    let remedy = super::super::comments::remedy(comment, system);
    html! {
        li {
            strong { a href=(format!("#{}", rule_anchor(&comment.rule))) { (comment.rule.number) } ": " (comment.rule.title) } " "
            span class=(format!("result {}", class(comment.outcome.word()))) { (comment.outcome.word()) }
            " (" (comment.rule.basis.word()) ")"
            @for text in says.iter().chain(&settle) { br; (text) }
            @if let Some(text) = &remedy { br; (text) }
        }
    }
}

/// Every value of a type with its origin.
pub(super) fn values(line: &TypeLine<'_>, system: System) -> Markup {
    let known = line.findings.facts.iter().filter(|fact| fact.value.is_ok());
    let (computed, given): (Vec<&Shown>, Vec<&Shown>) =
        known.partition(|fact| matches!(fact.origin, Origin::Computed(_)));
    html! {
        details {
            summary { "Every value with its origin" }
            table {
                thead { tr { th scope="col" { "Fact" } th scope="col" { "Value" } th scope="col" { "From" } } }
                tbody {
                    @for fact in given.into_iter().chain(computed) {
                        tr data-fact=(fact.name) { th scope="row" { (fact.heading) } td { (value(fact, system)) } td { (from(&fact.origin)) } }
                    }
                }
            }
        }
    }
}
