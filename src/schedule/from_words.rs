//! Adds what the words of a row state to its columns. A column takes precedence; where the two disagree, the row says
//! so.

use super::cites::{cited_by_name, only_cites};
use super::closing;
use super::description::{Description, Statement, parse_with};
use super::doubt::{denial_before, doubts};
use super::entries::AddedFrom;
use super::frostproof;
use super::hazards;
use super::matching::Reader;
use super::remarks;
use super::text::{Plain, plain, says_unknown};
use super::types::{Cell, Row, Schedule};
use super::unused::{Unread, Why};
use super::vocabulary::{CellValue, Term};
use super::vocabulary::{Subject, heading_of, term_of};
use super::wall_words::wall_words;
use super::weighed;
use super::word_source::{Role, Source, contradicted, own_words, quoted};
use crate::diag::Location;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};
use std::sync::Arc;

/// Columns that often hold more than their fact, and what may be read from a cell that cannot be read by itself; an
/// empty list is anything.
const MIXED: &[(Subject, &[Subject])] = &[
    (Subject::Kind, &[]),
    (Subject::Supply, &[Subject::Supply, Subject::SupplySize, Subject::Inlet]),
    (Subject::SupplySize, &[Subject::SupplySize, Subject::NominalLength, Subject::Supply, Subject::Inlet]),
    (Subject::BackflowDevice, &[Subject::BackflowDevice, Subject::BackflowStandard]),
    (Subject::Barrel, &[Subject::Barrel]),
    (Subject::Height, &[Subject::Height]),
    (Subject::BuryDepth, &[Subject::BuryDepth]),
];
/// Figures that say themselves what they are of; a note may state them.
const SAID_IN_NOTES: [Subject; 3] = [Subject::Height, Subject::BuryDepth, Subject::Slope];

/// Whether a note may not state a term: its numbers may be of something else.
pub(super) fn is_number_in_note(term: &Term) -> bool {
    term.reads.is_numeric() && !term.subject.is_some_and(|subject| SAID_IN_NOTES.contains(&subject))
}

/// Cells that are not their rows' own, by row.
pub(super) type Added = BTreeMap<(u32, Location), AddedFrom>;

/// The parsed texts: each is parsed once.
type Parsed = HashMap<Arc<str>, Arc<Description>>;

/// Reads the words of every row, except in closed cells.
pub(super) fn add(schedule: &mut Schedule, vocabulary: &[Term], closed: &BTreeSet<Location>, added: &Added) {
    let reader = WordsOf { vocabulary, closed, added, parsed: parse_all(&schedule.rows, vocabulary, closed) };
    let mut unread = Unread::default();
    let mut walls = Walls::new();
    let mut resolved: BTreeSet<Location> = BTreeSet::new();
    for row in &mut schedule.rows {
        let sources = reader.sources(row, &mut unread, &mut resolved);
        add_to_row(row, &sources, vocabulary);
        report_remarks(row, &sources, vocabulary, &mut unread);
        add_wall(row, vocabulary, &reader.parsed, &mut walls, &mut unread);
    }
    schedule.problems.retain(|error| !resolved.contains(&error.location));
    schedule.unused.extend(unread.listed());
}

fn role(cell: &Cell, vocabulary: &[Term], closed: &BTreeSet<Location>) -> Option<Role> {
    let subject = vocabulary[cell.term].subject?;
    let mixed = MIXED.iter().find(|(mixed, _)| *mixed == subject && cell.value.is_none());
    let role = match (mixed, subject) {
        (Some((_, allowed)), _) => Role::Mixed(allowed),
        (None, Subject::Kind) => Role::Name,
        (None, Subject::Description) => Role::Description,
        (None, Subject::Notes) if only_cites(&cell.text) => return None,
        (None, Subject::Notes) => Role::Note,
        (None, Subject::Finish | Subject::Handle) => Role::Trim,
        _ => return None,
    };
    (!closed.contains(&cell.location)).then_some(role)
}

