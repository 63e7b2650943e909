//! Finish and handle in words: "polished chrome", "loose key". Nothing is computed from them; an order repeats them as
//! they are written.

use super::doubt::{denial_before, doubts};
use super::lexicon::{Sense, items};
use super::vocabulary::Subject;
use regex::Regex;
use std::ops::Range;
use std::sync::LazyLock;

/// Words for a finish and for a handle or key.
const TRIM: [(Subject, &str); 2] = [
    (
        Subject::Finish,
        r"(?:(?:polished|satin|rough|rgh|bright|brushed|matte|antique|oil[\s-]rubbed) )+(?:chrome|chromium|nickel|brass|bronze|copper|stainless)(?:[\s-](?:plated|plate|pltd|finish))?|(?:chrome|chromium|nickel)[\s-](?:plated|plate|pltd|finish)|chrome|nickel bronze|powder[\s-]coated(?: [a-z]+)?|(?:white|black|painted)(?: powder[\s-]coat(?:ed)?)? finish",
    ),
    (
        Subject::Handle,
        r"(?:loose|removable|operating|tee|t|vandal[\s-](?:proof|resistant)) key(?: handle)?|key[\s-]operated|keyed|(?:(?:removable|metal|iron|cast|oval|round|wheel|tee|t|lever|loose|lock[\s-]?shield|four[\s-]arm|cross|vandal[\s-](?:proof|resistant))[\s-])+handle|hand ?wheel|lock[\s-]?shield|(?:1/4|quarter)[\s-]turn",
    ),
];

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static COMPILED: LazyLock<[(Subject, Regex); 2]> = LazyLock::new(|| {
    TRIM.map(|(subject, words)| {
        let whole = format!(r"(?i-u)\b(?:{words})\b");
        (subject, Regex::new(&whole).expect("a pattern of the source"))
    })
});

/// The finish and the handle that a text states, each with its places in the text.
pub(super) fn trim(text: &str, phrases: &[Range<usize>]) -> Vec<(Subject, Vec<Range<usize>>)> {
    let doubts = doubts(text);
    let is_open = |range: &Range<usize>| {
        let phrase = phrases.iter().find(|phrase| range.start < phrase.end && range.end > phrase.start);
        phrase.is_some_and(|phrase| {
            doubts.iter().any(|(doubt, _)| doubt.start < phrase.end && doubt.end > phrase.start)
        })
    };
    let of_subject = |(subject, words): &(Subject, Regex)| {
        let found = words.find_iter(text).map(|found| found.range());
        let found = found.filter(|range| {
            !is_open(range)
                && denial_before(&text[..range.start]).is_none()
                && !is_of_a_part(&text[range.end..])
        });
        (*subject, found.collect::<Vec<_>>())
    };
    COMPILED.iter().map(of_subject).filter(|(_, found)| !found.is_empty()).collect()
}

/// Whether the words go on with a part that has a finish of its own, "chrome plated screws", or with a note, "keyed note 3".
fn is_of_a_part(after: &str) -> bool {
    let next = items(after).into_iter().next().filter(|item| after[..item.range.start].trim().is_empty());
    let is_part = |sense| matches!(sense, Sense::Part(part) if part != Subject::Barrel);
    next.is_some_and(|item| is_part(item.sense))
        || after.trim_start().get(..4).is_some_and(|start| start.eq_ignore_ascii_case("note"))
}
