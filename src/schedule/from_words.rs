//! What a row's words add to its columns. A column beats words; where the two disagree the row says so.

use super::closing;
use super::description::{Ear, Heard, alike};
use super::{Cell, Read, Reads, Row, Schedule, Term, Unused};
use crate::diag::{Location, Position};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};
use std::sync::Arc;

const KIND: &str = "outlet.kind";
const CLOSES: &str = "outlet.closes";
const DESCRIPTION: &str = "outlet.description";
const NOTES: &str = "outlet.notes";
const DISAGREES: &str = "outlet.description_disagrees";
const NOMINAL: &str = "outlet.nominal_length";
const SIZE: &str = "outlet.supply_size";

/// Columns that often hold more than they are for, and what may be taken from one of their cells that cannot be read as it
/// stands; nothing listed is anything.
const BROAD: &[(&str, &[&str])] = &[
    ("outlet.kind", &[]),
    ("outlet.supply", &["outlet.supply", SIZE, "outlet.inlet"]),
    (SIZE, &[SIZE, NOMINAL, "outlet.supply", "outlet.inlet"]),
    ("outlet.backflow_device", &["outlet.backflow_device", "outlet.backflow_standard"]),
    ("outlet.barrel", &["outlet.barrel"]),
];

/// More different wordings of a column are counted, not listed.
const MOST_LISTED: usize = 20;
const NOT_UNDERSTOOD: &str = "these words are not understood";
const IN_DOUBT: &str = "is left open as it stands, denied, or says too little; nothing is taken from it";

const KIND_ALONE: &str = "tells what the outlet is, and nothing else is taken from it: words beside that are not understood, or \
                          leave it open";
const PARTLY: &str = "is taken only so far as it is said plainly: the rest is left open as it stands, denied, or stands beside \
                      words that are not understood";
const FIGURE_IN_A_NOTE: &str = "is a figure in a note, which may be of something else; it is not used";
const TOO_LONG: &str = "is longer than 2,000 characters and too long to be read; nothing is taken from it";

/// The first words of a long text.
fn start(text: &str) -> String {
    text.chars().take(40).chain(std::iter::once('…')).collect()
}

/// A text that was heard, and where it stands.
pub(super) struct Source {
    pub(super) place: Location,
    pub(super) heard: Arc<Heard>,
    /// Whether figures may be taken from it; those of a note are often of something else.
    pub(super) figures: bool,
    /// What may be taken from it.
    allowed: &'static [&'static str],
    /// Whether it is the name of a kind that was read as it stands, and only compared.
    pub(super) is_name: bool,
}

/// Words with the column they stand in.
pub(super) fn quoted(words: &str, place: &Location) -> String {
    let column = match &place.position {
        Position::Row(_, Some(column)) => column,
        _ => "",
    };
    format!("\"{words}\" under {column}")
}

/// What texts say: each is read once.
type Known = HashMap<Arc<str>, Arc<Heard>>;

/// So many texts are read in one go, by one ear.
const CHUNK: usize = 256;

/// Reads the words of every row, but for cells that are not to be read at all.
pub(super) fn add(schedule: &mut Schedule, vocabulary: &[Term], closed: &BTreeSet<Location>) {
    let known = heard(&schedule.rows, vocabulary, closed);
    let mut mended: BTreeSet<Location> = BTreeSet::new();
    let mut unused = Leftovers::default();
    for row in &mut schedule.rows {
        let sources = sources(row, vocabulary, closed, &known, &mut unused, &mut mended);
        if !sources.is_empty() {
            take(row, &sources, vocabulary);
        }
    }
    if !mended.is_empty() {
        schedule.problems.retain(|it| !mended.contains(&it.location));
    }
    schedule.unused.extend(unused.listed());
}

/// Hears every text that is to be heard, many at a time.
fn heard(rows: &[Row], vocabulary: &[Term], closed: &BTreeSet<Location>) -> Known {
    let cells = rows.iter().flat_map(|row| &row.cells);
    let mut seen: HashSet<&str> = HashSet::new();
    let heard = cells.filter(|it| is_heard(it, vocabulary, closed)).map(|it| &it.text);
    let texts: Vec<&Arc<str>> = heard.filter(|it| seen.insert(it)).collect();
    let hear = |texts: &[&Arc<str>]| {
        let mut ear = Ear::new(vocabulary);
        texts.iter().map(|it| ((*it).clone(), Arc::new(ear.hear(it)))).collect::<Vec<_>>()
    };
    texts.par_chunks(CHUNK).flat_map_iter(hear).collect()
}

