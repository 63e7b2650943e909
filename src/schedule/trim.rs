//! Finish and handle in words: "polished chrome", "loose key". Nothing is computed from them; an order repeats them as
//! they are written.

use super::doubt::{denial_before, doubts};
use super::lexicon::{Sense, items};
use super::vocabulary::Subject;
use regex::Regex;
use std::ops::Range;
use std::sync::LazyLock;

/// Words for a finish and for a handle or key. A blank stands for whatever parts the words.
const TRIM: [(Subject, &str); 2] = [
    (
        Subject::Finish,
        r"(?:(?:polished|satin|rough|rgh|bright|brushed|matte|antique|oil rubbed) )+(?:chrome|chromium|nickel|brass|bronze|copper|stainless)(?: (?:plated|plate|pltd|finish))?|(?:chrome|chromium|nickel) (?:plated|plate|pltd|finish)|chrome|nickel bronze|powder coated(?: [a-z]+)?|(?:white|black|painted)(?: powder coat(?:ed)?)? finish",
    ),
    (
        Subject::Handle,
        r"(?:loose|removable|operating|tee|t|vandal proof|vandal resistant) key(?: handle)?|key operated|keyed|(?:(?:removable|metal|iron|cast|oval|round|wheel|tee|t|lever|loose|lock shield|lockshield|four arm|cross|vandal proof|vandal resistant) )+handle|hand wheel|handwheel|lock shield|lockshield|(?:1/4|quarter) turn",
    ),
];

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static COMPILED: LazyLock<[(Subject, Regex); 2]> = LazyLock::new(|| {
    TRIM.map(|(subject, words)| {
        let whole = format!(r"(?i-u)\b(?:{})\b", words.replace(' ', "(?u:[^a-z0-9]){1,6}"));
        (subject, Regex::new(&whole).expect("a pattern of the source"))
    })
});

/// Words for a finish or a handle.
pub(super) struct Trim {
    pub subject: Subject,
    pub range: Range<usize>,
    /// Whether a doubt, or a sign among the words, leaves them open.
    pub is_open: bool,
}

/// The finish and the handle that a text states.
pub(super) fn trim(text: &str, phrases: &[Range<usize>]) -> Vec<Trim> {
    let doubts = doubts(text);
    let overlaps = |a: &Range<usize>, b: &Range<usize>| a.start < b.end && a.end > b.start;
    let is_doubtful = |range: &Range<usize>| {
        let mut own = phrases.iter().filter(|phrase| overlaps(phrase, range));
        own.any(|phrase| doubts.iter().any(|(doubt, _)| overlaps(doubt, phrase)))
    };
    let is_plain = |words: &str| {
        words.chars().all(|c| c.is_alphanumeric() || c == ' ' || c == '-') || words.starts_with("1/4")
    };
    let is_meant = |range: &Range<usize>| {
        denial_before(&text[..range.start]).is_none() && !is_of_a_part(&text[range.end..])
    };
    let of_subject = |(subject, words): &'static (Subject, Regex)| {
        let ranges = words.find_iter(text).map(|found| found.range()).filter(is_meant);
        ranges.map(|range| {
            let is_open = is_doubtful(&range) || !is_plain(&text[range.clone()]);
            Trim { subject: *subject, range, is_open }
        })
    };
    COMPILED.iter().flat_map(of_subject).collect()
}

/// Whether the words go on with a part that has a finish of its own, "chrome plated screws", or with a note, "keyed note 3".
fn is_of_a_part(after: &str) -> bool {
    let next = items(after).into_iter().next().filter(|item| after[..item.range.start].trim().is_empty());
    let is_part = |sense| matches!(sense, Sense::Part(part) if part != Subject::Barrel);
    next.is_some_and(|item| is_part(item.sense))
        || after.trim_start().get(..4).is_some_and(|start| start.eq_ignore_ascii_case("note"))
}
