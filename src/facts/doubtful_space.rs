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
    ("winterized", COLD),
    ("winterised", COLD),
    ("closed in winter", COLD),
    ("closed for winter", COLD),
    ("closed in the winter", COLD),
    ("seasonal", COLD),
];

/// Words for a place that is no heated room, or may be none, as a location; elsewhere they may be of something nearby.
const PLACES: &[&str] = &[
    "breezeway",
    "cold storage",
    "cold room",
    "cooler",
    "freezer",
    "loading dock",
    "loading bay",
    "roof",
    "rooftop",
    "canopy",
    "soffit",
    "fence",
    "pedestal",
    "free standing",
    "freestanding",
    "bollard",
    "picnic",
    "shelter",
    "pavilion",
    "gazebo",
    "pergola",
    "kiosk",
    "dugout",
    "concession",
    "boat house",
    "boathouse",
    "greenhouse",
    "green house",
    "restroom building",
    "comfort station",
    "bath house",
    "bathhouse",
    "pool house",
    "guard house",
    "ranger station",
    "cabin",
    "trash enclosure",
    "dumpster",
    "site wall",
    "retaining wall",
    "parking structure",
    "stable",
    "hangar",
    "kennel",
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
        let place = || first_place(text).filter(|_| std::ptr::eq(*def, LOCATION) && !agrees(COLD, usual));
        let word = first_contradiction(text, usual).or_else(place)?;
        Some((format!("{says} \"{word}\", and no space behind is stated"), text, location))
    })
}

/// The first words of a text that disagree with a space.
pub(super) fn first_contradiction(text: &str, space: Option<&str>) -> Option<&'static str> {
    let words = spaced_words(text);
    WORDS.iter().find(|(word, with)| says(&words, word) && !agrees(with, space)).map(|(word, _)| *word)
}

/// The first words of a location for a place that may be no heated room.
fn first_place(text: &str) -> Option<&'static str> {
    let words = spaced_words(text);
    PLACES.iter().find(|word| says(&words, word)).copied()
}

/// Whether words, each between spaces, have a word or its plural.
fn says(words: &str, word: &str) -> bool {
    words.match_indices(word).any(|(at, _)| {
        let after = &words[at + word.len()..];
        words[..at].ends_with(' ') && (after.starts_with(' ') || after.starts_with("s "))
    })
}

fn agrees(with: &[&str], space: Option<&str>) -> bool {
    space.is_some_and(|space| with.contains(&space))
}
