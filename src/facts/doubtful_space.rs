//! Words of a row that name another space than the one that would be assumed at the inlet.

use super::columns::{DESCRIPTION, LOCATION, NOTES};
use super::def::Def;
use crate::diag::{Location, spaced_words};
use std::sync::Arc;

/// Spaces at least as cold as a building apart from the heated house.
const COLD: &[&str] = &["unheated basement", "crawlspace", "garage", "attic"];

/// Words for a place, also in the plural, and the spaces that agree with them.
const WORDS: &[(&str, &[&str])] = &[
    ("garage", &["garage"]),
    ("crawl", &["crawlspace"]),
    ("crawlspace", &["crawlspace"]),
    ("basement", &["basement", "unheated basement"]),
    ("bsmt", &["basement", "unheated basement"]),
    ("cellar", &["unheated basement"]),
    ("attic", &["attic"]),
    ("unheated", COLD),
    ("not heated", COLD),
    ("no heat", COLD),
    ("unconditioned", COLD),
    ("non conditioned", COLD),
    ("not conditioned", COLD),
    ("cantilever", COLD),
    ("cantilevered", COLD),
    ("bump out", COLD),
    ("porch", COLD),
    ("carport", COLD),
    ("shed", COLD),
    ("barn", COLD),
    ("detached", COLD),
    ("outbuilding", COLD),
    ("pump house", COLD),
    ("pumphouse", COLD),
    ("well house", COLD),
    ("wellhouse", COLD),
];

/// Columns that may hold such words, and how a reason names them.
const COLUMNS: [(&Def, &str); 3] =
    [(LOCATION, "its location says"), (DESCRIPTION, "its description says"), (NOTES, "its notes say")];

/// Words of a row that contradict the space that would be assumed: why it stays unknown, and the text with its location.
/// `column` gives the text of a column.
pub(super) fn contradiction<'g>(
    usual: Option<&str>,
    column: impl Fn(&Def) -> Option<(&'g Arc<str>, &'g Location)>,
) -> Option<(String, &'g Arc<str>, &'g Location)> {
    COLUMNS.iter().find_map(|(def, says)| {
        let (text, location) = column(def)?;
        let word = first_contradiction(text, usual)?;
        Some((format!("{says} \"{word}\", and no space behind is stated"), text, location))
    })
}

/// The first words of a text that disagree with a space.
pub(super) fn first_contradiction(text: &str, space: Option<&str>) -> Option<&'static str> {
    let words = spaced_words(text);
    let says = |word: &str| {
        words.match_indices(word).any(|(at, _)| {
            let after = &words[at + word.len()..];
            words[..at].ends_with(' ') && (after.starts_with(' ') || after.starts_with("s "))
        })
    };
    let agrees = |with: &[&str]| space.is_some_and(|space| with.contains(&space));
    WORDS.iter().find(|(word, with)| says(word) && !agrees(with)).map(|(word, _)| *word)
}