/// What may be taken from a cell of a broad column that cannot be read as it stands.
fn broad(cell: &Cell, vocabulary: &[Term]) -> Option<&'static [&'static str]> {
    let fact = vocabulary[cell.term].fact;
    BROAD.iter().find(|(name, _)| *name == fact && cell.value.is_none()).map(|(_, allowed)| *allowed)
}

fn is_heard(cell: &Cell, vocabulary: &[Term], closed: &BTreeSet<Location>) -> bool {
    let is_open =
        [KIND, DESCRIPTION, NOTES].contains(&vocabulary[cell.term].fact) || broad(cell, vocabulary).is_some();
    is_open && !closed.contains(&cell.place)
}

/// The texts of a row. A cell that its words mend becomes what they say of its fact.
fn sources(
    row: &mut Row,
    vocabulary: &[Term],
    closed: &BTreeSet<Location>,
    known: &Known,
    unused: &mut Leftovers,
    mended: &mut BTreeSet<Location>,
) -> Vec<Source> {
    let mut sources = Vec::new();
    let is_figure = |term: usize| matches!(vocabulary[term].reads, Reads::Quantity { .. } | Reads::Count);
    row.cells.retain_mut(|cell| {
        let fact = vocabulary[cell.term].fact;
        let broad = broad(cell, vocabulary);
        if !is_heard(cell, vocabulary, closed) {
            return true;
        }
        let Some(heard) = known.get(&cell.text).cloned() else { return true };
        let place = cell.place.clone();
        if fact == KIND && broad.is_none() {
            sources.push(Source { place, heard, figures: false, allowed: &[CLOSES], is_name: true });
            return true;
        }
        let own = heard.facts.iter().find(|(term, ..)| *term == cell.term);
        if heard.too_long {
            unused.add(&place, &start(&cell.text), TOO_LONG);
            return true;
        }
        // A cell with words that are not understood, or in doubt, is not mended.
        if broad.is_some() && !(heard.left.is_empty() && heard.doubtful.is_empty()) {
            return true;
        }
        // "10 in" under Size is the length it is ordered by.
        let is_length =
            fact == SIZE && heard.facts.iter().any(|(term, ..)| vocabulary[*term].fact == NOMINAL);
        if broad.is_some() && own.is_none() && !is_length {
            return true;
        }
        let takes_from_note = heard.facts.iter().any(|(term, ..)| !is_figure(*term));
        let is_note = fact == NOTES;
        // A note may be of anything; its figures may be of the outlet.
        let has_figure = |words: &str| words.chars().any(|c| c.is_ascii_digit());
        for words in heard.left.iter().filter(|it| !is_note || takes_from_note || has_figure(it)) {
            unused.add(&place, words, NOT_UNDERSTOOD);
        }
        for (_, _, words) in heard.facts.iter().filter(|(term, ..)| is_note && is_figure(*term)) {
            unused.add(&place, words, FIGURE_IN_A_NOTE);
        }
        for (words, _) in &heard.doubtful {
            let mut taken = heard
                .facts
                .iter()
                .filter(|(term, _, own)| !(is_note && is_figure(*term)) && words.contains(own.as_str()));
            let why = match (taken.next(), taken.all(|(term, ..)| vocabulary[*term].fact == KIND)) {
                (None, _) => IN_DOUBT,
                (Some((term, ..)), true) if vocabulary[*term].fact == KIND => KIND_ALONE,
                _ => PARTLY,
            };
            unused.add(&place, words, why);
        }
        if broad.is_some() {
            mended.insert(place.clone());
        }
        if let (Some(_), Some((_, value, words))) = (broad, own) {
            (cell.value, cell.text) = (Some(value.clone()), words.as_str().into());
        }
        let stays = broad.is_none() || own.is_some();
        sources.push(Source {
            place,
            heard,
            figures: !is_note,
            allowed: broad.unwrap_or(&[]),
            is_name: false,
        });
        stays
    });
    sources
}

