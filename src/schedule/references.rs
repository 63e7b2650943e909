//! "Same as HB-1": a row that says no more than that takes the facts of the row it points to.

use super::entries::{Entry, Raw};
use super::terms::Reads;
use super::{Noted, Reading, Schedule, phrases, plain};
use crate::diag::Diagnostic;
use std::collections::{BTreeMap, BTreeSet};

/// A cell that points to another row.
struct Pointer {
    raw: Raw,
    to: String,
    /// Whether the words can mean nothing else.
    is_plain: bool,
}

/// The nearest mark is looked for this often; beyond, a schedule's marks are others altogether.
const MOST_NEAREST: usize = 100;
/// Rows that point to rows that point on are followed this far.
const FARTHEST: usize = 20;

/// The rows of a mark that say anything of their own.
struct Marked {
    /// The first that does; without any, the first that points on.
    first: usize,
    points_on: bool,
    /// Whether all that say anything say the same.
    agree: bool,
}

/// Puts the facts of the rows pointed to where they are pointed from.
pub(super) fn follow(outlets: &mut [Entry], reading: &Reading<'_>, schedule: &mut Schedule) {
    let marks: BTreeSet<String> =
        outlets.iter().filter_map(|it| it.cell(reading.mark)).map(|it| plain(&it.text)).collect();
    let pointers: Vec<Option<Pointer>> =
        outlets.iter().map(|entry| pointer(entry, &marks, reading)).collect();
    if pointers.iter().all(Option::is_none) {
        return;
    }
    let before = outlets.to_vec();
    let all =
        All { marked: marked(&before, &pointers, reading), pointers: &pointers, entries: &before, reading };
    let mut unknown = 0;
    for (index, pointer) in pointers.iter().enumerate() {
        let Some(pointer) = pointer else { continue };
        match all.target(index, pointer, &mut unknown) {
            Ok(target) => {
                let source = &before[target];
                let entry = &mut outlets[index];
                entry.cells.retain(|raw| raw.term != pointer.raw.term || is_own(raw.term, reading));
                let missing: Vec<Raw> =
                    facts(source, reading).filter(|raw| entry.cell(raw.term).is_none()).cloned().collect();
                entry.cells.extend(missing);
                entry.cells.sort_by_key(|raw| raw.term);
                let what = format!(
                    "takes its facts from {} by the words \"{}\"",
                    source.name(reading.mark),
                    pointer.raw.text
                );
                let (place, text) = (entry.place.clone(), entry.name(reading.mark));
                schedule.notes.push(Noted { place, text, what: what.into() });
            }
            Err(Some(problem)) => {
                // Its words are no fact; kept in a column of free words they do no harm.
                let is_text = matches!(reading.vocabulary[pointer.raw.term].reads, Reads::Text);
                outlets[index].cells.retain(|raw| raw.term != pointer.raw.term || is_text);
                schedule.problems.push(problem);
            }
            Err(None) => {}
        }
    }
}

fn marked(
    entries: &[Entry],
    pointers: &[Option<Pointer>],
    reading: &Reading<'_>,
) -> BTreeMap<String, Marked> {
    let mut marks: BTreeMap<String, Marked> = BTreeMap::new();
    for (index, entry) in entries.iter().enumerate() {
        let Some(mark) = entry.cell(reading.mark) else { continue };
        let points_on = pointers[index].as_ref().is_some_and(|it| says_no_more(entry, it, reading));
        let new = Marked { first: index, points_on, agree: true };
        let known = marks.entry(plain(&mark.text)).or_insert(new);
        if known.points_on && !points_on {
            *known = Marked { first: index, points_on, agree: true };
        } else if !points_on && index != known.first {
            let says = |entry| facts(entry, reading).map(|raw| (raw.term, &raw.text)).collect::<Vec<_>>();
            known.agree &= says(&entries[known.first]) == says(entry);
        }
    }
    marks
}

fn says_no_more(entry: &Entry, pointer: &Pointer, reading: &Reading<'_>) -> bool {
    facts(entry, reading).all(|raw| raw.term == pointer.raw.term)
}

/// What a row states besides what is each row's own.
fn facts<'e>(entry: &'e Entry, reading: &'e Reading<'_>) -> impl Iterator<Item = &'e Raw> {
    entry.cells.iter().filter(|raw| !is_own(raw.term, reading))
}

fn is_own(term: usize, reading: &Reading<'_>) -> bool {
    term == reading.mark || reading.own.contains(&reading.vocabulary[term].fact)
}

fn pointer(entry: &Entry, marks: &BTreeSet<String>, reading: &Reading<'_>) -> Option<Pointer> {
    entry.cells.iter().filter(|raw| raw.term != reading.mark).find_map(|raw| {
        let (to, is_plain) = phrases::pointer(&raw.text)?;
        // "See 5/A501" and "as built" point to no row.
        let is_known = marks.contains(&plain(to));
        (is_known || is_plain).then(|| Pointer { raw: raw.clone(), to: to.to_owned(), is_plain })
    })
}

/// All rows, and what their pointers lead to.
struct All<'e> {
    marked: BTreeMap<String, Marked>,
    pointers: &'e [Option<Pointer>],
    entries: &'e [Entry],
    reading: &'e Reading<'e>,
}

impl All<'_> {
    /// The row whose facts stand for a pointer. No problem where its words may well mean something else.
    fn target(
        &self,
        from: usize,
        pointer: &Pointer,
        unknown: &mut usize,
    ) -> Result<usize, Option<Diagnostic>> {
        let problem =
            |what: String| Diagnostic::new(pointer.raw.place.clone(), what).text(&*pointer.raw.text);
        let reading = self.reading;
        if !says_no_more(&self.entries[from], pointer, reading) {
            // A remark in free words may stand beside facts of its own.
            let is_free = matches!(reading.vocabulary[pointer.raw.term].reads, Reads::Text);
            let is_known = self.marked.contains_key(&plain(&pointer.to));
            let what = format!(
                "points to {} beside facts of the row's own; which of them hold is not known",
                pointer.to
            );
            let told = problem(what).expected("the facts written out, or nothing beside the words");
            return Err((is_known && pointer.is_plain || !is_free).then_some(told));
        }
        let mut at = pointer;
        for _ in 0..FARTHEST {
            let Some(marked) = self.marked.get(&plain(&at.to)) else {
                let told = problem(format!("points to {}, and no row has that mark", at.to));
                *unknown += 1;
                let names = self.entries.iter().filter_map(|it| it.cell(reading.mark)).map(|it| &*it.text);
                return Err(Some(if *unknown <= MOST_NEAREST { told.nearest(&at.to, names) } else { told }));
            };
            if !marked.agree {
                let what = format!("points to {}, and several rows of that mark say different things", at.to);
                return Err(Some(problem(what).expected("the facts written out")));
            }
            match &self.pointers[marked.first] {
                Some(next) if marked.points_on => at = next,
                _ => return Ok(marked.first),
            }
        }
        Err(Some(problem("leads from row to row and never to one that says anything".into())))
    }
}
