//! The page of `coldsill read`: what was read from a schedule, as text or CSV with a line for every cell.

use super::WIDTH;
use super::page::{
    as_text, heading, inert, labelled, labelled_at, not_used, quoted, set_aside, table, unread, wrapped,
};
use super::taken::{self, Taken};
use super::words::{from, listed, lower, value};
use crate::diag::{Location, Position, shortened};
use crate::facts::Origin;
use crate::review::{Blank, Column, Shown, StatedFact, Understood};
use crate::units::System;
use std::collections::BTreeMap;
use std::io::{self, Write};
use std::sync::Arc;

/// The most marks printed; more are only counted.
const MOST_MARKS: usize = 6;

/// A page to read.
pub fn read(it: &Understood<'_>, system: System) -> String {
    let mut out = format!("What was read from {}\n\n", it.schedule);
    let count = if it.rows == 1 { "1 faucet".into() } else { format!("{} faucets", it.rows) };
    let headings = it.heading.map_or_else(String::new, |row| format!("headings in row {row}, "));
    let written = if it.written.is_empty() { String::new() } else { format!("; {}", it.written.join(", ")) };
    out.push_str(&labelled("Schedule", &format!("{headings}{count}{written}"), WIDTH));
    if let Some(job) = &it.job {
        out.push_str(&labelled("Job", job, WIDTH));
    }
    for note in it.notes {
        let line = format!("{}: \"{}\" {}", note.location, shortened(&note.text), note.what);
        out.push_str(&labelled("Note", &line, WIDTH));
    }
    let in_common = it.in_common();
    columns(&mut out, it, &in_common.columns);
    outlets(&mut out, it, system);
    blanks(&mut out, it, &in_common.blanks, system);
    unread(&mut out, it.problems);
    not_used(&mut out, it.unused);
    if let Some(rows) = set_aside(it.aside) {
        heading(&mut out, "Set aside: not outdoor faucets");
        out.push_str(&wrapped(&format!("{rows}. `include:` in the job overrules it."), WIDTH, ""));
        for row in it.aside {
            let line = format!("{}: \"{}\": {}", row.location, shortened(&row.text), row.reason.words()[0]);
            out.push_str(&wrapped(&line, WIDTH, ""));
        }
    }
    inert(out)
}

fn columns(out: &mut String, it: &Understood<'_>, columns: &[Column]) {
    if columns.is_empty() {
        return;
    }
    heading(out, "Columns");
    let rows = columns.iter().map(|column| {
        let file = if column.file == it.schedule { String::new() } else { format!(" ({})", column.file) };
        let rows = format!("{} of {}", column.rows, it.rows);
        vec![format!("{}{file}", column.text), listed(&column.says, usize::MAX), rows]
    });
    out.push_str(&table(&["Column", "Read as", "Faucets"], rows.collect(), WIDTH));
    out.push('\n');
}

/// Rows that say the same of what the outlet is stand together; what the job says of outlets that are silent themselves
/// stands once, at the end.
fn outlets(out: &mut String, of: &Understood<'_>, system: System) {
    heading(out, "Faucets");
    let mut groups: Vec<(Arc<str>, Vec<String>)> = Vec::new();
    let mut known: BTreeMap<Arc<str>, usize> = BTreeMap::new();
    let mut of_job: Vec<String> = Vec::new();
    for outlet in of.outlets() {
        let said = |it: &StatedFact| fact(it, &outlet.location, &of.schedule, system);
        for text in outlet.facts.iter().filter(|it| is_jobs(it)).map(said) {
            if !of_job.contains(&text) {
                of_job.push(text);
            }
        }
        let facts = outlet.facts.iter().filter(|it| !it.is_identity && !is_jobs(it));
        let group = facts.map(said).collect::<Vec<_>>().join("; ");
        let group = *known.entry(group.into()).or_insert_with_key(|said| {
            groups.push((said.clone(), Vec::new()));
            groups.len() - 1
        });
        let apart = outlet.facts.iter().filter(|it| it.is_identity && it.fact.name.as_ref() != "outlet.mark");
        let apart = apart.map(|it| fact(it, &outlet.location, &outlet.location.file, system));
        let who = std::iter::once(outlet.mark.to_string()).chain(apart).collect::<Vec<_>>().join("; ");
        let spot = spot(&outlet.location, &of.schedule);
        let column = if outlet.location.sheet.is_some() { 17 } else { 11 };
        groups[group].1.push(labelled_at(column, &spot, &who, WIDTH));
    }
    for (said, outlets) in &groups {
        outlets.iter().for_each(|it| out.push_str(it));
        let said = if said.is_empty() { "no other facts" } else { &**said };
        out.push_str(&wrapped(said, WIDTH, "             "));
    }
    if !of_job.is_empty() {
        heading(out, "From the job, for faucets without their own");
        out.push_str(&wrapped(&format!("{}.", of_job.join("; ")), WIDTH, ""));
    }
}

