//! Compares what a row says of where the outlet closes: the name of its kind, its columns and its words. Most rules
//! depend on it, so that unclear words leave it open instead of assumed.

use super::description::Statement;
use super::types::{Cell, Row};
use super::vocabulary::{CellValue, Term};
use super::vocabulary::{Subject, heading_of, term_of};
use super::word_source::{Role, Source, contradicted, quoted};

/// Adds what contradicts the row to `conflicts`. Leaves open where the outlet closes if nothing but its kind states it
/// and some words are open or unknown.
pub(super) fn check(
    row: &mut Row,
    sources: &[Source],
    is_open: bool,
    vocabulary: &[Term],
    conflicts: &mut Vec<String>,
) {
    let (names, words): (Vec<&Source>, Vec<&Source>) =
        sources.iter().partition(|source| source.role == Role::Name);
    check_denials(row, &words, &names, vocabulary, conflicts);
    let term = |subject| term_of(subject, vocabulary);
    let (Some(closes), Some(kind)) = (term(Subject::Closes), term(Subject::Kind)) else { return };
    let named = names.iter().find_map(|source| {
        let stated = source.description.stated.iter().find(|it| it.term == closes)?;
        Some((stated, &source.location))
    });
    if let Some(cell) = row.cells.iter().find(|cell| cell.term == closes) {
        if let (Some((stated, location)), Some(value)) = (named, &cell.value)
            && !stated.value.is_compatible(value)
        {
            conflicts.push(contradicted("Closes", cell, &stated.words, location));
        }
        return;
    }
    let open = words.iter().filter(|_| is_open).find_map(|source| {
        let (phrase, _) = source.description.open.iter().find(|(_, terms)| terms.contains(&closes))?;
        Some((&source.location, phrase.clone()))
    });
    let is_plain = |cell: &Cell| {
        let value = cell.value.as_ref().filter(|_| cell.term == kind);
        matches!(value, Some(CellValue::Text(kind)) if ["hose bibb", "sillcock"].contains(&&**kind))
    };
    let unknown = || {
        let has_unknown = |source: &&&Source| {
            !matches!(source.role, Role::Note | Role::Trim) && !source.description.unknown.is_empty()
        };
        let source = words.iter().find(has_unknown)?;
        let is_assumed = named.is_none() && row.cells.iter().any(is_plain);
        is_assumed.then(|| (&source.location, source.description.unknown.join(", ")))
    };
    if let Some((location, text)) = open.or_else(unknown) {
        row.cells.push(Cell { term: closes, location: location.clone(), text: text.into(), value: None });
    }
}

/// Adds the denials of what a column, or the name of the kind, states.
fn check_denials(
    row: &Row,
    words: &[&Source],
    names: &[&Source],
    vocabulary: &[Term],
    conflicts: &mut Vec<String>,
) {
    for source in words {
        for denied in &source.description.denied {
            let term = &vocabulary[denied.term];
            // "No brass" may be about something else; "not brass" is about the outlet.
            if term.subject != Some(Subject::Closes) && !denied.words.to_lowercase().starts_with("not ") {
                continue;
            }
            let stated = match row.cells.iter().find(|cell| cell.term == denied.term) {
                Some(cell) => {
                    let value = cell.value.as_ref().filter(|value| value.is_compatible(&denied.value));
                    value.map(|_| quoted(&cell.text, &cell.location))
                }
                None => names.iter().find_map(|name| {
                    let is_it =
                        |it: &&Statement| it.term == denied.term && it.value.is_compatible(&denied.value);
                    let stated = name.description.stated.iter().find(is_it)?;
                    Some(quoted(&stated.words, &name.location))
                }),
            };
            if let Some(stated) = stated {
                let denial = quoted(&denied.words, &source.location);
                conflicts.push(format!("{}: {stated}, {denial}", heading_of(term)));
            }
        }
    }
}