/// Parses every different text, in parallel.
fn parse_all(rows: &[Row], vocabulary: &[Term], closed: &BTreeSet<Location>) -> Parsed {
    /// Texts parsed by one reader.
    const CHUNK: usize = 256;
    let cells = rows.iter().flat_map(|row| &row.cells);
    let words = cells.filter(|cell| role(cell, vocabulary, closed).is_some());
    let mut seen: HashSet<&str> = HashSet::new();
    let texts: Vec<&Arc<str>> = words.map(|cell| &cell.text).filter(|text| seen.insert(text)).collect();
    let parse = |texts: &[&Arc<str>]| {
        let mut reader = Reader::new(vocabulary);
        let parse = |text: &&Arc<str>| ((*text).clone(), Arc::new(parse_with(text, &mut reader)));
        texts.iter().map(parse).collect::<Vec<_>>()
    };
    texts.par_chunks(CHUNK).flat_map_iter(parse).collect()
}

struct WordsOf<'v> {
    vocabulary: &'v [Term],
    closed: &'v BTreeSet<Location>,
    added: &'v Added,
    parsed: Parsed,
}

impl WordsOf<'_> {
    /// The texts of a row. A mixed cell becomes what it says of its own fact, or goes where it says nothing of that;
    /// its error is then resolved.
    fn sources(&self, row: &mut Row, unread: &mut Unread, resolved: &mut BTreeSet<Location>) -> Vec<Source> {
        let mut sources = Vec::new();
        row.cells.retain_mut(|cell| {
            let Some(role) = role(cell, self.vocabulary, self.closed) else { return true };
            let role = match self.added.get(&(row.number, cell.location.clone())) {
                Some(AddedFrom::Cited) => Role::Cited,
                Some(AddedFrom::Inherited) => Role::Inherited,
                Some(AddedFrom::Continued) | None => role,
            };
            let Some(description) = self.parsed.get(&cell.text).cloned() else { return true };
            let (text, location) = (cell.text.clone(), cell.location.clone());
            let source = Source { text, location, description, role };
            let own = source.description.stated.iter().find(|it| it.term == cell.term).cloned();
            if role != Role::Name && source.description.too_long {
                let start: String = cell.text.chars().take(40).chain(std::iter::once('…')).collect();
                unread.add(&cell.location, &start, Why::TooLong);
                return true;
            }
            let is_mixed = matches!(role, Role::Mixed(_));
            if is_mixed && !self.resolves(cell, &source.description, own.as_ref()) {
                return true;
            }
            if !matches!(role, Role::Name | Role::Trim) {
                self.report_unread(&source, unread);
            }
            if is_mixed {
                resolved.insert(cell.location.clone());
                if let Some(Statement { value, words, .. }) = &own {
                    (cell.value, cell.text) = (Some(value.clone()), words.as_str().into());
                }
            }
            sources.push(source);
            !is_mixed || own.is_some()
        });
        sources
    }

    /// Whether the words of a mixed cell are all known and clear, and state its own fact. "10 in" under Size is the
    /// length it is ordered by.
    fn resolves(&self, cell: &Cell, description: &Description, own: Option<&Statement>) -> bool {
        let is_size = self.vocabulary[cell.term].subject == Some(Subject::SupplySize);
        let is_length = |it: &Statement| self.vocabulary[it.term].subject == Some(Subject::NominalLength);
        let is_clear = description.unknown.is_empty() && description.open.is_empty();
        // "No vacuum breaker" says that there is none; "hose connection no vacuum breaker" says two things.
        let is_none = |it: &Statement| matches!(&it.value, CellValue::Text(text) if &**text == "none");
        let is_late = |at: usize| {
            let denial = denial_before(&cell.text[..at]);
            denial.is_some_and(|start| !plain(&cell.text[..start]).is_empty())
        };
        let denies_late = own.is_some_and(|it| is_none(it) && cell.text.find(&it.words).is_some_and(is_late));
        // What a thing is called stays beside a doubt; its figures and words do not.
        let is_name = self.vocabulary[cell.term].subject == Some(Subject::Kind);
        let is_certain = is_name || doubts(&cell.text).is_empty() && cited_by_name(&cell.text).is_empty();
        is_clear
            && is_certain
            && !denies_late
            && (own.is_some() || is_size && description.stated.iter().any(is_length))
    }

    /// Reports the words of a text that are not used.
    fn report_unread(&self, source: &Source, unread: &mut Unread) {
        let Source { location, description, role, .. } = source;
        let is_note = *role == Role::Note;
        // The other row lists it.
        if *role == Role::Inherited {
            return;
        }
        let is_numeric = |it: &&Statement| is_number_in_note(&self.vocabulary[it.term]);
        // A remark of which nothing is used is listed whole.
        let unknown = if is_note { &description.unknown_beside } else { &description.unknown };
        for words in unknown {
            unread.add(location, words, Why::Unknown);
        }
        for statement in description.stated.iter().filter(|it| is_note && is_numeric(it)) {
            unread.add(location, &statement.words, Why::NumberInNote);
        }
        for (words, _) in &description.open {
            let is_used = |it: &&Statement| !(is_note && is_numeric(it)) && words.contains(&it.words);
            let used: Vec<&Statement> = description.stated.iter().filter(is_used).collect();
            let is_kind = |it: &&Statement| self.vocabulary[it.term].subject == Some(Subject::Kind);
            let why = match used.as_slice() {
                [] => Why::Open,
                used if used.iter().all(is_kind) => Why::OnlyKind,
                _ => Why::OnlyPart,
            };
            unread.add(location, words, why);
        }
    }
}

