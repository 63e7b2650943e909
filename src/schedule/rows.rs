//! Settles what the rows of a schedule say: which are outlets, what dittos and references to other rows stand for, and
//! what every cell reads as. Nothing is dropped without being told.

use super::entries::{Entry, Raw};
use super::terms::{Read, Reads, Unread, read_cell};
use super::{Cell, Noted, Reading, Row, Schedule, Unused, from_words, phrases, plain, references};
use crate::diag::{Diagnostic, Location};
use crate::input::{Flaw, with_point};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Reads entries into the schedule.
pub(super) fn settle(mut entries: Vec<Entry>, reading: &Reading<'_>, schedule: &mut Schedule) {
    let mut outlets: Vec<Entry> = Vec::new();
    // The last row that is an outlet or was one, whose cells a ditto below it repeats.
    let mut above: Option<Entry> = None;
    for mut entry in entries.drain(..) {
        match no_outlet(&entry, reading) {
            Some(why) => {
                if entry.cells.is_empty() && entry.others.is_empty() {
                    continue;
                }
                let name = entry.name(reading.mark);
                let reason = (why == TAKEN_OUT).then(|| reason(&entry, reading)).flatten();
                let text = reason.map_or(name.clone(), |reason| format!("{name}: {reason}").into());
                schedule.unused.push(Unused { place: entry.place.clone(), text, why });
                if why == TAKEN_OUT || why == STRUCK {
                    above = Some(entry);
                }
            }
            None => {
                repeat(&mut entry, above.as_ref(), reading, schedule);
                above = Some(entry.clone());
                outlets.push(entry);
            }
        }
    }
    references::follow(&mut outlets, reading, schedule);
    let (mut known, mut closed) = (Known::new(), BTreeSet::new());
    for entry in outlets {
        let cells = read_cells(&entry, reading, schedule, &mut known, &mut closed);
        schedule.rows.push(Row { number: entry.number, cells, at: None });
    }
    from_words::add(schedule, reading.vocabulary, &closed);
}

const TAKEN_OUT: &str = "the row is taken out of the job by its own words";
const STRUCK: &str = "the row is struck through";

/// The words by which a row is taken out, where they say more than that.
fn reason<'e>(entry: &'e Entry, reading: &Reading<'_>) -> Option<&'e Arc<str>> {
    let cells = entry.cells.iter().filter(|it| it.term != reading.mark).map(|it| &it.text);
    cells.chain(&entry.others).find(|text| phrases::taken_out_for(text) && !phrases::taken_out(text))
}

