//! Words of a row that contradict what a safe outlet is, or what its columns say: a barrel pitched to the house, a hose that
//! stays on, a heated room at a garage. Each raises a comment.

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
            "inward",
        ],
    ),
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
            "left on",
        ],
    ),
];

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
    let has_slope = row
        .cells
        .iter()
        .any(|cell| vocabulary[cell.term].subject == Some(Subject::Slope) && cell.value.is_some());
    let mut found = Vec::new();
    for cell in row.cells.iter().filter(is_text) {
        let text = Plain::of(&cell.text).text.to_lowercase();
        for (heading, first, then) in HAZARDS {
            let follows = |word: &&&str| {
                text.find(**word).is_some_and(|at| then.iter().any(|it| text[at..].contains(it)))
            };
            // A slope with a figure has its own rule.
            if first.iter().any(|word| follows(&word)) && !(has_slope && *heading == "Slope") {
                found.push(format!("{heading}: {}", quoted(&cell.text, &cell.location)));
            }
        }
        let cold = items(&text)
            .into_iter()
            .find(|it| matches!(it.sense, Sense::Space(space) if COLD.contains(&space)));
        if let (Some(heated), Some(cold)) = (heated, cold) {
            let (one, other) =
                (quoted(&heated.text, &heated.location), quoted(&text[cold.range], &cell.location));
            found.push(format!("Space behind: {one}, {other}"));
        }
    }
    found
}