/// Reports the remarks of which nothing is used, unless the review asks about them.
fn report_remarks(row: &Row, sources: &[Source], vocabulary: &[Term], unread: &mut Unread) {
    let term = term_of(Subject::Disagreement, vocabulary);
    let asked = term.and_then(|term| row.cell(term)).map_or("", |cell| &cell.text);
    for Source { location, description, .. } in sources.iter().filter(|it| it.role == Role::Note) {
        for words in &description.unsaid {
            if !says_unknown(words) && !asked.contains(words.as_str()) {
                unread.add(location, words, Why::Remark);
            }
        }
    }
}

/// Words for walls by text, of cells that are not parsed: places.
type Walls = HashMap<Arc<str>, Option<String>>;

/// Leaves the wall open where words describe one and no column states it.
fn add_wall(row: &mut Row, vocabulary: &[Term], parsed: &Parsed, walls: &mut Walls, unread: &mut Unread) {
    const READ: [Subject; 3] = [Subject::Description, Subject::Location, Subject::Notes];
    let Some(wall) = term_of(Subject::Wall, vocabulary) else { return };
    if row.cells.iter().any(|cell| cell.term == wall) {
        return;
    }
    let texts =
        row.cells.iter().filter(|it| vocabulary[it.term].subject.is_some_and(|it| READ.contains(&it)));
    let mut words = |cell: &Cell| match parsed.get(&cell.text) {
        Some(description) => description.wall.clone(),
        None => walls
            .entry(cell.text.clone())
            .or_insert_with_key(|text| wall_words(&Plain::of(text), text))
            .clone(),
    };
    let mut found = texts.filter_map(|cell| Some((cell.location.clone(), words(cell)?)));
    if let Some((location, words)) = found.next() {
        unread.add(&location, &words, Why::WallInWords);
        row.cells.push(Cell { term: wall, location, text: words.into(), value: None });
        row.cells.sort_by_key(|cell| cell.term);
    }
}

/// What all sources say of a term: the value, the words and their location.
type Said<'s> = BTreeMap<usize, Vec<(&'s CellValue, &'s str, &'s Location)>>;

