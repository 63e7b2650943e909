//! What stands around the rows of a table: titles over rows, numbered notes below them and the rows that cite those, and
//! lines that only go on with the row above.

use super::cites::{cited, cited_by_name, is_number, numbered};
use super::entries::{AddedFrom, Entry, Raw, alone};
use super::general::{Line, Marks};
use super::held::Held;
use super::lexicon::{Sense, items};
use super::place::Place;
use super::text::Plain;
use super::tokens::without_accent;
use super::types::{ReadOptions, Schedule, SetAside};
use super::unused::{Aside, Why};
use super::vocabulary::{CellType, Subject, term_of};
use super::{footnotes, legend, phrases, select};
use crate::diag::Location;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The rows of a table without what stands around them.
pub(super) struct Gathered {
    /// Each with the title it stands under.
    pub rows: Vec<(Entry, Option<Arc<str>>)>,
    notes: BTreeMap<String, Raw>,
    /// Lines that belong to no row.
    pub lines: Vec<Line>,
}

/// Parts the rows from titles, notes and lines that go on with the row above, and lists those.
pub(super) fn gather(
    mut entries: Vec<Entry>,
    outside: Vec<(Location, Arc<str>, Place)>,
    options: &ReadOptions<'_>,
    schedule: &mut Schedule,
) -> Gathered {
    let mut gathered = Gathered::plain(Vec::new());
    let marks = Marks::of(&entries, options);
    for (location, text, place) in outside {
        gathered.lines.push(Line::of(None, &text, &location, place, &marks));
        let aside = place.aside().map(|reason| SetAside { location, text, reason });
        schedule.rows_set_aside.extend(aside);
    }
    let first_aside = schedule.rows_set_aside.len();
    let rows = entries.iter().filter(|entry| entry.cells.len() > 1).flat_map(|entry| &entry.cells);
    let signs: BTreeSet<String> =
        rows.filter_map(|raw| footnotes::cited(&raw.text)).map(|(_, sign)| sign.to_owned()).collect();
    let with_mark = entries.iter().filter(|it| it.cell(options.mark).is_some()).count();
    let has_marks = with_mark * 3 >= entries.len();
    let words = term_of(Subject::Description, options.vocabulary);
    legend::apply(&mut entries, options, schedule);
    let (mut title, mut in_notes, mut is_text, mut last) = (None, false, false, 0);
    for entry in entries {
        let alone = alone(&entry, options);
        let number = entry.number;
        let mut set_aside = |reason, text: &Arc<str>| {
            schedule.rows_set_aside.push(SetAside {
                location: entry.location.clone(),
                text: text.clone(),
                reason,
            });
        };
        match alone {
            // "*", and the footnote beside it.
            None if beside_sign(&entry, &signs).is_some() => {
                let Some((sign, raw)) = beside_sign(&entry, &signs) else { continue };
                set_aside(Aside::Note, &raw.text);
                gathered.notes.insert(sign, Raw { location: entry.location, ..raw });
            }
            // "1", and the note beside it.
            None if in_notes && noted(&entry).is_some() => {
                let Some((number, raw)) = noted(&entry) else { continue };
                set_aside(Aside::Note, &raw.text);
                gathered.notes.insert(number, Raw { location: entry.location, ..raw });
            }
            None if is_text => set_aside(Aside::Note, &select::name_of(&entry, options)),
            None => {
                in_notes = in_notes && entry.cell(options.mark).is_none();
                gathered.rows.push((entry, title.clone()));
            }
            Some(raw) => {
                let goes_on = !in_notes
                    && has_marks
                    && Some(raw.term) == words
                    && last + 1 == number
                    && (!starts_with_kind(&raw.text) || numbered(&raw.text).is_some())
                    && !phrases::is_total(&raw.text);
                let previous = gathered.rows.last_mut().filter(|_| goes_on);
                let footnote = footnotes::footnote(&raw.text).filter(|(sign, _)| signs.contains(*sign));
                if let Some((sign, words)) = footnote {
                    set_aside(Aside::Note, &raw.text);
                    let (sign, text) = (sign.to_owned(), words.into());
                    gathered.notes.insert(sign, Raw { text, location: entry.location, ..raw });
                } else if let Some((row, _)) = previous {
                    go_on(row, raw);
                } else if let Some((key, note)) = numbered(&raw.text) {
                    set_aside(Aside::Note, &raw.text);
                    gathered.notes.insert(key, Raw { text: note.into(), location: entry.location, ..raw });
                    in_notes = true;
                } else if is_title_of_notes(&raw.text) {
                    set_aside(Aside::Title, &raw.text);
                    in_notes = true;
                } else if in_notes {
                    set_aside(Aside::Note, &raw.text);
                } else if phrases::is_total(&raw.text) || entry.struck || phrases::is_deleted_mark(&raw.text)
                {
                    gathered.rows.push((entry, title.clone()));
                } else if is_title(&raw, options) {
                    set_aside(Aside::Title, &raw.text);
                    is_text = NOT_OF_ROWS.contains(&raw.text.trim().to_lowercase().as_str());
                    title = Some(raw.text);
                } else {
                    gathered.rows.push((entry, title.clone()));
                }
            }
        }
        last = number;
    }
    // Below the last row stands no title.
    let last = gathered.rows.last().map_or(0, |(entry, _)| entry.number);
    let keys: BTreeMap<&Location, &String> =
        gathered.notes.iter().rev().map(|(key, raw)| (&raw.location, key)).collect();
    for SetAside { location, text, reason } in &schedule.rows_set_aside[first_aside..] {
        let is_below = location.line_or_row().is_some_and(|row| row > last);
        let place = if *reason == Aside::Title && !is_below { Place::Title } else { Place::Note };
        let key = keys.get(location).map(|key| (*key).clone());
        gathered.lines.push(Line::of(key, text, location, place, &marks));
    }
    // "HB-1 - DELETED" alone, below a row of that mark.
    for (entry, _) in &gathered.rows {
        let Some(raw) = alone(entry, options).filter(|raw| phrases::is_deleted_mark(&raw.text)) else {
            continue;
        };
        gathered.lines.push(Line::of(None, &raw.text, &entry.location, Place::Note, &marks));
    }
    gathered
}

