//! A schedule as a list in YAML or JSON: `outlets:`, each with headings or names of facts and their values.

use super::entries::{Entry, Raw};
use super::headings::{Known, known, unknown_heading};
use super::rows;
use super::text::{is_blank, says_unknown};
use super::types::{ReadOptions, Schedule};
use super::unused::Why;
use crate::diag::{Diagnostics, Location};
use crate::input::{Decimals, Fields, Key, Kind, Node};
use std::collections::BTreeSet;

/// The key that tells such a schedule from a job.
pub const OUTLETS: &str = "outlets";

/// How many unknown keys get a suggestion: each is compared with every heading.
const MOST_SUGGESTED: usize = 100;

/// Whether a file's values are a schedule.
pub fn is_listed(node: &Node) -> bool {
    matches!(&node.kind, Kind::Map(entries) if entries.iter().any(|(key, _)| key.text == OUTLETS))
}

/// Reads the outlets of a list; the number of a row is its line. `None`, with errors, if there is no list.
pub fn read_listed(node: &Node, options: &ReadOptions<'_>, errors: &mut Diagnostics) -> Option<Schedule> {
    let mut fields = Fields::of(node, "schedule", errors)?;
    let outlets = fields.required(OUTLETS, errors).and_then(|node| node.list("list of outlets", errors));
    fields.finish(errors);
    let schedule = Schedule { file: node.location.file.clone(), ..Schedule::default() };
    let mut reader = ListReader { options, schedule, headings: BTreeSet::new(), reported: BTreeSet::new() };
    let entries = outlets?.iter().filter_map(|node| reader.entry(node)).collect();
    rows::add(entries, Vec::new(), options, &mut reader.schedule);
    Some(reader.schedule)
}

struct ListReader<'n> {
    options: &'n ReadOptions<'n>,
    schedule: Schedule,
    headings: BTreeSet<&'n str>,
    /// Keys that are not used and were reported.
    reported: BTreeSet<&'n str>,
}

impl<'n> ListReader<'n> {
    fn entry(&mut self, node: &'n Node) -> Option<Entry> {
        let keys = node.map("outlet", &mut self.schedule.problems)?;
        let number = node.location.line_or_row().unwrap_or(0);
        let location = Location::cell(&self.schedule.file, number, None);
        let mut entry = Entry {
            removed: None,
            number,
            location,
            cells: Vec::new(),
            others: Vec::new(),
            unread: Vec::new(),
            added: Vec::new(),
            comments: Vec::new(),
            doubts: Vec::new(),
            struck: false,
            again: false,
        };
        for (key, value) in keys.iter().filter(|(_, value)| !value.is_null()) {
            if self.headings.insert(&key.text) {
                self.schedule.headings.push(key.text.as_str().into());
            }
            let known = known(&key.text, self.options);
            let Known::Column(column) = known else {
                if let (Kind::Scalar { text, .. }, Known::Not) = (&value.kind, known) {
                    entry.others.push(text.trim().into());
                }
                self.report_unused(key, known);
                continue;
            };
            let Some(text) = value.text("value", &mut self.schedule.problems) else { continue };
            let is_free = self.options.is_free_text(column.term);
            if !(is_blank(text) || is_free && says_unknown(text)) {
                entry.cells.push(Raw {
                    term: column.term,
                    location: value.location.clone(),
                    text: text.trim().into(),
                    unit: column.unit,
                    flaw: None,
                    merged: false,
                    decimals: Decimals::Point,
                });
            }
        }
        entry.cells.sort_by_key(|raw| raw.term);
        Some(entry)
    }

    /// Reports a key that is not used, once for all outlets.
    fn report_unused(&mut self, key: &'n Key, known: Known) {
        if !self.reported.insert(&key.text) {
            return;
        }
        let why = if matches!(known, Known::Ignored) { Why::IgnoredColumn } else { Why::UnknownHeading };
        self.schedule.unused.push(why.of(key.location.clone(), key.text.as_str()));
        if why == Why::UnknownHeading && self.reported.len() <= MOST_SUGGESTED {
            let warning = unknown_heading(&key.text, key.location.clone(), self.options.vocabulary);
            self.schedule.problems.extend(warning);
        }
    }
}
