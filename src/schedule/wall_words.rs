//! Words for a wall in a text: "8 in CMU with 2 in rigid insulation". They are families of walls, not one of them: they
//! are kept as they are, and the wall is asked for.

use super::description::phrases;
use super::lexicon::{Sense, items};
use super::text::Plain;

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

/// The words for a wall in a text, in their original spelling.
pub(super) fn wall_words(original: &str) -> Option<String> {
    let plain = Plain::of(original);
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
            ("Wall at walkout is brick veneer on 2x6.", Some("brick veneer on 2x6")),
            ("rear, rim joist above basement", Some("rim joist above basement")),
            ("10 in long, at stone veneer", Some("stone veneer")),
            ("brick veneer on 2x6", Some("brick veneer on 2x6")),
            ("brass, 10 in long", None),
        ] {
            assert_eq!(wall_words(text).as_deref(), words, "{text}");
        }
    }
}