/// The sign of a footnote and the text in the cell beside it.
fn beside_sign(entry: &Entry, signs: &BTreeSet<String>) -> Option<(String, Raw)> {
    let [first, second] = entry.cells.as_slice() else { return None };
    let is_cited = footnotes::is_sign(&first.text) && signs.contains(first.text.trim());
    is_cited.then(|| (first.text.trim().to_owned(), second.clone()))
}

/// Adds a line to the row it goes on with: to the cell above it, unless it is an item of a list.
fn go_on(row: &mut Entry, raw: Raw) {
    let item = numbered(&raw.text).map(|(_, text)| text.to_owned());
    let is_above = |it: &&mut Raw| it.term == raw.term && it.location.heading() == raw.location.heading();
    match (item, row.cells.iter_mut().find(is_above)) {
        (None, Some(above)) if !raw.text.starts_with('*') => {
            // "W/ VACUUM BREAKER" starts a phrase of its own.
            let lower = raw.text.to_lowercase();
            let starts = ["w/", "with ", "tag:", "avec "].iter().any(|it| lower.starts_with(it));
            let between = if starts { '\n' } else { ' ' };
            above.text = format!("{}{between}{}", above.text, raw.text).into()
        }
        (item, _) => {
            let text = item.map_or_else(|| raw.text.clone(), Arc::from);
            row.added.push((Raw { text, ..raw }, AddedFrom::Continued));
        }
    }
}

impl Gathered {
    /// Rows of a list of models or places, with the lines around them.
    pub(super) fn listed(entries: Vec<Entry>, outside: Vec<(Location, Arc<str>, Place)>) -> Self {
        let marks = Marks::default();
        let line = |(location, text, place)| Line::of(None, &text, &location, place, &marks);
        Self { lines: outside.into_iter().map(line).collect(), ..Self::plain(entries) }
    }

    fn plain(entries: Vec<Entry>) -> Self {
        let rows = entries.into_iter().map(|entry| (entry, None)).collect();
        Self { rows, notes: BTreeMap::new(), lines: Vec::new() }
    }

