//! Words that leave what stands beside them open: by others, to be verified, optional, a choice. Nothing beside them is taken.

use crate::units::{Hedge, hedges, outermost};
use regex::Regex;
use std::ops::Range;
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

/// Words beyond the hedges of figures that leave their phrase open.
const PHRASE: &str = r"match(?:es|ing)? (?:the )?(?:exist(?:ing)?|adjacent|adj)|to match|not (?:included|incl|in contract|required|req'?d|provided|furnished|shown)|not by|n\.?i\.?c|excluded?|excl|similar to|by (?:the )?[a-z]+|exist(?:ing)?|prohibited|forbidden|rejected|waived|abandoned|shall not|must not|do(?:es)? not|omit(?:ted)?|missing|lacking|future|if not|if pitched|relocated?|recommended|not (?:permitted|acceptable|accepted|allowed|used|approved|exist(?:ing)?)|in lieu of|instead of|unlike|deleted?|removed?|only|unless|except|replac(?:e|es|ed|ing)|none|n/a|[:=\-(]\s*no\s*(?:[,;.)]|$)";
/// Signs of a tolerance, where they stand in no figure that is read.
const FIGURES: &str = r"±|\+/-|\+";

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static DOUBTS: LazyLock<[(Regex, About); 2]> = LazyLock::new(|| {
    [(PHRASE, About::Phrase), (FIGURES, About::Figures)].map(|(words, about)| {
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
pub(super) fn doubts(text: &str) -> Vec<(Range<usize>, About)> {
    let hedges = hedges(text).into_iter().map(|(range, hedge)| {
        let about = match hedge {
            Hedge::Open => About::Phrase,
            Hedge::Choice => About::Sides,
            Hedge::Near | Hedge::Least | Hedge::Most => About::Figures,
        };
        (range, about)
    });
    let own = DOUBTS.iter().flat_map(|(words, about)| words.find_iter(text).map(|it| (it.range(), *about)));
    outermost(hedges.chain(own).collect(), |(range, _)| range)
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
