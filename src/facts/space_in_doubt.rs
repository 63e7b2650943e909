//! Words of a row that speak of another space than the one that would be taken for granted behind its wall.

use super::reading::{Fact, Origin};
use super::slot;
use crate::expr::{Gap, Value};

/// Spaces at least as cold as what stands apart from the heated house.
const COLD: &[&str] = &["unheated basement", "crawlspace", "garage", "attic"];

/// Words of a place, also in the plural, and the spaces behind that agree with them.
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
    ("shed", COLD),
    ("barn", COLD),
    ("detached", COLD),
    ("outbuilding", COLD),
    ("pump house", COLD),
    ("pumphouse", COLD),
    ("well house", COLD),
    ("wellhouse", COLD),
];

/// Where such words stand, and how that is told.
const COLUMNS: [(&str, &str); 3] = [
    ("outlet.location", "its location says"),
    ("outlet.description", "its description says"),
    ("outlet.notes", "its notes say"),
];

/// Leaves the space behind open, with the words, where the row's own words contradict the one that would be taken: the job's
/// default, or the usual one of the wall. What the row itself states stands.
pub(super) fn leave_open(given: &mut [Option<Fact>], usual: Option<&str>) {
    let space = slot("outlet.space_behind");
    if given[usize::from(space.0)].is_some() {
        return;
    }
    for (column, says) in COLUMNS {
        let Some(Fact { value: Ok(Value::Text(text)), origin: Origin::Stated(place, _) }) =
            &given[usize::from(slot(column).0)]
        else {
            continue;
        };
        let Some(word) = contradicts(text, usual) else { continue };
        let why = format!("{says} \"{word}\", and no space behind is stated");
        let gap = Gap { absent: Gap::absent(space, why).absent, ..Gap::missing(space) };
        let origin = Origin::Unreadable(place.clone(), text.clone());
        given[usize::from(space.0)] = Some(Fact { value: Err(gap), origin });
        return;
    }
}

/// The first words of a text that do not agree with a space.
fn contradicts(text: &str, space: Option<&str>) -> Option<&'static str> {
    let plain: String =
        text.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let words = format!(" {} ", plain.split_whitespace().collect::<Vec<_>>().join(" "));
    let says = |word: &str| ["", "s"].iter().any(|end| words.contains(&format!(" {word}{end} ")));
    let agrees = |with: &[&str]| space.is_some_and(|it| with.contains(&it));
    WORDS.iter().find(|(word, with)| says(word) && !agrees(with)).map(|(word, _)| *word)
}