    /// Adds the numbered notes and the footnotes that a row cites to its cells. A number or sign without one is listed.
    pub(super) fn add_cited(
        notes: &BTreeMap<String, Raw>,
        entry: &mut Entry,
        options: &ReadOptions<'_>,
        held: &mut Held,
        schedule: &mut Schedule,
    ) -> Vec<String> {
        let term = term_of(Subject::Notes, options.vocabulary);
        let mut found = Vec::new();
        for raw in &mut entry.cells {
            let Some((bare, sign)) = footnotes::cited(&raw.text) else { continue };
            let Some(note) = notes.get(sign) else {
                schedule.unused.push(Why::NoSuchFootnote.of(raw.location.clone(), raw.text.clone()));
                continue;
            };
            if footnotes::takes_back(&note.text) {
                held.add(entry.number, &format!("Footnote {sign}"), &note.text, &note.location);
            }
            found.push(sign.to_owned());
            raw.text = bare.into();
        }
        // A column of notes may have bare numbers; other texts name what they cite.
        let is_notes = |raw: &Raw| Some(raw.term) == term;
        let is_text = |raw: &&Raw| matches!(options.vocabulary[raw.term].reads, CellType::Text);
        for raw in entry.cells.iter().filter(is_text).filter(|raw| raw.term != options.mark) {
            let keys = if is_notes(raw) { cited(&raw.text) } else { cited_by_name(&raw.text) };
            for key in keys {
                if notes.contains_key(&key) {
                    found.push(key);
                } else {
                    schedule.unused.push(Why::NoSuchNote.of(raw.location.clone(), format!("note {key}")));
                }
            }
        }
        for note in found.iter().filter_map(|key| notes.get(key)) {
            let term = term.unwrap_or(note.term);
            entry.added.push((Raw { term, ..note.clone() }, AddedFrom::Cited));
        }
        found
    }

    pub(super) fn take_notes(&mut self) -> BTreeMap<String, Raw> {
        std::mem::take(&mut self.notes)
    }
}

/// Titles over what says how things are installed, not which there are.
const NOT_OF_ROWS: [&str; 8] = [
    "execution",
    "submittals",
    "installation",
    "general",
    "summary",
    "warranty",
    "quality assurance",
    "references",
];

/// The number and text of a note in two cells.
fn noted(entry: &Entry) -> Option<(String, Raw)> {
    let [first, second] = entry.cells.as_slice() else { return None };
    let number = first.text.trim_end_matches(['.', ')', ':']);
    (entry.others.is_empty() && is_number(number)).then(|| (number.to_lowercase(), second.clone()))
}

fn is_title_of_notes(text: &str) -> bool {
    let name: String =
        text.trim().trim_end_matches([':', '.', ' ']).to_lowercase().chars().map(without_accent).collect();
    const LONGEST: usize = 30;
    let is_notes = ["notes", "note", "remarks", "legend", "remarques", "notes generales"]
        .iter()
        .any(|it| name.ends_with(it));
    is_notes && name.len() < LONGEST
}

/// Whether a text alone in its row stands over other rows: "DRAINS", "Hose Bibbs: 11".
fn is_title(raw: &Raw, options: &ReadOptions<'_>) -> bool {
    if raw.term != options.mark {
        return false;
    }
    let (name, count) = raw.text.split_once(':').unwrap_or((&raw.text, ""));
    let has_digit = name.chars().any(|c| c.is_ascii_digit());
    let is_counted = count.trim().is_empty() || count.trim().bytes().all(|it| it.is_ascii_digit());
    const TITLES: [&str; 15] = [
        "fixtures",
        "hydrants",
        "drains",
        "equipment",
        "exterior",
        "interior",
        "specialties",
        "accessories",
        "plumbing",
        "site",
        "piping",
        "outlets",
        "execution",
        "valves",
        "breakers",
    ];
    let lower = name.trim().to_lowercase();
    let is_word = TITLES.iter().any(|it| lower.split_whitespace().any(|word| word == *it));
    let names = items(&Plain::of(name).text);
    let is_plural = name.trim().to_lowercase().ends_with('s');
    let is_name =
        names.iter().any(|it| matches!(it.sense, Sense::OfKind(_) | Sense::Other(_) | Sense::Device(_)));
    phrases::is_note(&raw.text) || !has_digit && is_counted && (is_word || is_name && is_plural)
}

fn starts_with_kind(text: &str) -> bool {
    let names = items(&Plain::of(text).text);
    names
        .iter()
        .find(|it| !matches!(it.sense, Sense::Idle | Sense::Look))
        .is_some_and(|it| matches!(it.sense, Sense::OfKind(_) | Sense::KindClosing(..) | Sense::Other(_)))
}