/// Adds what the sources say to the cells of a row.
fn take(row: &mut Row, sources: &[Source], vocabulary: &[Term]) {
    let mut said: BTreeMap<usize, Vec<(&Read, &str, &Location)>> = BTreeMap::new();
    let mut odds: Vec<String> = Vec::new();
    let is_figure = |term: usize| matches!(vocabulary[term].reads, Reads::Quantity { .. } | Reads::Count);
    let heading = |term: usize| vocabulary[term].aliases.first().copied().unwrap_or_default();
    let mut open: BTreeSet<usize> = BTreeSet::new();
    for Source { place, heard, figures, allowed, .. } in sources.iter().filter(|it| !it.is_name) {
        let may = |term: usize| allowed.is_empty() || allowed.contains(&vocabulary[term].fact);
        for (term, read, words) in
            heard.facts.iter().filter(|(term, ..)| may(*term) && (*figures || !is_figure(*term)))
        {
            said.entry(*term).or_default().push((read, words, place));
        }
        for (term, [first, second]) in heard.at_odds.iter().filter(|(term, _)| may(*term)) {
            open.insert(*term);
            odds.push(format!("{}: \"{first}\" and {}", heading(*term), quoted(second, place)));
        }
        open.extend(heard.doubtful.iter().flat_map(|(_, terms)| terms).filter(|term| may(**term)));
    }
    let is_yard = |read: &Read| matches!(read, Read::Text(kind) if &**kind == "yard hydrant");
    let of_fact = |fact: &str, term: usize| vocabulary[term].fact == fact;
    let yard =
        row.cells.iter().any(|it| of_fact("outlet.kind", it.term) && it.value.as_ref().is_some_and(is_yard))
            || said
                .iter()
                .any(|(term, all)| of_fact("outlet.kind", *term) && all.iter().any(|(it, ..)| is_yard(it)));
    for (term, all) in said {
        // Frost-proof, said of a yard hydrant, means that it closes below grade; its length is no barrel's.
        if yard && (of_fact("outlet.closes", term) || of_fact(NOMINAL, term)) {
            continue;
        }
        let [(read, words, place), others @ ..] = all.as_slice() else { continue };
        if let Some(cell) = row.cells.iter().find(|cell| cell.term == term) {
            let Some(stated) = &cell.value else { continue };
            for (_, words, place) in all.iter().filter(|(read, ..)| !alike(read, stated)) {
                let column = quoted(&cell.text, &cell.place);
                odds.push(format!("{}: {column}, {}", heading(term), quoted(words, place)));
            }
            continue;
        }
        if let Some((_, other, at)) = others.iter().find(|(other, ..)| !alike(read, other)) {
            odds.push(format!("{}: {}, {}", heading(term), quoted(words, place), quoted(other, at)));
        } else if !open.contains(&term) {
            let (place, value) = ((*place).clone(), Some((*read).clone()));
            row.cells.push(Cell { term, place, text: (*words).into(), value });
        }
    }
    if !yard {
        let is_open = open.iter().any(|term| of_fact(CLOSES, *term));
        closing::hold_against(row, sources, is_open, vocabulary, &mut odds);
    }
    if let (Some(term), false) = (vocabulary.iter().position(|it| it.fact == DISAGREES), odds.is_empty()) {
        let text: Arc<str> = odds.join("; ").into();
        let place = sources.iter().find(|it| !it.is_name).unwrap_or(&sources[0]).place.clone();
        row.cells.push(Cell { term, place, text: text.clone(), value: Some(Read::Text(text)) });
    }
    row.cells.sort_by_key(|cell| cell.term);
}

/// Words that are not used, each wording of a column once, where it first stands.
#[derive(Default)]
struct Leftovers {
    seen: BTreeSet<(String, &'static str, String)>,
    listed: Vec<Unused>,
    counts: BTreeMap<(String, &'static str), (usize, Location)>,
}

impl Leftovers {
    fn add(&mut self, place: &Location, words: &str, why: &'static str) {
        let column = match &place.position {
            Position::Row(_, Some(column)) => column.to_string(),
            _ => String::new(),
        };
        if !self.seen.insert((column.clone(), why, words.to_lowercase())) {
            return;
        }
        let (count, last) = self.counts.entry((column, why)).or_insert_with(|| (0, place.clone()));
        *count += 1;
        if *count <= MOST_LISTED {
            self.listed.push(Unused { place: place.clone(), text: words.into(), why });
        } else {
            *last = place.clone();
        }
    }

    fn listed(mut self) -> Vec<Unused> {
        for ((_, why), (count, place)) in self.counts {
            if count > MOST_LISTED {
                let text = format!("… and {} more wordings", count - MOST_LISTED).into();
                self.listed.push(Unused { place, text, why });
            }
        }
        self.listed
    }
}
