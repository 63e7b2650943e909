//! "Same as HB-1": a row that says no more than that takes the facts of the row it refers to.

use super::entries::AddedFrom;
use super::entries::{Entry, Raw};
use super::errors::ScheduleError;
use super::phrases;
use super::text::plain;
use super::types::{Noted, ReadOptions, Schedule};
use super::vocabulary::{CellType, Subject, term_of};
use crate::diag::Diagnostic;
use std::collections::{BTreeMap, BTreeSet};

/// A cell that refers to another row.
struct Pointer {
    raw: Raw,
    to: String,
    /// Whether the words can mean nothing else.
    is_certain: bool,
    /// What the row says otherwise.
    except: Option<String>,
}

impl Pointer {
    fn error(&self, error: ScheduleError) -> Diagnostic {
        error.at(self.raw.location.clone()).text(&*self.raw.text)
    }
}

/// How many unknown marks get a suggestion; more come from another schedule.
const MOST_SUGGESTED: usize = 100;
/// How many rows a chain of references may have.
const MOST_STEPS: usize = 20;

/// The rows of a mark.
struct Marked {
    /// The first with facts of its own; without any, the first that refers to another.
    first: usize,
    refers_on: bool,
    /// Whether all with facts have the same.
    agree: bool,
}

/// Gives rows that refer to others the facts of those.
pub(super) fn follow(outlets: &mut [Entry], options: &ReadOptions<'_>, schedule: &mut Schedule) {
    let marks: BTreeSet<String> = outlets.iter().flat_map(|entry| names(entry, options)).collect();
    let pointers: Vec<Option<Pointer>> =
        outlets.iter().map(|entry| pointer(entry, &marks, options)).collect();
    if pointers.iter().all(Option::is_none) {
        return;
    }
    let before = outlets.to_vec();
    let mut references = References::of(&before, &pointers, options);
    for (index, pointer) in pointers.iter().enumerate() {
        let Some(pointer) = pointer else { continue };
        let entry = &mut outlets[index];
        let term = pointer.raw.term;
        if let Some(except) = &pointer.except
            && let Some(marked) =
                references.marked.get(&plain(&pointer.to)).filter(|it| it.agree && !it.refers_on)
        {
            inherit(entry, &before[marked.first], pointer, except, options, schedule);
            continue;
        }
        match references.target(index, pointer) {
            Ok(target) => {
                let source = &before[target];
                entry.cells.retain(|raw| raw.term != term || is_own(raw.term, options));
                let missing: Vec<Raw> =
                    facts(source, options).filter(|raw| entry.cell(raw.term).is_none()).cloned().collect();
                entry.cells.extend(missing);
                entry.cells.sort_by_key(|raw| raw.term);
                let (source, words) = (source.name(options.mark), &pointer.raw.text);
                let what = format!("takes its facts from {source} by the words \"{words}\"").into();
                let (location, text) = (entry.location.clone(), entry.name(options.mark));
                schedule.notes.push(Noted { location, text, what });
            }
            Err(Some(error)) => {
                // The words are not a fact; in a column of free words they may stay.
                let is_text = matches!(options.vocabulary[term].reads, CellType::Text);
                entry.cells.retain(|raw| raw.term != term || is_text);
                schedule.problems.push(error);
            }
            Err(None) => {}
        }
    }
}

/// Gives a row what another says, but for what it says itself.
fn inherit(
    entry: &mut Entry,
    source: &Entry,
    pointer: &Pointer,
    except: &str,
    options: &ReadOptions<'_>,
    schedule: &mut Schedule,
) {
    let words = |raw: &Raw| {
        matches!(options.vocabulary[raw.term].subject, Some(Subject::Description | Subject::Notes))
    };
    for raw in &mut entry.cells {
        if raw.term == pointer.raw.term && raw.text == pointer.raw.text {
            raw.text = except.into();
            // "Same as HB-1 except 8 in" among remarks is about the outlet.
            if options.is_notes(raw.term) {
                raw.term = term_of(Subject::Description, options.vocabulary).unwrap_or(raw.term);
            }
        }
    }
    let missing: Vec<Raw> =
        facts(source, options).filter(|raw| !words(raw) && entry.cell(raw.term).is_none()).cloned().collect();
    entry.cells.extend(missing);
    entry.cells.sort_by_key(|raw| raw.term);
    entry
        .added
        .extend(source.cells.iter().filter(|raw| words(raw)).map(|raw| (raw.clone(), AddedFrom::Inherited)));
    entry.added.extend(
        source
            .added
            .iter()
            .filter(|(_, from)| *from == AddedFrom::Continued)
            .map(|(raw, _)| (raw.clone(), AddedFrom::Inherited)),
    );
    let (source, text) = (source.name(options.mark), &pointer.raw.text);
    let what =
        format!("takes its facts from {source} by the words \"{text}\", but for what it says itself").into();
    schedule.notes.push(Noted { location: entry.location.clone(), text: entry.name(options.mark), what });
}

