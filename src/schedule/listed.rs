//! A schedule as a list in YAML or JSON: `outlets:`, each with headings or names of facts and what they say.

use super::entries::{Entry, Raw};
use super::headings::{Known, known};
use super::{Reading, Schedule, Unused, is_blank, rows};
use crate::diag::{Diagnostic, Diagnostics, Location, nearest};
use crate::input::{Decimals, Fields, Kind, Node};
use std::collections::BTreeSet;

/// The key that tells such a schedule from a job.
pub const OUTLETS: &str = "outlets";

/// How many keys that are not understood get a suggestion: each is compared with every heading there is.
const SUGGESTED: usize = 100;

/// Whether a file's values are a schedule.
pub fn is_listed(node: &Node) -> bool {
    matches!(&node.kind, Kind::Map(entries) if entries.iter().any(|(key, _)| key.text == OUTLETS))
}

/// Reads the outlets of a list; a row's number is its line. What keeps the list from being read goes to `problems`.
pub fn read_listed(node: &Node, reading: &Reading<'_>, problems: &mut Diagnostics) -> Option<Schedule> {
    let mut schedule = Schedule { file: node.place.file.clone(), ..Schedule::default() };
    let mut fields = Fields::of(node, "schedule", problems)?;
    let listed = fields.need(OUTLETS, problems).and_then(|it| it.list("list of outlets", problems));
    fields.finish(problems);
    let mut entries = Vec::new();
    let mut told: BTreeSet<&str> = BTreeSet::new();
    let mut headings: BTreeSet<&str> = BTreeSet::new();
    for node in listed? {
        let Some(keys) = node.map("outlet", &mut schedule.problems) else { continue };
        let number = node.place.line_or_row().unwrap_or(0);
        let place = Location::cell(&schedule.file, number, None);
        let mut entry =
            Entry { number, place, cells: Vec::new(), others: Vec::new(), struck: false, again: false };
        for (key, node) in keys {
            if node.is_null() {
                continue;
            }
            if headings.insert(&key.text) {
                schedule.headings.push(key.text.as_str().into());
            }
            let known = known(&key.text, reading);
            let Known::Column(column) = known else {
                if let Kind::Scalar { text, .. } = &node.kind
                    && matches!(known, Known::Not)
                {
                    entry.others.push(text.trim().into());
                }
                // A key that every outlet has is told once.
                if told.insert(&key.text) {
                    schedule.leave(&key.text, &key.place, known, told.len() <= SUGGESTED, reading);
                }
                continue;
            };
            let Some(text) = node.text("value", &mut schedule.problems) else { continue };
            if is_blank(text) {
                continue;
            }
            entry.cells.push(Raw {
                term: column.term,
                place: node.place.clone(),
                text: text.trim().into(),
                unit: column.unit,
                flaw: None,
                merged: false,
                decimals: Decimals::Point,
            });
        }
        entry.cells.sort_by_key(|raw| raw.term);
        entries.push(entry);
    }
    rows::settle(entries, reading, &mut schedule);
    Some(schedule)
}

impl Schedule {
    fn leave(&mut self, key: &str, place: &Location, known: Known, suggests: bool, reading: &Reading<'_>) {
        let is_ignored = matches!(known, Known::Ignored);
        let why = if is_ignored { "the job leaves this column out" } else { "the heading is not understood" };
        self.unused.push(Unused { place: place.clone(), text: key.into(), why });
        let aliases = reading.vocabulary.iter().flat_map(|term| term.aliases.iter().copied());
        if let Some(nearest) = (suggests && !is_ignored).then(|| nearest(key, aliases)).flatten() {
            let mut problem = Diagnostic::new(place.clone(), "is a heading that is not understood").text(key);
            problem.nearest = Some(nearest.to_owned());
            self.problems.push(problem);
        }
    }
}