/// Adds what the sources state to the cells of a row.
fn add_to_row(row: &mut Row, sources: &[Source], vocabulary: &[Term]) {
    let mut said = Said::new();
    let mut conflicts: Vec<String> = Vec::new();
    let mut open: BTreeSet<usize> = BTreeSet::new();
    let mut vague: Vec<usize> = Vec::new();
    let is_own = |source: &&Source| !matches!(source.role, Role::Name | Role::Inherited | Role::Trim);
    for source in sources.iter().filter(is_own) {
        let Source { location, description, role, .. } = source;
        let may = |term: usize| source.may_state(&vocabulary[term]);
        let is_unsure = |term: usize| *role == Role::Note && is_number_in_note(&vocabulary[term]);
        // A note may call any outlet a hose bibb.
        let is_kind = |term: usize| vocabulary[term].subject == Some(Subject::Kind);
        let is_name = |term: usize| *role == Role::Note && is_kind(term) && row.cell(term).is_some();
        let may = |term: usize| may(term) && !is_name(term);
        let stated = description.stated.iter().filter(|it| may(it.term) && !is_unsure(it.term));
        for Statement { term, value, words } in stated {
            said.entry(*term).or_default().push((value, words, location));
        }
        for (term, [first, second]) in description.contradictions.iter().filter(|(term, _)| may(*term)) {
            open.insert(*term);
            let heading = heading_of(&vocabulary[*term]);
            conflicts.push(format!("{heading}: \"{first}\" and {}", quoted(second, location)));
        }
        let is_vague = |term: &usize| description.vague.contains(term);
        let own_open = description.open.iter().flat_map(|(_, terms)| terms).filter(|term| may(**term));
        let (own_vague, own_open): (Vec<usize>, Vec<usize>) = own_open.copied().partition(is_vague);
        open.extend(own_open);
        vague.extend(own_vague);
    }
    // "VB" in one cell, and its kind in another.
    open.extend(vague.into_iter().filter(|term| !said.contains_key(term)));
    for source in sources.iter().filter(|source| source.role == Role::Inherited) {
        let own: BTreeSet<usize> = said
            .keys()
            .copied()
            .chain(open.iter().copied())
            .chain(row.cells.iter().map(|it| it.term))
            .collect();
        for Statement { term, value, words } in
            source.description.stated.iter().filter(|it| !own.contains(&it.term))
        {
            said.entry(*term).or_default().push((value, words, &source.location));
        }
    }
    let is_yard = kinds_include(row, &said, vocabulary, &["yard hydrant", "ground hydrant"]);
    let is_hydrant = is_yard || kinds_include(row, &said, vocabulary, &["roof hydrant"]);
    for (term, all) in said {
        // A frost-proof yard hydrant closes below grade, and its length is not a barrel's.
        let about_barrel = [Some(Subject::Closes), Some(Subject::NominalLength)];
        if is_yard && about_barrel.contains(&vocabulary[term].subject) {
            continue;
        }
        let [(value, words, location), others @ ..] = all.as_slice() else { continue };
        if is_color(words)
            || !is_hydrant && is_coating(&vocabulary[term], value, words)
            || !is_yard && is_riser(&vocabulary[term], words)
        {
            continue;
        }
        let heading = heading_of(&vocabulary[term]);
        // Nothing is computed from it: a column says it, or else the first words.
        if matches!(vocabulary[term].subject, Some(Subject::Finish | Subject::Handle)) {
            if row.cells.iter().all(|cell| cell.term != term) && !open.contains(&term) {
                let (location, value) = ((*location).clone(), Some((*value).clone()));
                row.cells.push(Cell { term, location, text: (*words).into(), value });
            }
            continue;
        }
        if let Some(cell) = row.cells.iter().find(|cell| cell.term == term) {
            let Some(stated) = &cell.value else { continue };
            let differing = all.iter().filter(|(value, ..)| !value.is_compatible(stated));
            conflicts
                .extend(differing.map(|(_, words, location)| contradicted(heading, cell, words, location)));
        } else if let Some((_, other, at)) = others.iter().find(|(other, ..)| !value.is_compatible(other)) {
            conflicts.push(format!("{heading}: {}, {}", quoted(words, location), quoted(other, at)));
        } else if !open.contains(&term) {
            let (location, value) = ((*location).clone(), Some((*value).clone()));
            row.cells.push(Cell { term, location, text: (*words).into(), value });
        }
    }
    if is_yard {
        frostproof::put_below_grade(row, vocabulary);
    } else {
        let is_open = term_of(Subject::Closes, vocabulary).is_some_and(|closes| open.contains(&closes));
        closing::check(row, sources, is_open, vocabulary, &mut conflicts);
    }
    conflicts.extend(weighed::doubted(row, sources, vocabulary));
    let words = own_words(row, sources, vocabulary);
    conflicts.extend(hazards::of_row(row, &words, vocabulary));
    let trims = sources.iter().filter(|source| source.role == Role::Trim);
    conflicts.extend(trims.flat_map(|trim| weighed::in_trim(trim, row, vocabulary)));
    conflicts.extend(remarks::of_row(&words));
    let source = sources.iter().find(|source| source.role != Role::Name).or(sources.first());
    if let Some(location) =
        source.map(|it| &it.location).or(row.cells.first().map(|it| &it.location)).cloned()
    {
        disagree(row, conflicts, &location, vocabulary);
    }
    row.cells.sort_by_key(|cell| cell.term);
}