fn has_no_more(entry: &Entry, pointer: &Pointer, options: &ReadOptions<'_>) -> bool {
    facts(entry, options).all(|raw| raw.term == pointer.raw.term)
}

/// What a row states that is not of a single row.
fn facts<'e>(entry: &'e Entry, options: &'e ReadOptions<'_>) -> impl Iterator<Item = &'e Raw> {
    entry.cells.iter().filter(|raw| !is_own(raw.term, options))
}

fn is_own(term: usize, options: &ReadOptions<'_>) -> bool {
    term == options.mark || options.own.contains(&options.vocabulary[term].fact)
}

/// What other rows call a row: its mark, or each of several; without one the start of its location.
fn names(entry: &Entry, options: &ReadOptions<'_>) -> Vec<String> {
    if let Some(mark) = entry.cell(options.mark) {
        let mut names = vec![plain(&mark.text)];
        names.extend(phrases::marks(&mark.text).iter().map(|it| plain(it)));
        return names;
    }
    let location = term_of(Subject::Location, options.vocabulary).and_then(|term| entry.cell(term));
    location.map(|it| plain(it.text.split(',').next().unwrap_or_default())).into_iter().collect()
}

fn pointer(entry: &Entry, marks: &BTreeSet<String>, options: &ReadOptions<'_>) -> Option<Pointer> {
    entry.cells.iter().filter(|raw| raw.term != options.mark).find_map(|raw| {
        let (to, except, is_certain) = phrases::pointer_except(&raw.text)?;
        // "See 5/A501" and "as built" refer to no row.
        let is_mark = marks.contains(&plain(to));
        let except = except.map(str::to_owned).filter(|_| is_certain || is_mark);
        (is_mark || is_certain).then(|| Pointer { raw: raw.clone(), to: to.to_owned(), is_certain, except })
    })
}

/// All rows, and where their pointers lead.
struct References<'e> {
    marked: BTreeMap<String, Marked>,
    pointers: &'e [Option<Pointer>],
    entries: &'e [Entry],
    options: &'e ReadOptions<'e>,
    /// How many unknown marks there were.
    unknown: usize,
}

impl<'e> References<'e> {
    fn of(entries: &'e [Entry], pointers: &'e [Option<Pointer>], options: &'e ReadOptions<'_>) -> Self {
        let facts_of = |entry| facts(entry, options).map(|raw| (raw.term, &raw.text)).collect::<Vec<_>>();
        let mut marked: BTreeMap<String, Marked> = BTreeMap::new();
        for (index, entry) in entries.iter().enumerate() {
            let pointer = pointers[index].as_ref();
            let refers_on = pointer.is_some_and(|pointer| has_no_more(entry, pointer, options));
            let new = || Marked { first: index, refers_on, agree: true };
            for name in names(entry, options) {
                let known = marked.entry(name).or_insert_with(new);
                if known.refers_on && !refers_on {
                    *known = new();
                } else if !refers_on && index != known.first {
                    known.agree &= facts_of(&entries[known.first]) == facts_of(entry);
                }
            }
        }
        Self { marked, pointers, entries, options, unknown: 0 }
    }

    /// The row whose facts a pointer takes. No error if its words may well mean something else.
    fn target(&mut self, from: usize, pointer: &Pointer) -> Result<usize, Option<Diagnostic>> {
        let to = |pointer: &Pointer| pointer.to.clone();
        if !has_no_more(&self.entries[from], pointer, self.options) {
            // A remark in free words may be beside facts of its own.
            let is_free = matches!(self.options.vocabulary[pointer.raw.term].reads, CellType::Text);
            let is_reference = self.marked.contains_key(&plain(&pointer.to)) && pointer.is_certain;
            let error = || pointer.error(ScheduleError::PointerBesideFacts { to: to(pointer) });
            return Err((is_reference || !is_free).then(error));
        }
        let mut at = pointer;
        for _ in 0..MOST_STEPS {
            let Some(marked) = self.marked.get(&plain(&at.to)) else {
                let error = pointer.error(ScheduleError::UnknownPointer { to: to(at) });
                self.unknown += 1;
                let marks = self.entries.iter().filter_map(|entry| entry.cell(self.options.mark));
                let marks = marks.map(|mark| &*mark.text).filter(|_| self.unknown <= MOST_SUGGESTED);
                return Err(Some(error.nearest(&at.to, marks)));
            };
            if !marked.agree {
                return Err(Some(pointer.error(ScheduleError::AmbiguousPointer { to: to(at) })));
            }
            match &self.pointers[marked.first] {
                Some(next) if marked.refers_on => at = next,
                _ => return Ok(marked.first),
            }
        }
        Err(Some(pointer.error(ScheduleError::CircularPointer)))
    }
}
