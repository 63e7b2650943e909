//! Reads the rows of a schedule: which are outlets, what dittos and references to other rows stand for, and the value
//! of every cell. Every row that is skipped is reported.

use super::agree::{self, Used};
use super::around::{self, Gathered};
use super::cell::CellError;
use super::deletion::{Deletes, deletes};
use super::device::read_facts;
use super::entries::AddedFrom;
use super::entries::{Entry, Raw};
use super::errors::ScheduleError;
use super::from_words::Added;
use super::held::{Held, hold_open};
use super::place::Place;
use super::select::{self, Selector, Verdict};
use super::text::says_unknown;
use super::totals::Counts;
use super::types::{Cell, MayBe, Noted, ReadOptions, Row, Schedule, SetAside};
use super::unused::Why;
use super::vocabulary::{CellType, CellValue, Subject, term_of};
use super::{described_twice, from_words, frostproof, general, over, phrases, references};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Flaw, with_point};
use crate::units::{Dim, Quantity, Unit, find_unit};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Reads entries into the schedule; `outside` has the lines above the headings and those of other tables.
pub(super) fn add(
    entries: Vec<Entry>,
    outside: Vec<(Location, Arc<str>, Place)>,
    options: &ReadOptions<'_>,
    schedule: &mut Schedule,
) {
    let mut gathered = match options.select {
        Some(_) => around::gather(entries, outside, options, schedule),
        None => Gathered::listed(entries, outside),
    };
    let numbered = gathered.take_notes();
    let mut held = Held::default();
    let mut cited: BTreeSet<(String, u32)> = BTreeSet::new();
    let mut outlets: Vec<Entry> = Vec::new();
    let mut titles: BTreeMap<u32, Arc<str>> = BTreeMap::new();
    // The last row; a ditto below repeats its cells.
    let mut above: Option<Entry> = None;
    let mut dittos: Vec<(u32, Noted, Diagnostics)> = Vec::new();
    let mut rows = Vec::new();
    let mut counts = Counts::default();
    for (mut entry, title) in gathered.rows {
        if let Some(why) = why_skipped(&entry, options) {
            if entry.cells.is_empty() && entry.others.is_empty() {
                continue;
            }
            match why {
                Why::Total => counts.add_total(&entry, options),
                Why::Deleted | Why::Struck => counts.add(&entry, false, options),
                _ => {}
            }
            let name = entry.name(options.mark);
            let reason = (why == Why::Deleted).then(|| reason_of_deletion(&entry, options)).flatten();
            let text = reason.map_or(name.clone(), |reason| format!("{name}: {reason}").into());
            schedule.unused.push(why.of(entry.location.clone(), text));
            if matches!(why, Why::Deleted | Why::Struck) {
                above = Some(entry);
            }
            continue;
        }
        dittos.extend(repeat_dittos(&mut entry, above.as_ref(), options));
        above = Some(entry.clone());
        counts.add(&entry, true, options);
        let keys = Gathered::add_cited(&numbered, &mut entry, options, &mut held, schedule);
        cited.extend(keys.into_iter().map(|key| (key, entry.number)));
        rows.push((entry, title));
    }
    let selector = Selector::of(&rows, options);
    schedule.problems.extend(selector.not_found(&rows));
    let verdicts: Vec<Verdict> =
        rows.par_iter().map(|(entry, title)| selector.judge(entry, title.as_ref())).collect();
    for ((entry, title), verdict) in rows.into_iter().zip(verdicts) {
        match verdict {
            Verdict::Aside(reason) => {
                let text = select::name_of(&entry, options);
                schedule.rows_set_aside.push(SetAside { location: entry.location, text, reason });
                dittos.retain(|(row, ..)| *row != entry.number);
            }
            verdict => {
                if let Verdict::MayBe(why) = verdict {
                    let (location, text) = (entry.location.clone(), select::name_of(&entry, options));
                    schedule
                        .problems
                        .push(ScheduleError::MayBeOutlet { why }.at(location.clone()).text(&*text));
                    let mark = entry.cell(options.mark).map(|raw| raw.text.clone());
                    schedule.doubtful_rows.push(MayBe { location, mark, text, why });
                }
                titles.extend(title.map(|title| (entry.number, title)));
                outlets.push(entry);
            }
        }
    }
    counts.check(&outlets.iter().map(|entry| entry.number).collect(), &mut schedule.problems);
    for (_, note, errors) in dittos {
        schedule.notes.extend((!note.what.is_empty()).then_some(note));
        schedule.problems.extend(errors);
    }
    schedule.rows_set_aside.sort_by_key(|it| it.location.line_or_row());
    references::follow(&mut outlets, options, schedule);
    let of_headings = Location::cell(&schedule.file, schedule.heading.unwrap_or_default(), None);
    // A heading that the job names is meant.
    let is_doubtful = |it: &&Arc<str>| over::is_open_heading(it) && options.columns.of(it).is_none();
    let doubtful = schedule.headings.iter().filter(is_doubtful).map(|it| (it.clone(), of_headings.clone()));
    let doubtful: Vec<(Arc<str>, Location)> = doubtful.collect();
    for entry in &outlets {
        hold_open(entry, &doubtful, options, &mut held);
    }
    let is_merged = |entry: &&Entry| entry.cell(options.mark).is_some_and(|mark| mark.merged);
    let merged: BTreeSet<u32> = outlets.iter().filter(is_merged).map(|entry| entry.number).collect();
    let mut reader = CellReader {
        options,
        schedule,
        known: Known::new(),
        closed: BTreeSet::new(),
        added: BTreeMap::new(),
    };
    for entry in outlets {
        let cells = reader.cells(&entry);
        reader.schedule.rows.push(Row { number: entry.number, cells, at: None });
    }
    let (closed, added) = (reader.closed, reader.added);
    from_words::add(schedule, options.vocabulary, &closed, &added);
    general::settle(gathered.lines, &cited, &titles, options, &mut held, schedule);
    // A model of product data may well have several lengths.
    if options.select.is_some() {
        described_twice::hold(schedule, &merged, options, &mut held);
    }
    held.apply(options, schedule);
}

