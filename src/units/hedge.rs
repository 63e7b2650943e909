//! What people add to a figure: that it is only near, a limit, a choice or not settled. Such a text gives no figure, and
//! says why; words that add nothing are taken off.

use super::dim::{Dim, Measure};
use regex::Regex;
use std::ops::Range;
use std::sync::LazyLock;

/// What words beside a figure make of it; of several in one text, the first of these is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hedge {
    /// Still to be checked, or for others to say.
    Open,
    /// One of several.
    Choice,
    /// Only near.
    Near,
    /// The least it may be.
    Least,
    /// The most it may be.
    Most,
}

/// The words, in cells and in descriptions alike; a space stands for blanks or hyphens. Where two fit, the one that starts
/// first holds, and of those the longest: "not over" is no "over", "or more" no choice.
const WORDS: &[(Hedge, &[&str])] = &[
    (
        Hedge::Open,
        &[
            r"verify|v\.?i\.?f|confirm|coordinate|t\.?b\.?[acd]",
            r"to be (?:determined|confirmed|verified|checked|selected|coordinated)",
            r"(?:if|where|when|as) (?:required|req'?d|needed|necessary|applicable|directed|selected|possible)",
            r"(?:if|where|when|as) (?:permitted|allowed)|option(?:al)?|alternates?|alt",
            r"by others|by owner|by g\.?c|owner (?:furnished|supplied)|o\.?f\.?[co]\.?i",
            r"assumed?|proposed|pending|unknown|not known|not sure|varies|\?",
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

/// The hedges of a text in order, none within another.
pub fn hedges(text: &str) -> Vec<(Range<usize>, Hedge)> {
    let found = PATTERNS.iter().flat_map(|(hedge, it)| it.find_iter(text).map(|it| (it.range(), *hedge)));
    outermost(found.collect(), |(range, _)| range)
}

/// Of stretches that overlap, the one that starts first, and of those the longest; in order.
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

/// Words that add nothing to a figure in a cell whose heading says what it is.
const IDLE: &[&str] = &["nominal", "nom", "long", "lg", "deep", "thick", "typ", "typical", "only"];

/// Why a text gives no figure of its own, where words or signs in it say so.
pub(super) fn unsettled(text: &str, want: Measure) -> Option<&'static str> {
    let is_meant = |range: &Range<usize>| {
        let word = &text[range.clone()];
        let is = |other: &str| word.eq_ignore_ascii_case(other);
        match range.start {
            0 => true,
            // "5 min" is a time, and a slope may be 1/4 in over 12 in.
            _ => !(is("min") && want == Measure::Of(Dim::TIME) || is("over") || is("under")),
        }
    };
    let words = hedges(text).into_iter().filter(|(range, _)| is_meant(range)).map(|(_, hedge)| hedge);
    // Elsewhere these signs are a tolerance.
    let signs = [(text.starts_with('±'), Hedge::Near), (text.ends_with('+'), Hedge::Least)];
    let signs = signs.into_iter().filter(|(stands, _)| *stands).map(|(_, hedge)| hedge);
    words.chain(signs).min().map(|it| match it {
        Hedge::Open => "is not settled",
        Hedge::Choice => "is a choice, not one figure",
        Hedge::Near => "is only approximate",
        Hedge::Least => "is the least it may be, not the figure itself",
        Hedge::Most => "is the most it may be, not the figure itself",
    })
}

/// The text without words that add nothing, at either end or in brackets at the end.
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

/// Takes off a word at the end that stands by itself, in brackets or not.
fn bare_end<'t>(text: &'t str, word: &str) -> &'t str {
    let inner = text.trim_end_matches([')', ']']).trim_end_matches('.');
    let Some(at) = inner.len().checked_sub(word.len()) else { return text };
    let Some((rest, last)) = inner.split_at_checked(at) else { return text };
    let cut = rest.trim_end_matches(['(', '[', ',', ' ']);
    let stands_alone = cut.len() < rest.len() || rest.ends_with('"');
    if last.eq_ignore_ascii_case(word) && stands_alone && !cut.is_empty() { cut } else { text }
}
