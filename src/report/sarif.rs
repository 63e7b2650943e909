//! A review in SARIF 2.1.0, the OASIS format for results of an analysis: a result for each comment on each row, at the row
//! and the columns that its rule reads.

use super::REMINDER;
use super::comments::{said, speaks};
use super::json::PROGRAM;
use super::page::unused_line;
use crate::diag::{Location, Position};
use crate::facts::Origin;
use crate::review::{Comment, OutletReview, Review};
use crate::ruleset::{Basis, Outcome};
use crate::units::System;
use serde_json::{Map, Value, json};
use std::io;

const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";
/// Extensions of files whose rows are lines of text.
const TEXT_TABLES: [&str; 3] = [".csv", ".tsv", ".txt"];

/// Writes the review as SARIF.
pub fn sarif(review: &Review, system: System, out: &mut dyn io::Write) -> io::Result<()> {
    let comments = review.outlets.first().map(|outlet| &outlet.findings.comments[..]).unwrap_or_default();
    let rules: Vec<Value> = comments.iter().map(rule).collect();
    let of_outlet = |outlet| results(outlet, system);
    let results: Vec<Value> = review.outlets.iter().flat_map(of_outlet).collect();
    let notification = |level: &str, text: String, at: &Location| json!({ "level": level, "message": { "text": text }, "locations": [location(at, &[])] });
    let problems = review.problems.iter().map(|it| notification("warning", it.to_string(), &it.location));
    let unused = review.unused.iter().map(|it| notification("note", unused_line(it), &it.location));
    let notifications: Vec<Value> = problems.chain(unused).collect();
    let document = json!({
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": { "name": "Coldsill", "semanticVersion": PROGRAM, "rules": rules } },
            "invocations": [{ "executionSuccessful": true, "toolExecutionNotifications": notifications }],
            "columnKind": "unicodeCodePoints",
            "results": results,
            "properties": { "reminder": REMINDER },
        }],
    });
    super::json::write(&document, out)
}

fn rule(comment: &Comment) -> Value {
    let rule = &comment.rule;
    json!({
        "id": rule.id,
        "shortDescription": { "text": rule.title },
        "fullDescription": { "text": rule.why },
        "properties": { "number": rule.number, "basis": rule.basis.word(), "references": rule.see },
    })
}

/// The comments on a row. An index of a rule is its place among the comments, which are one per rule.
fn results(outlet: &OutletReview, system: System) -> Vec<Value> {
    let comments = outlet.findings.comments.iter().zip(0_usize..);
    let results = comments.filter(|(comment, _)| speaks(comment)).map(|(comment, index)| {
        let (kind, level) = match (comment.outcome, comment.rule.basis) {
            (Outcome::Revise, Basis::AdoptedCode) => ("fail", "error"),
            (Outcome::Revise, _) => ("fail", "warning"),
            (Outcome::Clarify, _) => ("open", "none"),
            _ => ("informational", "none"),
        };
        let (says, settle) = said(comment, system);
        let remedy = super::comments::remedy(comment, system).map(|remedy| format!("Correction: {remedy}"));
        let title = format!("{}: {}.", outlet.mark, comment.rule.title);
        let texts: Vec<String> = [Some(title), says, settle, remedy].into_iter().flatten().collect();
        json!({
            "ruleId": comment.rule.id,
            "ruleIndex": index,
            "kind": kind,
            "level": level,
            "message": { "text": texts.join(" ") },
            "locations": [location(&outlet.location, &columns(outlet, comment))],
            "properties": { "mark": outlet.mark, "quantity": outlet.quantity, "outcome": comment.outcome.word() },
        })
    });
    results.collect()
}

/// The columns of the row that a rule reads, in the order that it reads them.
fn columns(outlet: &OutletReview, comment: &Comment) -> Vec<String> {
    let mut columns: Vec<String> = Vec::new();
    for value in &comment.values {
        let origin = outlet.fact(&value.name).map(|fact| fact.origin);
        let (Some(Origin::Stated(at, _) | Origin::Unreadable(at, _)), row) = (origin, &outlet.location)
        else {
            continue;
        };
        if let Position::Row(number, Some(column)) = &at.position
            && (&at.file, &at.sheet, Some(*number)) == (&row.file, &row.sheet, row.row())
            && !columns.iter().any(|known| **known == **column)
        {
            columns.push(column.to_string());
        }
    }
    columns
}

/// A place as SARIF has it: a line of a text, or a row and columns by name.
fn location(at: &Location, columns: &[String]) -> Value {
    let mut physical = Map::new();
    physical.insert("artifactLocation".into(), json!({ "uri": uri(&at.file) }));
    let is_text = TEXT_TABLES.iter().any(|end| at.file.to_lowercase().ends_with(end));
    let mut logical: Vec<Value> = Vec::new();
    match &at.position {
        Position::Whole => {}
        Position::Line(span) => {
            physical.insert("region".into(), json!({ "startLine": span.line, "startColumn": span.start }));
        }
        Position::Row(row, own) => {
            if is_text {
                physical.insert("region".into(), json!({ "startLine": row }));
            }
            let sheet = at.sheet.as_ref().map(|sheet| format!("sheet {}, ", sheet.name)).unwrap_or_default();
            let row = format!("{sheet}row {row}");
            let cell = |column: &str| json!({ "name": column, "fullyQualifiedName": format!("{row}, column {column}"), "kind": "member" });
            logical.extend(columns.iter().map(String::as_str).chain(own.as_deref()).map(cell));
            if logical.is_empty() {
                logical.push(json!({ "name": row, "kind": "element" }));
            }
        }
    }
    let mut location = Map::new();
    location.insert("physicalLocation".into(), physical.into());
    if !logical.is_empty() {
        location.insert("logicalLocations".into(), logical.into());
    }
    location.into()
}

/// The path of a file as a relative reference of RFC 3986: other characters than unreserved ones and slashes are escaped.
fn uri(path: &str) -> String {
    let mut uri = String::new();
    for byte in path.bytes() {
        match byte {
            b'\\' => uri.push('/'),
            b'/' | b'-' | b'.' | b'_' | b'~' => uri.push(byte.into()),
            byte if byte.is_ascii_alphanumeric() => uri.push(byte.into()),
            byte => uri.push_str(&format!("%{byte:02X}")),
        }
    }
    uri
}