/// The text that marks a row as deleted, if it says more than that.
fn reason_of_deletion<'e>(entry: &'e Entry, options: &ReadOptions<'_>) -> Option<&'e Arc<str>> {
    let mark = entry.cell(options.mark).map(|raw| &*raw.text);
    let cells = entry.cells.iter().filter(|raw| raw.term != options.mark);
    let cells = cells.map(|raw| (&raw.text, options.vocabulary[raw.term].subject));
    let mut reasons = cells.chain(entry.others.iter().map(|text| (text, None)));
    let says_why =
        |text: &str, subject| deletes(text, subject, mark) == Some(Deletes::Row) && !phrases::deletes(text);
    let reason = reasons.find(|(text, subject)| says_why(text, *subject)).map(|(text, _)| text);
    reason.or(entry.removed.as_ref())
}

/// Why a row is not an outlet; `None` if it is one.
fn why_skipped(entry: &Entry, options: &ReadOptions<'_>) -> Option<Why> {
    if entry.struck {
        return Some(Why::Struck);
    }
    if entry.again {
        return Some(Why::HeadingsAgain);
    }
    if entry.removed.is_some() {
        return Some(Why::Deleted);
    }
    let mark = entry.cell(options.mark).map(|raw| &*raw.text);
    let is_mark = |raw: &Raw| raw.term == options.mark;
    let is_count = |raw: &Raw| matches!(options.vocabulary[raw.term].reads, CellType::Count);
    let is_free = |raw: &Raw| matches!(options.vocabulary[raw.term].reads, CellType::Text | CellType::Count);
    let has_one_fact = entry.cells.iter().filter(|raw| !is_mark(raw) && !is_count(raw)).count() <= 1;
    let words = entry.cells.iter().filter(|raw| !is_mark(raw) && (is_free(raw) || has_one_fact));
    let subject = |raw: &Raw| options.vocabulary[raw.term].subject;
    let deletes_row = |text: &Arc<str>, subject| deletes(text, subject, mark) == Some(Deletes::Row);
    if mark.is_some_and(phrases::is_deleted_mark)
        || words.into_iter().any(|raw| deletes_row(&raw.text, subject(raw)))
        || entry.others.iter().any(|text| deletes_row(text, None))
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

/// Replaces ditto marks by what is above them. Returns what there is to say about that.
fn repeat_dittos(
    entry: &mut Entry,
    above: Option<&Entry>,
    options: &ReadOptions<'_>,
) -> Option<(u32, Noted, Diagnostics)> {
    let mut repeated: Vec<String> = Vec::new();
    let mut errors = Diagnostics::new();
    let name = entry.name(options.mark);
    let cells = std::mem::take(&mut entry.cells);
    for raw in cells {
        // What a column of one fact says after a ditto leaves the fact open.
        let is_text = matches!(options.vocabulary[raw.term].reads, CellType::Text);
        let rest = phrases::after_ditto(&raw.text).filter(|_| is_text);
        if !phrases::is_ditto(&raw.text) && rest.is_none() {
            entry.cells.push(raw);
            continue;
        }
        // Of several columns of words, the same one.
        let is_above = |it: &&Raw| it.term == raw.term && it.location.heading() == raw.location.heading();
        let source = above.and_then(|above| above.cells.iter().find(is_above));
        let points = |source: &Raw| phrases::pointer(&source.text).is_some_and(|(_, is_certain)| is_certain);
        let error = match source {
            None => ScheduleError::DittoOfNothing,
            Some(source) if points(source) => ScheduleError::DittoOfPointer { to: source.text.clone() },
            Some(source) => {
                let heading = raw.location.heading().map_or_else(|| options.heading(raw.term), AsRef::as_ref);
                repeated.push(format!("{heading} ({})", source.text));
                let Raw { text, flaw, unit, merged, .. } = source.clone();
                let merged = merged || raw.merged;
                match rest {
                    // "DITTO, 18 in long": what it says itself comes first.
                    Some(rest) => {
                        entry.added.push((source.clone(), AddedFrom::Inherited));
                        entry.cells.push(Raw { text: rest.into(), ..raw });
                    }
                    None => entry.cells.push(Raw { text, flaw, unit, merged, ..raw }),
                }
                continue;
            }
        };
        errors.push(error.at(raw.location).text(&*raw.text));
    }
    let what = match repeated.is_empty() {
        true => String::new(),
        false => format!("repeats from the row above by ditto: {}", repeated.join(", ")),
    };
    let text = entry.cell(options.mark).map_or(name, |raw| raw.text.clone());
    let is_silent = repeated.is_empty() && errors.is_empty();
    let note = Noted { location: entry.location.clone(), text, what: what.into() };
    (!is_silent).then_some((entry.number, note, errors))
}

/// What texts state, by term and unit: a long schedule repeats them.
type Known = BTreeMap<(usize, Option<&'static str>, Arc<str>), Result<Vec<(usize, CellValue)>, CellError>>;

struct CellReader<'s> {
    options: &'s ReadOptions<'s>,
    schedule: &'s mut Schedule,
    known: Known,
    /// Cells whose words are not read: struck through, damaged, or contradicted.
    closed: BTreeSet<Location>,
    /// Cells that are not their rows' own, by row.
    added: Added,
}

impl CellReader<'_> {
    fn cells(&mut self, entry: &Entry) -> Vec<Cell> {
        let mut cells: Vec<Cell> = Vec::new();
        for raw in &entry.cells {
            if raw.flaw.is_some() {
                self.closed.insert(raw.location.clone());
            }
            let facts = self.facts(raw);
            let facts = self.schedule.problems.ok(facts);
            let facts = facts.map_or_else(
                || vec![(raw.term, None)],
                |facts| facts.into_iter().map(|(term, value)| (term, Some(value))).collect(),
            );
            for (term, value) in facts {
                let (location, text) = (raw.location.clone(), raw.text.clone());
                self.add(Cell { term, location, text, value }, &mut cells);
            }
        }
        for (raw, from) in &entry.added {
            self.added.insert((entry.number, raw.location.clone()), *from);
            let (location, text) = (raw.location.clone(), raw.text.clone());
            cells.push(Cell { term: raw.term, location, value: Some(CellValue::Text(text.clone())), text });
        }
        self.count_marks(entry, &mut cells);
        // The row's own cells stay first.
        cells.sort_by_key(|cell| cell.term);
        cells
    }

    /// Adds a cell. Two columns for one fact agree, or neither is used.
    fn add(&mut self, cell: Cell, cells: &mut Vec<Cell>) {
        let subject = self.options.vocabulary[cell.term].subject;
        let is_words = matches!(subject, Some(Subject::Description | Subject::Notes));
        let Some(first) = cells.iter_mut().find(|first| first.term == cell.term && !is_words) else {
            cells.push(cell);
            return;
        };
        match agree::used(first, &cell, subject) {
            Some(Used::First) => return,
            Some(Used::Second) => {
                *first = cell;
                return;
            }
            Some(Used::OfSupply { is_first }) => {
                let own = if is_first { cell } else { std::mem::replace(first, cell) };
                self.schedule.unused.push(Why::SizeOfFaucet.of(own.location, own.text));
                return;
            }
            None => {}
        }
        let (text, heading) = (first.text.clone(), first.location.heading().cloned());
        let error = ScheduleError::ColumnsContradict { text, heading };
        self.schedule.problems.push(error.at(cell.location.clone()).text(&*cell.text));
        // With its standard, the device that the same cell names is in doubt too.
        let places = [first.location.clone(), cell.location];
        for doubtful in cells.iter_mut().filter(|other| places.contains(&other.location)) {
            doubtful.value = None;
            self.closed.insert(doubtful.location.clone());
        }
    }

    /// Counts the outlets of a row with several marks. A stated count that differs is in doubt.
    fn count_marks(&mut self, entry: &Entry, cells: &mut Vec<Cell>) {
        let Some(term) = term_of(Subject::Quantity, self.options.vocabulary) else { return };
        let Some(mark) = entry.cell(self.options.mark) else { return };
        let marks = phrases::marks(&mark.text);
        if marks.is_empty() {
            return;
        }
        let count = Quantity::of(marks.len() as f64, Dim::NONE);
        let Some(stated) = cells.iter_mut().find(|cell| cell.term == term) else {
            let (location, text) = (mark.location.clone(), mark.text.clone());
            let what = format!("counts as {} faucets, one for each mark", marks.len()).into();
            self.schedule.notes.push(Noted { location: location.clone(), text: text.clone(), what });
            cells.push(Cell { term, location, text, value: Some(CellValue::Quantity(count)) });
            return;
        };
        if stated.value.is_some() && stated.value != Some(CellValue::Quantity(count)) {
            let error = ScheduleError::MarksDiffer { marks: marks.len(), text: mark.text.clone() };
            self.schedule.problems.push(error.at(stated.location.clone()).text(&*stated.text));
            stated.value = None;
        }
    }

    /// What a cell states, its own fact first.
    fn facts(&mut self, raw: &Raw) -> Result<Vec<(usize, CellValue)>, Diagnostic> {
        let reads = &self.options.vocabulary[raw.term].reads;
        let is_text = matches!(reads, CellType::Text);
        // A date is a text like others among free words, but not a mark.
        let is_harmless = |flaw: &Flaw| is_text && raw.term != self.options.mark && *flaw == Flaw::Date;
        if let Some(flaw) = raw.flaw.filter(|flaw| !is_harmless(flaw)) {
            return Err(flaw.problem(raw.location.clone(), &raw.text));
        }
        let error = |error: ScheduleError| error.at(raw.location.clone()).text(&*raw.text);
        if raw.merged && matches!(reads, CellType::Count) {
            return Err(error(ScheduleError::MergedCount));
        }
        if let Some(closes) = frostproof::by_heading(raw, self.options.vocabulary) {
            return Ok(vec![(raw.term, closes)]);
        }
        if says_unknown(&raw.text) && !self.options.is_notes(raw.term) {
            return Err(error(ScheduleError::StatedUnknown));
        }
        if is_text {
            return Ok(vec![(raw.term, CellValue::Text(raw.text.clone()))]);
        }
        let text = if matches!(reads, CellType::Quantity { .. }) {
            with_point(&raw.text, raw.decimals).ok_or_else(|| error(ScheduleError::AmbiguousComma))?
        } else {
            (&*raw.text).into()
        };
        if let Some(unit) = raw.unit.filter(|unit| is_of_other_system(&raw.text, unit)) {
            let unit = unit.names.first().copied().unwrap_or_default();
            return Err(error(ScheduleError::UnitOfHeading { unit }));
        }
        let unit = raw.unit.and_then(|unit| unit.names.first().copied());
        let read = self.known.entry((raw.term, unit, raw.text.clone()));
        let vocabulary = self.options.vocabulary;
        let read = read.or_insert_with(|| read_facts(raw.term, &text, raw.unit, vocabulary));
        read.clone().map_err(|error| error.at(raw.location.clone(), &raw.text))
    }
}

/// Whether a text ends with a unit of length that is metric where its heading's is not, or the other way round.
fn is_of_other_system(text: &str, of_heading: &Unit) -> bool {
    let is_metric = |unit: &Unit| unit.names.iter().any(|name| ["mm", "cm", "m"].contains(name));
    let name =
        text.trim().trim_start_matches(|c: char| !c.is_alphabetic() && !['"', '\'', '″', '”'].contains(&c));
    let own = find_unit(name).filter(|own| own.dim == Dim::LENGTH && of_heading.dim == Dim::LENGTH);
    own.is_some_and(|own| is_metric(own) != is_metric(of_heading))
}
