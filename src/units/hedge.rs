//! Words and signs beside a value that make it approximate, a limit, a choice or open, so that the text has no definite
//! value; and words that add nothing.

use super::dim::{Dim, Measure};
use regex::Regex;
use std::ops::Range;
use std::sync::LazyLock;

/// What a word beside a value makes of it. Of several in one text, the first in this order is reported.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hedge {
    /// To be verified, decided or provided by others.
    Open,
    /// One of several values.
    Choice,
    /// Approximate.
    Near,
    /// A minimum.
    Least,
    /// A maximum.
    Most,
}

/// The words, in cells and in descriptions alike; a space matches spaces or hyphens. Of two that overlap, the one that
/// starts first wins, then the longest: "not over" is not "over", and "or more" is not a choice.
const WORDS: &[(Hedge, &[&str])] = &[
    (
        Hedge::Open,
        &[
            r"verify|v\.?i\.?f|confirm|coordinate|t\.?b\.?[acd]",
            r"to be (?:determined|confirmed|verified|checked|selected|coordinated)",
            r"(?:if|where|when|as) (?:required|req'?d|needed|necessary|applicable|directed|selected|possible)",
            r"(?:if|where|when|as) (?:permitted|allowed)|option(?:al)?|alternates?|alt",
            r"by others|by owner|by g\.?c|owner (?:furnished|supplied)|o\.?f\.?[co]\.?i",
            r"to suit|to match wall|a verifier|selon besoin|au besoin",
            r"assumed?|proposed|pending|unknown|not known|not sure|varies|\?|≠",
        ],
    ),
    (Hedge::Choice, &["or|either|and/or"]),
    (Hedge::Near, &[r"approx(?:imate(?:ly)?)?|about|abt|circa|ca|roughly|around|or so|~|≈"]),
    (
        Hedge::Least,
        &[
            "min(?:imum)?|at least|(?:more|longer|greater|larger) than|over|exceeding|>=?|≥",
            "(?:no|not) (?:less|shorter|smaller|fewer|under|below)(?: than)?",
            "(?:or|and) (?:more|greater|longer|larger|over|above|up)",
        ],
    ),
    (
        Hedge::Most,
        &[
            "max(?:imum)?|at most|up to|(?:less|shorter|smaller|fewer) than|under|<=?|≤",
            "(?:no|not) (?:more|longer|greater|larger|over|above)(?: than)?",
            r"not (?:to exceed|exceeding)|n\.?t\.?e",
            "(?:or|and) (?:less|fewer|shorter|smaller|under|below)",
        ],
    ),
];

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static PATTERNS: LazyLock<Vec<(Hedge, Regex)>> = LazyLock::new(|| {
    let one = |(hedge, words): &(Hedge, &[&str])| {
        let words = words.join("|").replace(' ', r"[\s\-]+");
        let whole = format!(r"(?i-u)(?:\b{{start-half}}|\b)(?:{words})(?:\b{{end-half}}|\b)");
        (*hedge, Regex::new(&whole).expect("a pattern of the source"))
    };
    WORDS.iter().map(one).collect()
});

/// Boxes, ticks, and the strokes of characters struck through one by one: nobody can tell whether the text beside them
/// holds.
pub const DOUBTFUL_SIGNS: [char; 13] =
    ['☐', '☑', '☒', '□', '■', '✓', '✔', '✗', '✘', '\u{335}', '\u{336}', '\u{337}', '\u{338}'];

/// The hedges of a text in order, without overlaps.
pub fn hedges(text: &str) -> Vec<(Range<usize>, Hedge)> {
    let words = PATTERNS.iter().flat_map(|(hedge, it)| it.find_iter(text).map(|it| (it.range(), *hedge)));
    let signs = text.match_indices(DOUBTFUL_SIGNS).map(|(at, sign)| (at..at + sign.len(), Hedge::Open));
    outermost(words.chain(signs).collect(), |(range, _)| range)
}

/// Ranges without overlaps, in order: of two that overlap, the one that starts first, then the longest.
pub fn outermost<T>(mut all: Vec<T>, range: impl Fn(&T) -> &Range<usize>) -> Vec<T> {
    all.sort_by_key(|it| (range(it).start, std::cmp::Reverse(range(it).end)));
    let mut end = 0;
    all.retain(|it| {
        let stands = range(it).start >= end;
        end = if stands { range(it).end } else { end };
        stands
    });
    all
}

/// Words that add nothing to a value in a cell.
const IDLE: &[&str] = &["nominal", "nom", "long", "lg", "deep", "thick", "typ", "typical", "only"];

/// The hedge of a value in a cell: a word or sign that makes it a limit, a choice, approximate or open.
pub(super) fn find_hedge(text: &str, want: Measure) -> Option<Hedge> {
    let is_meant = |range: &Range<usize>| {
        let word = text[range.clone()].to_ascii_lowercase();
        // "5 min" is a time, and a slope may be 1/4 in over 12 in.
        let is_minutes = word == "min" && want == Measure::Of(Dim::TIME);
        range.start == 0 || !(is_minutes || word == "over" || word == "under")
    };
    let words = hedges(text).into_iter().filter(|(range, _)| is_meant(range)).map(|(_, hedge)| hedge);
    // Elsewhere these signs are a tolerance.
    let near = text.starts_with('±').then_some(Hedge::Near);
    let least = text.ends_with('+').then_some(Hedge::Least);
    words.chain(near).chain(least).min()
}

/// The text without idle words, at either end or in brackets at the end.
pub(super) fn without_idle(text: &str) -> &str {
    let mut text = text.trim();
    loop {
        let before = text.len();
        for word in IDLE {
            text = bare_end(text, word);
            if let Some(rest) = text.get(word.len()..).filter(|_| starts(text, word))
                && (rest.starts_with(' ') || rest.starts_with(". "))
            {
                text = rest.trim_start_matches('.').trim_start();
            }
        }
        if text.len() == before {
            return text;
        }
    }
}

fn starts(text: &str, word: &str) -> bool {
    text.get(..word.len()).is_some_and(|it| it.eq_ignore_ascii_case(word))
}

/// Removes a separate word at the end, in brackets or not.
fn bare_end<'t>(text: &'t str, word: &str) -> &'t str {
    let inner = text.trim_end_matches([')', ']']).trim_end_matches('.');
    let Some(at) = inner.len().checked_sub(word.len()) else { return text };
    let Some((rest, last)) = inner.split_at_checked(at) else { return text };
    let cut = rest.trim_end_matches(['(', '[', ',', ' ']);
    let stands_alone = cut.len() < rest.len() || rest.ends_with('"');
    if last.eq_ignore_ascii_case(word) && stands_alone && !cut.is_empty() { cut } else { text }
}