/// Adds what the words of a row contradict to its cells, after what is known already.
pub(super) fn disagree(row: &mut Row, mut conflicts: Vec<String>, location: &Location, vocabulary: &[Term]) {
    let Some(term) = term_of(Subject::Disagreement, vocabulary).filter(|_| !conflicts.is_empty()) else {
        return;
    };
    let known = row.cells.iter().position(|cell| cell.term == term).map(|at| row.cells.remove(at));
    let location = known.as_ref().map_or(location, |cell| &cell.location).clone();
    conflicts.splice(0..0, known.map(|cell| cell.text.to_string()));
    let text: Arc<str> = conflicts.join("; ").into();
    row.cells.push(Cell { term, location, text: text.clone(), value: Some(CellValue::Text(text)) });
    row.cells.sort_by_key(|cell| cell.term);
}

/// Reads the words of rows that stand in no table.
pub fn read_words(schedule: &mut Schedule, vocabulary: &[Term]) {
    add(schedule, vocabulary, &BTreeSet::new(), &Added::new());
}

/// Whether a row says that it is of one of these kinds.
fn kinds_include(row: &Row, said: &Said<'_>, vocabulary: &[Term], kinds: &[&str]) -> bool {
    let Some(kind) = term_of(Subject::Kind, vocabulary) else { return false };
    let is_one = |value: &CellValue| matches!(value, CellValue::Text(kind) if kinds.contains(&&**kind));
    let cell = row.cells.iter().find(|cell| cell.term == kind).and_then(|cell| cell.value.as_ref());
    cell.is_some_and(is_one) || said.get(&kind).is_some_and(|all| all.iter().any(|(value, ..)| is_one(value)))
}

/// A riser is the casing of a hydrant in the ground; elsewhere it is a supply pipe.
fn is_riser(term: &Term, words: &str) -> bool {
    let lower = words.to_lowercase();
    term.subject == Some(Subject::Barrel) && ["riser", "tuyau"].iter().any(|it| lower.contains(it))
}

/// "Galvanized" without a part is the casing of a hydrant in the ground; elsewhere it may be of anything.
fn is_coating(term: &Term, value: &CellValue, words: &str) -> bool {
    let is_steel = matches!(value, CellValue::Text(metal) if &**metal == "galvanized steel");
    let lower = words.to_lowercase();
    let has_part = ["casing", "body", "barrel", "pipe", "tube"].iter().any(|it| lower.contains(it));
    term.subject == Some(Subject::Barrel) && is_steel && !has_part
}

/// "Color: bronze" is no metal.
fn is_color(words: &str) -> bool {
    let lower = words.to_lowercase();
    ["color", "colour", "couleur"].iter().any(|it| lower.contains(it))
}
