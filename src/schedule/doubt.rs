//! Words that leave what is beside them open: by others, to be verified, optional, a choice. Nothing is read beside
//! them.

use super::vocabulary::Subject::{self, *};
use super::vocabulary::Term;
use crate::units::{Hedge, hedges, outermost};
use regex::Regex;
use std::ops::Range;
use std::sync::LazyLock;

/// What a doubt is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum About {
    /// Everything in its phrase.
    Phrase,
    /// The numbers in its phrase.
    Numbers,
    /// What is on either side of it.
    Sides,
}

/// Words, besides the hedges of values, that leave their phrase open.
const PHRASE: &str = r"match(?:es|ing)? (?:the )?(?:exist(?:ing)?|adjacent|adj)|to match|not (?:included|incl|in contract|required|req'?d|req|needed|necessary|wanted|provided|furnished|shown)|not by|n\.?i\.?c|excluded?|excl|similar to|by (?:the )?[a-z]+|exist(?:ing)?|prohibited|forbidden|rejected|waived|abandoned|shall not|must not|do(?:es)? not|omit(?:ted)?|missing|lacking|future|n/r|if (?:available|avail|any)|if not|if pitched|relocated?|recommended|not (?:yet )?(?:confirmed|verified|final)|not (?:permitted|acceptable|accepted|allowed|used|approved|exist(?:ing)?)|in lieu of|instead of|unlike|deleted?|removed?|cancell?ed|only|unless|except|replac(?:e|es|ed|ing)|chang(?:e|ed)|revised?|superseded|void(?:ed)?|withdrawn|to suit|per wall|cut to length|plugged|capped|broken|disabled|defective|damaged|none|n/a|[:=\-(]\s*no\s*(?:[,;.)]|$)";
/// Signs of a tolerance outside a value that is read.
const NUMBERS: &str = r"±|\+/-|\+";

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static DOUBTS: LazyLock<[(Regex, About); 2]> = LazyLock::new(|| {
    [(PHRASE, About::Phrase), (NUMBERS, About::Numbers)].map(|(words, about)| {
        let whole = format!(r"(?i-u)(?:\b{{start-half}}|\b)(?:{words})(?:\b{{end-half}}|\b)");
        (Regex::new(&whole).expect("a pattern of the source"), about)
    })
});

/// Words for what a doubt is about, as in "verify length", with the subjects in doubt.
const TOPICS: &[(&str, &[Subject])] = &[
    ("length", &[NominalLength, SeatDepth]),
    ("depth", &[NominalLength, SeatDepth]),
    ("barrel", &[NominalLength, SeatDepth, Barrel]),
    ("size", &[SupplySize, NominalLength]),
    ("sizes", &[SupplySize, NominalLength]),
    ("material", &[Barrel]),
    ("materials", &[Barrel, Fasteners, Flange]),
    ("type", &[Kind, Closes]),
    ("quantity", &[Quantity]),
    ("qty", &[Quantity]),
    ("slope", &[Slope]),
    ("pitch", &[Slope]),
    ("supply", &[Supply, SupplySize]),
    ("inlet", &[Inlet, SupplySize]),
    ("backflow", &[BackflowDevice, BackflowStandard]),
    ("space", &[SpaceBehind]),
    ("heat", &[SpaceBehind]),
    ("heating", &[SpaceBehind]),
    ("wall", &[Wall]),
];
/// The same, of what descriptions do not state.
const OTHER_TOPICS: &str = "location locations height finish color colour elevation access drawings";
/// Names with the word "wall" that are not about the wall.
const OF_WALLS: [&str; 6] = ["hydrant", "faucet", "bibb", "mount", "mounted", "box"];

/// Whether a phrase names what it is about, and the terms of that.
pub(super) fn topics(phrase: &str, vocabulary: &[Term]) -> (bool, Vec<usize>) {
    let lower = phrase.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
    let is_named_wall = words.windows(2).any(|it| it[0] == "wall" && OF_WALLS.contains(&it[1]));
    let named: Vec<_> = TOPICS
        .iter()
        .filter(|(word, _)| words.contains(word) && !(is_named_wall && *word == "wall"))
        .collect();
    let is_named = |subject: &Subject| named.iter().any(|(_, subjects)| subjects.contains(subject));
    let terms = vocabulary.iter().enumerate().filter(|(_, term)| term.subject.as_ref().is_some_and(is_named));
    let is_other = OTHER_TOPICS.split(' ').any(|word| words.contains(&word));
    (is_other || !named.is_empty(), terms.map(|(index, _)| index).collect())
}

/// The doubts of a text, in order, without overlaps.
pub(super) fn doubts(text: &str) -> Vec<(Range<usize>, About)> {
    let hedges = hedges(text).into_iter().map(|(range, hedge)| {
        let about = match hedge {
            Hedge::Open => About::Phrase,
            Hedge::Choice => About::Sides,
            Hedge::Near | Hedge::Least | Hedge::Most => About::Numbers,
        };
        (range, about)
    });
    let own = DOUBTS.iter().flat_map(|(words, about)| words.find_iter(text).map(|it| (it.range(), *about)));
    outermost(hedges.chain(own).collect(), |(range, _)| range)
}

/// The start of the last word of a text, if it denies what follows.
pub(super) fn denial_before(before: &str) -> Option<usize> {
    #[allow(clippy::expect_used, reason = "a pattern written in the source; a test reads with it")]
    static DENIES: LazyLock<Regex> = LazyLock::new(|| {
        let words = r"(?i-u)(?:^|[\s,;(])(?:no|not|non|neither|nor|lacking|w/o|w/out|w\.o\.|without|less|delete|omit|excluding|never|isn't)(?:\s+(?:a|an|the|any|be|of|have|to))*[\s\-]*$";
        Regex::new(words).expect("a pattern of the source")
    });
    DENIES.find(before).map(|it| it.start())
}