/// Why a row is no outlet, where it is none.
fn no_outlet(entry: &Entry, reading: &Reading<'_>) -> Option<&'static str> {
    let mark = entry.cell(reading.mark).map(|it| &*it.text);
    if entry.struck {
        return Some(STRUCK);
    }
    if entry.again {
        return Some("the row says the headings again");
    }
    let is_count = |raw: &&Raw| matches!(reading.vocabulary[raw.term].reads, Reads::Count);
    let others = entry.cells.iter().filter(|it| it.term != reading.mark && !is_count(it));
    let says_nothing_else = others.count() <= 1;
    let is_free = |raw: &Raw| matches!(reading.vocabulary[raw.term].reads, Reads::Text | Reads::Count);
    let mut words =
        entry.cells.iter().filter(|raw| raw.term != reading.mark && (is_free(raw) || says_nothing_else));
    if mark.is_some_and(phrases::mark_taken_out)
        || words.any(|raw| phrases::taken_out(&raw.text) || phrases::taken_out_for(&raw.text))
        || entry.others.iter().any(|text| phrases::taken_out(text) || phrases::taken_out_for(text))
    {
        return Some(TAKEN_OUT);
    }
    const TOTAL: &str = "the row is a total, a title or a note, not an outlet";
    let counts_total = || entry.cells.iter().any(|raw| is_count(&raw) && phrases::is_total(&raw.text));
    if mark.is_some_and(phrases::is_total_word) || mark.is_none() && says_nothing_else && counts_total() {
        return Some(TOTAL);
    }
    // A total counts, and says nothing else.
    let mut stated = entry.cells.iter().filter(|raw| !is_count(raw));
    let said = stated.next().map(|it| &*it.text).or(entry.others.first().map(|it| &**it));
    if stated.next().is_none() && said.is_some_and(phrases::is_total) {
        return Some(TOTAL);
    }
    match (entry.cells.as_slice(), entry.others.as_slice()) {
        ([], _) => Some("nothing in the row stands in a column that is understood"),
        ([alone], []) if alone.term == reading.mark && phrases::is_note(&alone.text) => Some(TOTAL),
        _ => None,
    }
}

/// Puts what stands above in the place of ditto marks.
fn repeat(entry: &mut Entry, above: Option<&Entry>, reading: &Reading<'_>, schedule: &mut Schedule) {
    let name = entry.name(reading.mark);
    let mut repeated: Vec<Arc<str>> = Vec::new();
    let mut kept = Vec::new();
    for raw in std::mem::take(&mut entry.cells) {
        if !phrases::is_ditto(&raw.text) {
            kept.push(raw);
            continue;
        }
        match above.and_then(|it| it.cell(raw.term)) {
            Some(source) if phrases::pointer(&source.text).is_some_and(|(_, is_plain)| is_plain) => {
                let what =
                    format!("repeats \"{}\", which points to another row; it is not known", source.text);
                let problem = Diagnostic::new(raw.place.clone(), what).text(&*raw.text);
                schedule.problems.push(problem.expected("the fact written out"));
            }
            Some(source) => {
                let heading =
                    raw.place.heading().cloned().unwrap_or_else(|| reading.heading(raw.term).into());
                repeated.push(format!("{heading} ({})", source.text).into());
                let (text, flaw, unit) = (source.text.clone(), source.flaw, source.unit);
                kept.push(Raw { text, flaw, unit, merged: source.merged || raw.merged, ..raw });
            }
            None => {
                let what = "repeats what stands above, and nothing does; it is not known";
                schedule.problems.push(Diagnostic::new(raw.place.clone(), what).text(&*raw.text));
            }
        }
    }
    entry.cells = kept;
    if !repeated.is_empty() {
        let what = format!("repeats from the row above by ditto: {}", repeated.join(", "));
        let name = entry.cell(reading.mark).map_or(name, |it| it.text.clone());
        schedule.notes.push(Noted { place: entry.place.clone(), text: name, what: what.into() });
    }
}

/// What texts were read as, by term and unit: a long schedule says the same over and over.
type Known = BTreeMap<(usize, Option<&'static str>, Arc<str>), Result<Read, Unread>>;

/// `closed` takes the cells whose text is not to be read at all: struck, spoilt by the workbook, or contradicted.
fn read_cells(
    entry: &Entry,
    reading: &Reading<'_>,
    schedule: &mut Schedule,
    known: &mut Known,
    closed: &mut BTreeSet<Location>,
) -> Vec<Cell> {
    let mut cells: Vec<Cell> = Vec::new();
    for raw in &entry.cells {
        if raw.flaw.is_some() {
            closed.insert(raw.place.clone());
        }
        let value = match value(raw, reading, known) {
            Ok(value) => Some(value),
            Err(problem) => {
                schedule.problems.push(problem);
                None
            }
        };
        let Some(first) = cells.iter_mut().find(|it| it.term == raw.term) else {
            cells.push(Cell { term: raw.term, place: raw.place.clone(), text: raw.text.clone(), value });
            continue;
        };
        // Two columns for one fact: they agree, or neither is to be trusted.
        let agree = plain(&first.text) == plain(&raw.text) || value.is_some() && alike(&first.value, &value);
        if !agree {
            let other = first.place.heading().map(|it| format!(" under \"{it}\"")).unwrap_or_default();
            let what = format!("contradicts \"{}\"{other}; neither is used", first.text);
            schedule.problems.push(
                Diagnostic::new(raw.place.clone(), what)
                    .text(&*raw.text)
                    .expected("the same in both columns"),
            );
            first.value = None;
            closed.insert(first.place.clone());
        }
    }
    cells
}

/// Whether two readings are one, but for a rounding of the computer's.
fn alike(a: &Option<Read>, b: &Option<Read>) -> bool {
    match (a, b) {
        (Some(Read::Quantity(a)), Some(Read::Quantity(b))) => {
            a.measure == b.measure && (a.is - b.is).abs() <= 1e-9 * a.is.abs().max(b.is.abs())
        }
        _ => a == b,
    }
}

fn value(raw: &Raw, reading: &Reading<'_>, known: &mut Known) -> Result<Read, Diagnostic> {
    let reads = &reading.vocabulary[raw.term].reads;
    // A date is a text like others among free words, but no mark.
    let is_text = matches!(reads, Reads::Text) && raw.term != reading.mark;
    if let Some(flaw) = raw.flaw.filter(|flaw| !(is_text && *flaw == Flaw::Date)) {
        return Err(flaw.problem(raw.place.clone(), &raw.text));
    }
    if raw.merged && matches!(reads, Reads::Count) {
        let what = "is one count merged over several rows; how many are of this row is not known";
        return Err(Diagnostic::new(raw.place.clone(), what)
            .text(&*raw.text)
            .expected("a count in each row"));
    }
    let text = if matches!(reads, Reads::Quantity { .. }) {
        with_point(&raw.text, raw.decimals).ok_or_else(|| {
            let what = "has a comma that may stand for a decimal point or between thousands";
            Diagnostic::new(raw.place.clone(), what)
                .text(&*raw.text)
                .expected("a point, such as 0.75, or no comma")
        })?
    } else {
        (&*raw.text).into()
    };
    if matches!(reads, Reads::Text) {
        return Ok(Read::Text(raw.text.clone()));
    }
    let key = (raw.term, raw.unit.and_then(|it| it.names.first().copied()), raw.text.clone());
    let read = known.entry(key).or_insert_with(|| read_cell(reads, &text, raw.unit));
    read.clone().map_err(|refused| refused.at(raw.place.clone(), &raw.text))
}
