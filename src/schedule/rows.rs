//! Reads the rows of a schedule: which are outlets, what dittos and references to other rows stand for, and the value
//! of every cell. Every row that is skipped is reported.

use super::cell::{CellError, read_cell};
use super::entries::{Entry, Raw};
use super::errors::ScheduleError;
use super::text::plain;
use super::types::{Cell, Noted, Reading, Row, Schedule};
use super::unused::Why;
use super::vocabulary::{Read, Reads};
use super::{from_words, phrases, references};
use crate::diag::{Diagnostic, Location};
use crate::input::{Flaw, with_point};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Reads entries into the schedule.
pub(super) fn add(entries: Vec<Entry>, reading: &Reading<'_>, schedule: &mut Schedule) {
    let mut outlets: Vec<Entry> = Vec::new();
    // The last row that is or was an outlet; a ditto below repeats its cells.
    let mut above: Option<Entry> = None;
    for mut entry in entries {
        let Some(why) = why_skipped(&entry, reading) else {
            repeat_dittos(&mut entry, above.as_ref(), reading, schedule);
            above = Some(entry.clone());
            outlets.push(entry);
            continue;
        };
        if entry.cells.is_empty() && entry.others.is_empty() {
            continue;
        }
        let name = entry.name(reading.mark);
        let reason = (why == Why::Deleted).then(|| reason_of_deletion(&entry, reading)).flatten();
        let text = reason.map_or(name.clone(), |reason| format!("{name}: {reason}").into());
        schedule.unused.push(why.of(entry.place.clone(), text));
        if matches!(why, Why::Deleted | Why::Struck) {
            above = Some(entry);
        }
    }
    references::follow(&mut outlets, reading, schedule);
    let mut reader = CellReader { reading, schedule, known: Known::new(), closed: BTreeSet::new() };
    for entry in outlets {
        let cells = reader.cells(&entry);
        reader.schedule.rows.push(Row { number: entry.number, cells, at: None });
    }
    let closed = reader.closed;
    from_words::add(schedule, reading.vocabulary, &closed);
}

/// The text that marks a row as deleted, if it says more than that.
fn reason_of_deletion<'e>(entry: &'e Entry, reading: &Reading<'_>) -> Option<&'e Arc<str>> {
    let cells = entry.cells.iter().filter(|raw| raw.term != reading.mark).map(|raw| &raw.text);
    cells.chain(&entry.others).find(|text| phrases::deletes_for_reason(text) && !phrases::deletes(text))
}

/// Why a row is not an outlet; `None` if it is one.
fn why_skipped(entry: &Entry, reading: &Reading<'_>) -> Option<Why> {
    if entry.struck {
        return Some(Why::Struck);
    }
    if entry.again {
        return Some(Why::HeadingsAgain);
    }
    let mark = entry.cell(reading.mark).map(|raw| &*raw.text);
    let is_mark = |raw: &Raw| raw.term == reading.mark;
    let is_count = |raw: &Raw| matches!(reading.vocabulary[raw.term].reads, Reads::Count);
    let is_free = |raw: &Raw| matches!(reading.vocabulary[raw.term].reads, Reads::Text | Reads::Count);
    let has_one_fact = entry.cells.iter().filter(|raw| !is_mark(raw) && !is_count(raw)).count() <= 1;
    let words = entry.cells.iter().filter(|raw| !is_mark(raw) && (is_free(raw) || has_one_fact));
    let deletes = |text: &Arc<str>| phrases::deletes(text) || phrases::deletes_for_reason(text);
    if mark.is_some_and(phrases::is_deleted_mark)
        || words.map(|raw| &raw.text).chain(&entry.others).any(deletes)
    {
        return Some(Why::Deleted);
    }
    let counts_total = || entry.cells.iter().any(|raw| is_count(raw) && phrases::is_total(&raw.text));
    if mark.is_some_and(phrases::is_total_word) || mark.is_none() && has_one_fact && counts_total() {
        return Some(Why::Total);
    }
    // A total has a count and nothing else.
    let mut stated = entry.cells.iter().filter(|raw| !is_count(raw)).map(|raw| &raw.text);
    let label = stated.next().or(entry.others.first());
    if stated.next().is_none() && label.is_some_and(|text| phrases::is_total(text)) {
        return Some(Why::Total);
    }
    match (entry.cells.as_slice(), entry.others.as_slice()) {
        ([], _) => Some(Why::UnknownColumns),
        ([only], []) if is_mark(only) && phrases::is_note(&only.text) => Some(Why::Total),
        _ => None,
    }
}

