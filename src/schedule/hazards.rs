//! Words of a row that contradict what a safe outlet is, or what its columns say: a barrel pitched to the house, a hose that
//! stays on, a supply in an attic, a heated room at a garage, another wall. Each raises a comment.

use super::lexicon::{Sense, items};
use super::text::Plain;
use super::types::{Cell, Row};
use super::vocabulary::{CellValue, Subject, Term, term_of};
use super::word_source::quoted;

/// What the comment calls it, words of which one must be in the text, and words of which one must follow.
const HAZARDS: &[(&str, &[&str], &[&str])] = &[
    (
        "Slope",
        &["pitch", "slope", "fall"],
        &[
            "toward house",
            "toward the house",
            "to house",
            "back to wall",
            "toward building",
            "toward the building",
            "back toward",
            "toward inside",
            "toward interior",
            "to inside",
            "to interior",
            "inward",
        ],
    ),
    ("Slope", &["reverse slope", "reverse pitch", "back pitch", "back slope"], &[""]),
    (
        "Hose",
        &["hose"],
        &[
            "to remain connected",
            "remains connected",
            "left connected",
            "to remain attached",
            "remains attached",
            "left attached",
            "permanently connected",
            "stays connected",
            "stays on",
            "left on",
            "year round",
            "year-round",
            "all winter",
        ],
    ),
    (
        "Supply",
        &["pipe", "piping", "supply", "water line"],
        &[
            "in attic",
            "in the attic",
            "in outside wall",
            "in exterior wall",
            "in crawl",
            "in garage",
            "in unconditioned",
            "in unheated",
        ],
    ),
    // A timer is closed by nobody in autumn, and keeps the vacuum breaker under pressure.
    ("Hose", &["timer"], &[""]),
    (
        "Use",
        &[
            "chemical",
            "fertilizer",
            "pesticide",
            "glycol",
            "antifreeze",
            "injector",
            "irrigation connection",
            "irrigation system",
            "drip irrigation",
        ],
        &[""],
    ),
    // Screws and alloys of which no metal is known that would do.
    ("Fasteners", &["deck screw", "drywall screw", "plain steel", "carbon steel", "black steel"], &[""]),
    ("Metal", &["pot metal", "zamak", "die cast zinc", "die-cast zinc"], &[""]),
    // A length in words is not read.
    (
        "Nominal length",
        &[
            "four inch",
            "four-inch",
            "six inch",
            "six-inch",
            "eight inch",
            "eight-inch",
            "ten inch",
            "ten-inch",
            "twelve inch",
            "twelve-inch",
            "fourteen inch",
            "fourteen-inch",
        ],
        &[""],
    ),
];

/// Words that a space is not heated.
const UNHEATED: [&str; 9] = [
    "unheated",
    "not heated",
    "non heated",
    "non-heated",
    "not in heated",
    "unconditioned",
    "not conditioned",
    "heat off",
    "no heat",
];
/// Stud sizes and words for masonry that distinguish one wall from another.
const STUDS: &[&str] = &["2x4", "2x6", "2x8", "2x10"];
const MASONRY: &[&str] = &["cmu", "concrete block", "block wall", "masonry", "brick wall", "concrete wall"];

/// Spaces that are not a heated room.
const COLD: [&str; 3] = ["garage", "crawlspace", "attic"];

/// What contradicts in the words of a row, for people.
pub(super) fn of_row(row: &Row, vocabulary: &[Term]) -> Vec<String> {
    const READ: [Subject; 3] = [Subject::Description, Subject::Location, Subject::Notes];
    let is_text = |cell: &&Cell| vocabulary[cell.term].subject.is_some_and(|it| READ.contains(&it));
    let space = term_of(Subject::SpaceBehind, vocabulary);
    let heated = row.cells.iter().find(|cell| {
        Some(cell.term) == space
            && matches!(&cell.value, Some(CellValue::Text(space)) if &**space == "heated room")
    });
    // A slope with a figure has its own rule.
    let is_slope = |cell: &Cell, text: &Cell| {
        vocabulary[cell.term].subject == Some(Subject::Slope)
            && cell.value.is_some()
            && cell.location == text.location
    };
    let wall = row
        .cells
        .iter()
        .find(|cell| vocabulary[cell.term].subject == Some(Subject::Wall) && cell.value.is_some());
    let mut found = Vec::new();
    for cell in row.cells.iter().filter(is_text) {
        let text = Plain::of(&cell.text).text.to_lowercase();
        for (heading, first, then) in HAZARDS {
            let follows = |word: &&&str| {
                text.find(**word).is_some_and(|at| then.iter().any(|it| text[at..].contains(it)))
            };
            let is_own = *heading == "Slope" && row.cells.iter().any(|own| is_slope(own, cell));
            if first.iter().any(|word| follows(&word)) && !is_own {
                found.push(format!("{heading}: {}", quoted(&cell.text, &cell.location)));
            }
        }
        let mut disagree = |heading: &str, column: &Cell, words: &str| {
            let (one, other) = (quoted(&column.text, &column.location), quoted(words, &cell.location));
            found.push(format!("{heading}: {one}, {other}"));
        };
        let cold = items(&text)
            .into_iter()
            .find(|it| matches!(it.sense, Sense::Space(space) if COLD.contains(&space)))
            .map(|it| &text[it.range]);
        let cold = cold.or_else(|| UNHEATED.into_iter().find(|it| text.contains(it)));
        if let (Some(heated), Some(cold)) = (heated, cold) {
            disagree("Space behind", heated, cold);
        }
        if let Some(wall) = wall.filter(|it| it.location != cell.location)
            && let Some(words) = other_wall(wall, &text)
        {
            disagree("Wall", wall, words);
        }
    }
    found
}

/// Words for a wall that cannot be the one of a column.
fn other_wall(wall: &Cell, text: &str) -> Option<&'static str> {
    let mut known = wall.text.to_lowercase();
    if let Some(CellValue::Text(key)) = &wall.value {
        known.push_str(key);
    }
    let of = |words: &'static [&'static str], text: &str| words.iter().copied().find(|it| text.contains(it));
    match (of(STUDS, &known), of(STUDS, text)) {
        (Some(own), Some(other)) if own != other => Some(other),
        _ if text.contains("uninsulated wall") && !known.contains("uninsulated") => Some("uninsulated wall"),
        // A wall of studs is no masonry.
        (Some(_), _) => of(MASONRY, text),
        _ => None,
    }
}
