//! Words for a wall in a text: "8 in CMU with 2 in rigid insulation". They are families of walls, not one of them: they
//! are kept as they are, and the wall is asked for.

use super::description::phrases;
use super::lexicon::{Sense, items};
use super::text::Plain;
use regex::Regex;
use std::sync::LazyLock;

/// Words before the wall itself.
const BEFORE: [&str; 14] = [
    " is ",
    " are ",
    " at ",
    ": ",
    " for ",
    " through ",
    " thru ",
    " in ",
    " from ",
    " of ",
    " into ",
    " on ",
    " to ",
    " behind ",
];

/// A wall by its studs or by its type on the drawings.
const NAMED: &str = r"\b(?:2\s*x\s*(?:4|6|8|10|12)\s+(?:[a-z]+\s+){0,2}(?:wall|framing|studs)|walls?\s+(?:is|are|of)\s+2\s*x\s*(?:4|6|8|10|12)|(?:wall|partition)\s+types?\s*[:#.]?\s*(?:[a-z]{0,3}-?\d[\w.\-]*|[a-z]))\b";

#[allow(clippy::expect_used, reason = "a pattern written in the source; a test reads with it")]
static NAMED_WALL: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(&format!("(?i-u){NAMED}")).expect("a pattern of the source"));

/// The words for a wall in a text, in their original spelling; the text is also given spelled plainly.
pub(super) fn wall_words(plain: &Plain, original: &str) -> Option<String> {
    constructed(plain, original).or_else(|| {
        let named = NAMED_WALL.find(&plain.text)?;
        Some(plain.original(original, &named.range()).to_owned())
    })
}

/// The words of a wall that say what it is made of.
fn constructed(plain: &Plain, original: &str) -> Option<String> {
    let items = items(&plain.text);
    let first = items.iter().find(|it| it.sense == Sense::Construction)?;
    let phrase = phrases(&plain.text)
        .into_iter()
        .find(|it| it.start <= first.range.start && first.range.start < it.end)?;
    let before = format!(" {}", plain.text[phrase.start..first.range.start].to_lowercase());
    // One byte longer by the space at its start.
    let cut = BEFORE.iter().filter_map(|word| Some(before.rfind(word)? + word.len() - 1)).max().unwrap_or(0);
    let start = phrase.start + cut;
    let is_outlet = |sense: Sense| matches!(sense, Sense::OfKind(_) | Sense::KindClosing(..));
    let names_outlet =
        items.iter().any(|it| start <= it.range.start && it.range.end <= phrase.end && is_outlet(it.sense));
    // The point of an abbreviation at the end belongs to it.
    const SHORT: [&str; 5] = ["insul", "conc", "bd", "galv", "alum"];
    let last = plain.text[start..phrase.end].rsplit(' ').next().unwrap_or_default().to_lowercase();
    let has_point = SHORT.contains(&last.as_str()) && plain.text[phrase.end..].starts_with('.');
    let words = plain.original(original, &(start..phrase.end + usize::from(has_point)));
    (!names_outlet && !words.is_empty()).then(|| words.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_for_a_wall_are_found_and_kept() {
        for (text, words) in [
            ("NON-FREEZE, 8\" CMU W/ 2\" RIGID INSUL.", Some("8\" CMU W/ 2\" RIGID INSUL.")),
            ("FPHB, 2x4 wall, 12 in", Some("2x4 wall")),
            ("FPHB, 2X6 WD STUD WALL", Some("2X6 WD STUD WALL")),
            ("Sillcock, wall type W4", Some("wall type W4")),
            ("Wall type hydrant, 2x6 blocking", None),
            ("Wall at walkout is brick veneer on 2x6.", Some("brick veneer on 2x6")),
            ("rear, rim joist above basement", Some("rim joist above basement")),
            ("10 in long, at stone veneer", Some("stone veneer")),
            ("brick veneer on 2x6", Some("brick veneer on 2x6")),
            ("brass, 10 in long", None),
        ] {
            assert_eq!(wall_words(&Plain::of(text), text).as_deref(), words, "{text}");
        }
    }
}