/// Replaces ditto marks by what is above them.
fn repeat_dittos(entry: &mut Entry, above: Option<&Entry>, reading: &Reading<'_>, schedule: &mut Schedule) {
    let mut repeated: Vec<String> = Vec::new();
    let name = entry.name(reading.mark);
    let cells = std::mem::take(&mut entry.cells);
    for raw in cells {
        if !phrases::is_ditto(&raw.text) {
            entry.cells.push(raw);
            continue;
        }
        let source = above.and_then(|above| above.cell(raw.term));
        let points = |source: &Raw| phrases::pointer(&source.text).is_some_and(|(_, is_certain)| is_certain);
        let error = match source {
            None => ScheduleError::DittoOfNothing,
            Some(source) if points(source) => ScheduleError::DittoOfPointer { to: source.text.clone() },
            Some(Raw { text, flaw, unit, merged, .. }) => {
                let heading = raw.place.heading().map_or_else(|| reading.heading(raw.term), AsRef::as_ref);
                repeated.push(format!("{heading} ({text})"));
                let merged = *merged || raw.merged;
                entry.cells.push(Raw { text: text.clone(), flaw: *flaw, unit: *unit, merged, ..raw });
                continue;
            }
        };
        schedule.problems.push(error.at(raw.place).text(&*raw.text));
    }
    if !repeated.is_empty() {
        let what = format!("repeats from the row above by ditto: {}", repeated.join(", "));
        let text = entry.cell(reading.mark).map_or(name, |raw| raw.text.clone());
        schedule.notes.push(Noted { place: entry.place.clone(), text, what: what.into() });
    }
}

/// Values of texts, by term and unit: a long schedule repeats them.
type Known = BTreeMap<(usize, Option<&'static str>, Arc<str>), Result<Read, CellError>>;

struct CellReader<'s> {
    reading: &'s Reading<'s>,
    schedule: &'s mut Schedule,
    known: Known,
    /// Cells whose words are not read: struck through, damaged, or contradicted.
    closed: BTreeSet<Location>,
}

impl CellReader<'_> {
    fn cells(&mut self, entry: &Entry) -> Vec<Cell> {
        let mut cells: Vec<Cell> = Vec::new();
        for raw in &entry.cells {
            if raw.flaw.is_some() {
                self.closed.insert(raw.place.clone());
            }
            let value = self.value(raw);
            let value = self.schedule.problems.ok(value);
            let Some(first) = cells.iter_mut().find(|cell| cell.term == raw.term) else {
                let (place, text) = (raw.place.clone(), raw.text.clone());
                cells.push(Cell { term: raw.term, place, text, value });
                continue;
            };
            // Two columns for one fact agree, or neither is used.
            let agree = plain(&first.text) == plain(&raw.text) || is_same(&first.value, &value);
            if !agree {
                let (text, heading) = (first.text.clone(), first.place.heading().cloned());
                let error = ScheduleError::ColumnsContradict { text, heading };
                self.schedule.problems.push(error.at(raw.place.clone()).text(&*raw.text));
                first.value = None;
                self.closed.insert(first.place.clone());
            }
        }
        cells
    }

    /// The value of a cell.
    fn value(&mut self, raw: &Raw) -> Result<Read, Diagnostic> {
        let reads = &self.reading.vocabulary[raw.term].reads;
        let is_text = matches!(reads, Reads::Text);
        // A date is a text like others among free words, but not a mark.
        let is_harmless = |flaw: &Flaw| is_text && raw.term != self.reading.mark && *flaw == Flaw::Date;
        if let Some(flaw) = raw.flaw.filter(|flaw| !is_harmless(flaw)) {
            return Err(flaw.problem(raw.place.clone(), &raw.text));
        }
        let error = |error: ScheduleError| error.at(raw.place.clone()).text(&*raw.text);
        if raw.merged && matches!(reads, Reads::Count) {
            return Err(error(ScheduleError::MergedCount));
        }
        if is_text {
            return Ok(Read::Text(raw.text.clone()));
        }
        let text = if matches!(reads, Reads::Quantity { .. }) {
            with_point(&raw.text, raw.decimals).ok_or_else(|| error(ScheduleError::AmbiguousComma))?
        } else {
            (&*raw.text).into()
        };
        let unit = raw.unit.and_then(|unit| unit.names.first().copied());
        let read = self.known.entry((raw.term, unit, raw.text.clone()));
        let read = read.or_insert_with(|| read_cell(reads, &text, raw.unit));
        read.clone().map_err(|error| error.at(raw.place.clone(), &raw.text))
    }
}

/// Whether two cells have the same value, but for binary rounding.
fn is_same(a: &Option<Read>, b: &Option<Read>) -> bool {
    match (a, b) {
        (Some(Read::Quantity(a)), Some(Read::Quantity(b))) => {
            a.measure == b.measure && (a.is - b.is).abs() <= 1e-9 * a.is.abs().max(b.is.abs())
        }
        _ => a.is_some() && a == b,
    }
}
