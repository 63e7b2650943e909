//! Statements held against a row: what the row orders is in doubt, and the review asks. Nothing is changed by them.

use super::cell::read_cell;
use super::deletion::{Deletes, deletes};
use super::entries::{AddedFrom, Entry, Raw};
use super::hazards::Contradicts;
use super::text::{has_any_word, plain};
use super::types::{Cell, ReadOptions, Schedule};
use super::unused::Why;
use super::vocabulary::{CellType, CellValue, Subject, term_of};
use super::word_source::quoted;
use super::{general, remarks};
use crate::diag::Location;
use crate::input::Flaw;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Statements by the number of the row they are held against.
#[derive(Debug, Default)]
pub(super) struct Held(BTreeMap<u32, Vec<(Location, Arc<str>, String)>>);

impl Held {
    /// Holds a text against a row; the label says what it is about.
    pub(super) fn add(&mut self, row: u32, label: &str, text: &Arc<str>, location: &Location) {
        self.add_statement(row, text, location, format!("{label}: {}", quoted(text, location)));
    }

    /// Holds a text against a row, with what is said of it.
    pub(super) fn add_statement(
        &mut self,
        row: u32,
        text: &Arc<str>,
        location: &Location,
        statement: String,
    ) {
        let all = self.0.entry(row).or_default();
        if !all.iter().any(|(_, _, known)| *known == statement) {
            all.push((location.clone(), text.clone(), statement));
        }
    }

    /// Makes each a contradiction of its row. Those of other rows are listed.
    pub(super) fn apply(self, options: &ReadOptions<'_>, schedule: &mut Schedule) {
        let term = term_of(Subject::Disagreement, options.vocabulary);
        for (number, all) in self.0 {
            let row = schedule.rows.iter_mut().find(|row| row.number == number);
            let (Some(row), Some(term)) = (row, term) else {
                let unused = all.into_iter().map(|(location, text, _)| Why::HeldAgainst.of(location, text));
                schedule.unused.extend(unused);
                continue;
            };
            let location = all[0].0.clone();
            // What the words of the row contradict comes first, and is not said again.
            let known = row.cells.iter().position(|cell| cell.term == term).map(|at| row.cells.remove(at));
            let is_said = |text: &str, at: &Location| {
                known.as_ref().is_some_and(|it| it.text.contains(&quoted(text, at)))
            };
            let mut statements: Vec<String> = all
                .into_iter()
                .filter(|(at, text, _)| !is_said(text, at))
                .map(|(_, _, statement)| statement)
                .collect();
            statements.splice(0..0, known.map(|cell| cell.text.to_string()));
            let text: Arc<str> = statements.join("; ").into();
            row.cells.push(Cell { term, location, text: text.clone(), value: Some(CellValue::Text(text)) });
            row.cells.sort_by_key(|cell| cell.term);
        }
    }
}

/// Whether a count is 0: an outlet that nobody orders, or a row that is kept for later.
fn is_none(text: &str) -> bool {
    let count = read_cell(&CellType::Count, text, None);
    matches!(count, Ok(CellValue::Quantity(count)) if count.is == 0.0)
}

/// Holds words that delete a part against their row, `VB - deleted`, comments that leave a cell open, and a count of none.
/// So are the cells under a heading in doubt.
pub(super) fn hold_open(
    entry: &Entry,
    doubtful: &[(Arc<str>, Location)],
    options: &ReadOptions<'_>,
    held: &mut Held,
) {
    // A column of an unknown heading that names outlets is read as a description.
    let is_fact = |raw: &Raw| {
        let subject = options.vocabulary[raw.term].subject;
        raw.term != options.mark && subject != Some(Subject::Notes)
    };
    for (heading, location) in doubtful {
        let is_under = |raw: &Raw| raw.location.heading() == Some(heading);
        if entry.cells.iter().any(|raw| is_under(raw) && is_fact(raw)) {
            held.add(entry.number, "Heading", heading, location);
        }
    }
    let mark = entry.cell(options.mark).map(|raw| &*raw.text);
    let is_text = |raw: &&Raw| matches!(options.vocabulary[raw.term].reads, CellType::Text);
    let own = entry.cells.iter().filter(|raw| raw.term != options.mark);
    let continued = entry.added.iter().filter(|(_, from)| *from == AddedFrom::Continued).map(|(raw, _)| raw);
    for raw in own.chain(continued).filter(is_text) {
        let subject = options.vocabulary[raw.term].subject;
        if deletes(&raw.text, subject, mark) == Some(Deletes::Part) {
            held.add(entry.number, "Deleted", &raw.text, &raw.location);
        }
    }
    if let Some(raw) = entry.cell(options.mark).filter(|raw| remarks::is_doubtful_mark(&raw.text)) {
        held.add(entry.number, "Mark", &raw.text, &raw.location);
    }
    // A line through a text, as plain text has it.
    for raw in entry.cells.iter().filter(|raw| raw.text.starts_with("~~") && raw.text.ends_with("~~")) {
        held.add(entry.number, "Struck through", &raw.text, &raw.location);
    }
    let counted = term_of(Subject::Quantity, options.vocabulary).and_then(|term| entry.cell(term));
    if let Some(raw) = counted.filter(|raw| is_none(&raw.text)) {
        held.add(entry.number, options.heading(raw.term), &raw.text, &raw.location);
    }
    // Only a comment that leaves the cell open is the business of the row.
    let is_open = |text: &str| {
        const DENIES: [&str; 8] = ["not", "no", "non", "off", "actually", "without", "instead", "draft"];
        general::has_standing(text)
            || text.contains(|c: char| c == '?' || c.is_ascii_digit())
            || has_any_word(text, &DENIES)
            || Contradicts::of(text).is_any()
    };
    // Nothing else asks what a row is called, and a standard bibb is called so.
    let is_kind = |raw: &&Raw| options.vocabulary[raw.term].subject == Some(Subject::Kind);
    let is_doubtful = |raw: &&Raw| raw.flaw.is_some_and(|it| it != Flaw::Date);
    for raw in entry.cells.iter().filter(is_kind).filter(is_doubtful) {
        held.add(entry.number, "Kind in doubt", &raw.text, &raw.location);
    }
    for doubt in &entry.doubts {
        held.add_statement(entry.number, &doubt.text, &doubt.location, doubt.statement.to_string());
    }
    for (location, text) in entry.comments.iter().filter(|(_, text)| is_open(text)) {
        held.add(entry.number, "Comment", text, location);
    }
    let is_doubt = |text: &str| {
        let words = Contradicts::of(text);
        remarks::is_doubt(text) || words.is_any() || words.names_wall()
    };
    let is_said = |text: &str| entry.cells.iter().any(|raw| plain(&raw.text) == plain(text));
    for (location, text) in entry.unread.iter().filter(|(_, text)| is_doubt(text) && !is_said(text)) {
        held.add(entry.number, "Not read", text, location);
    }
    for text in &entry.others {
        if deletes(text, None, mark) == Some(Deletes::Part) {
            held.add(entry.number, "Deleted", text, &entry.location);
        }
    }
}
