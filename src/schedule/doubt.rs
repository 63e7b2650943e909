//! Words that leave what stands beside them open: by others, to be verified, optional, a choice. Nothing beside them is taken.

use regex::Regex;
use std::sync::LazyLock;

/// What a doubt is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum About {
    /// Everything in its phrase.
    Phrase,
    /// The figures in its phrase.
    Figures,
    /// What stands to either side of it.
    Sides,
}

const PHRASE: &str = r"by others|by owner|by g\.?c\b\.?|owner[\s\-]*(?:furnished|supplied)|o\.?f\.?[co]\.?i\b|verify|v\.?i\.?f\b|confirm|coordinate|t\.?b\.?[da]\b|to be (?:determined|confirmed|verified|selected|coordinated)|option(?:al)?|(?:if|where|when|as) (?:required|req'?d|needed|necessary|applicable|directed|selected|possible|permitted|allowed)|match(?:es|ing)? (?:the )?(?:exist(?:ing)?|adjacent|adj)|to match|not (?:included|incl|in contract|required|req'?d|provided|furnished|shown|known)|not by|n\.?i\.?c\b|excluded?|excl|alternates?|alt\b|assumed?|proposed|pending|unknown|varies|similar to|\?|by (?:the )?[a-z]+|exist(?:ing)?|prohibited|forbidden|rejected|waived|abandoned|shall not|must not|do(?:es)? not|omit(?:ted)?|missing|lacking|future|if not|if pitched|relocated?|recommended|not (?:permitted|acceptable|accepted|allowed|used|approved|exist(?:ing)?|to exceed)|in lieu of|instead of|unlike|deleted?|removed?|only|unless|except|replac(?:e|es|ed|ing)|none|n/a|[:=\-(]\s*no\s*(?:[,;.)]|$)";
const FIGURES: &str = r"approx(?:imate(?:ly)?)?|about|abt|~|±|\+/-|min(?:imum)?|max(?:imum)?|up to|at least|no less than|not less than|no more than|not more than|or (?:more|less|longer|shorter|greater|so)|[<>]=?|≥|≤|\+|(?:no|not) (?:shorter|longer|over|under|above|below|greater|smaller)(?: than)?|(?:less|more|longer|shorter|greater) than|over|under";
const SIDES: &str = r"and/or|or|either";

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static DOUBTS: LazyLock<[(Regex, About); 3]> = LazyLock::new(|| {
    [(PHRASE, About::Phrase), (FIGURES, About::Figures), (SIDES, About::Sides)].map(|(words, about)| {
        let whole = format!(r"(?i-u)(?:\b{{start-half}}|\b)(?:{words})(?:\b{{end-half}}|\b)");
        (Regex::new(&whole).expect("a pattern of the source"), about)
    })
});

/// What a doubt is about where its phrase says no more than "verify length": a word, and its facts.
pub(super) const TOPICS: &[(&str, &[&str])] = &[
    ("length", &["outlet.nominal_length", "outlet.seat_depth"]),
    ("depth", &["outlet.nominal_length", "outlet.seat_depth"]),
    ("barrel", &["outlet.nominal_length", "outlet.seat_depth", "outlet.barrel"]),
    ("size", &["outlet.supply_size", "outlet.nominal_length"]),
    ("sizes", &["outlet.supply_size", "outlet.nominal_length"]),
    ("material", &["outlet.barrel"]),
    ("materials", &["outlet.barrel", "outlet.fasteners", "outlet.flange"]),
    ("type", &["outlet.kind", "outlet.closes"]),
    ("quantity", &["outlet.quantity"]),
    ("qty", &["outlet.quantity"]),
    ("slope", &["outlet.slope"]),
    ("pitch", &["outlet.slope"]),
    ("supply", &["outlet.supply", "outlet.supply_size"]),
    ("inlet", &["outlet.inlet", "outlet.supply_size"]),
    ("backflow", &["outlet.backflow_device", "outlet.backflow_standard"]),
    // Spoken of, and no fact a description states.
    ("location", &[]),
    ("locations", &[]),
    ("height", &[]),
    ("finish", &[]),
    ("color", &[]),
    ("colour", &[]),
    ("elevation", &[]),
    ("wall", &[]),
    ("access", &[]),
    ("drawings", &[]),
];

/// The doubts of a text, in order; one inside another's words is left out.
pub(super) fn doubts(text: &str) -> Vec<(std::ops::Range<usize>, About)> {
    let mut found: Vec<(std::ops::Range<usize>, About)> = Vec::new();
    for (words, about) in DOUBTS.iter() {
        for it in words.find_iter(text) {
            if found.iter().all(|(other, _)| it.start() >= other.end || other.start >= it.end()) {
                found.push((it.range(), *about));
            }
        }
    }
    found.sort_by_key(|(range, _)| range.start);
    found
}

/// Where the last word of a text starts, if it denies what follows.
pub(super) fn denies(before: &str) -> Option<usize> {
    #[allow(clippy::expect_used, reason = "a pattern written in the source; a test reads with it")]
    static DENIES: LazyLock<Regex> = LazyLock::new(|| {
        let words = r"(?i-u)(?:^|[\s,;(])(?:no|not|non|neither|nor|lacking|w/o|w/out|w\.o\.|without|less|delete|omit|excluding|never|isn't)(?:\s+(?:a|an|the|any|be|of|have|to))*[\s\-]*$";
        Regex::new(words).expect("a pattern of the source")
    });
    DENIES.find(before).map(|it| it.start())
}