fn is_jobs(stated: &StatedFact) -> bool {
    matches!(stated.fact.origin, Origin::Job(..))
}

fn spot(location: &Location, schedule: &str) -> String {
    match (&location.position, &location.sheet) {
        (Position::Row(row, _), Some(sheet)) => format!("Sheet {} row {row}", sheet.number),
        (Position::Row(row, _), None) if *location.file == *schedule => format!("Row {row}"),
        (Position::Row(row, _), None) => format!("Place {row}"),
        (Position::Line(span), _) => format!("Line {}", span.line),
        (Position::Whole, _) => String::new(),
    }
}

/// `Barrel stainless ("SS")`: the text where it reads otherwise, and where it is from where that is not its own column.
fn fact(stated: &StatedFact, outlet: &Location, schedule: &str, system: System) -> String {
    let Shown { heading, origin, .. } = &stated.fact;
    let (text, source) = match origin {
        Origin::Unreadable(_, text) => return format!("{heading} unreadable: \"{}\"", shortened(text)),
        // A place's own facts beside those of its type.
        Origin::Stated(location, text) if location.file == outlet.file && *location.file != *schedule => {
            (Some(text), Some("place".into()))
        }
        Origin::Stated(_, text) => (Some(text), stated.elsewhere.as_ref().map(ToString::to_string)),
        Origin::Product(location, text) => (Some(text), Some(location.file.to_string())),
        Origin::Job(_, text) => (Some(text), None),
        _ => (None, None),
    };
    let said = value(&stated.fact, system);
    let text = text.filter(|it| !it.eq_ignore_ascii_case(&said)).map(|it| format!("\"{}\"", shortened(it)));
    match (source, text) {
        (None, None) => format!("{heading} {said}"),
        (Some(source), None) => format!("{heading} {said} ({source})"),
        (None, Some(text)) => format!("{heading} {said} ({text})"),
        (Some(source), Some(text)) => format!("{heading} {said} ({source}: {text})"),
    }
}

fn blanks(out: &mut String, it: &Understood<'_>, blanks: &[Blank], system: System) {
    let (taken, asked): (Vec<&Blank>, Vec<&Blank>) = blanks.iter().partition(|it| it.taken.is_some());
    if !taken.is_empty() {
        heading(out, "Blank; a review assumes");
        let taken = taken.iter().filter_map(|blank| {
            let marks = if blank.rows == it.rows { &[] } else { &blank.marks[..] };
            Some(Taken { fact: &blank.fact, why: blank.taken.as_ref()?, marks })
        });
        taken::lines(out, &taken.collect::<Vec<_>>(), system);
    }
    if !asked.is_empty() {
        heading(out, "Blank; asked if a rule needs it");
        let (of_all, of_some): (Vec<&Blank>, Vec<&Blank>) =
            asked.iter().partition(|blank| blank.rows == it.rows);
        if !of_all.is_empty() {
            let headings: Vec<Arc<str>> = of_all.iter().map(|it| it.fact.heading.clone()).collect();
            out.push_str(&wrapped(&format!("Every outlet: {}.", lower(&headings)), WIDTH, ""));
        }
        for blank in of_some {
            let line = format!("{}: {}.", blank.fact.heading, listed(&blank.marks, MOST_MARKS));
            out.push_str(&wrapped(&line, WIDTH, ""));
        }
    }
}

/// A line for every cell that says something.
pub fn read_csv(it: &Understood<'_>, system: System, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "Mark,File,Row,Fact,Heading,Value,Text,From,Column")?;
    for outlet in it.outlets() {
        for stated in &outlet.facts {
            let (location, written) = match &stated.fact.origin {
                Origin::Stated(location, text)
                | Origin::Product(location, text)
                | Origin::Job(location, text)
                | Origin::Unreadable(location, text) => (location, &**text),
                _ => (&outlet.location, ""),
            };
            let (row, column) = match &location.position {
                Position::Row(row, column) => (row.to_string(), column.as_deref().unwrap_or_default()),
                Position::Line(span) => (span.line.to_string(), ""),
                Position::Whole => (String::new(), ""),
            };
            let said = if stated.fact.value.is_ok() { value(&stated.fact, system) } else { String::new() };
            let cells = [
                &*outlet.mark,
                &*location.file,
                &row,
                &*stated.fact.name,
                &*stated.fact.heading,
                &said,
                written,
                from(&stated.fact.origin),
                column,
            ];
            for (index, cell) in cells.into_iter().enumerate() {
                out.write_all(if index == 0 { b"" } else { b"," })?;
                out.write_all(quoted(&as_text(cell)).as_bytes())?;
            }
            out.write_all(b"\n")?;
        }
    }
    Ok(())
}
