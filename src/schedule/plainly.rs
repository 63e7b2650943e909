//! What a phrase does not say plainly is taken back: beside words nobody knows, a figure of another thing, a count of something
//! else. Only what the outlet is stands, as "Gizmo sillcock" is a sillcock all the same.

use super::description::{Taken, phrase_of};
use super::doubt::About;
use super::leftover::is_unknown;
use super::terms::Term;
use regex::Regex;
use std::ops::Range;
use std::sync::LazyLock;

/// Things whose length is no outlet's, words that part a phrase, what joins two things that are denied together, and
/// materials that no list of barrels has.
#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static WORDS: LazyLock<[Regex; 4]> = LazyLock::new(|| {
    [
        r"(?i-u)\b(?:handles?|wheels?|box(?:es)?|doors?|lids?|caps?|chains?|trims?|nozzles?|escutcheons?|seats?|supports?|locks?|keys?|screws?|bolts?|anchors?|fasteners?|flange|face ?plate|gaskets?|sleeved?|cover|hose|stop|cable|tape|pipe|piping|tubing|supply|branch|line|feed|copper|cu|pex|cpvc|pvc|stem|rod|spindle|reducer|nipple|panel)\b",
        r"(?i-u)\b(?:with|w/)",
        r"(?i-u)^[\s,]*(?:and|or|nor|&|/|and/or)?[\s,]*(?:an?|any|the)?[\s\-]*$",
        r"(?i-u)\b(?:plastic|pvc|nylon|abs|polymer|composite)\b",
    ]
    .map(|it| Regex::new(it).expect("a pattern of the source"))
});

/// Takes back what is not said plainly. Returns the phrases in which that was so.
pub(super) fn take_back(
    text: &str,
    phrases: &[Range<usize>],
    doubts: &[(Range<usize>, About)],
    taken: &mut [Taken],
    vocabulary: &[Term],
) -> Vec<Range<usize>> {
    let states = |it: &Taken, fact: &str| it.said.iter().any(|(term, _)| vocabulary[*term].fact == fact);
    let [_, _, _, foreign] = &*WORDS;
    for it in taken.iter_mut() {
        let names_another = it.said.iter().any(|(_, value)| value.is_none())
            && states(it, "outlet.barrel")
            && foreign.is_match(&text[it.range.clone()]);
        it.open |= names_another;
    }
    denied_together(text, taken);
    let counts: Vec<usize> = (0..taken.len())
        .filter(|at| states(&taken[*at], "outlet.quantity") && !counts_outlets(text, phrases, taken, *at))
        .collect();
    counts.into_iter().for_each(|at| taken[at].open = true);
    let covered: Vec<Range<usize>> =
        taken.iter().map(|it| it.from..it.range.end).chain(doubts.iter().map(|it| it.0.clone())).collect();
    let mut back = Vec::new();
    for phrase in phrases {
        let unknown = has_unknown(text, phrase, &covered);
        for at in 0..taken.len() {
            let it = &taken[at];
            let is_here = it.range.start < phrase.end && it.range.end > phrase.start;
            let is_length = states(it, "outlet.nominal_length");
            let is_kind = it.said.first().is_some_and(|(term, _)| vocabulary[*term].fact == "outlet.kind");
            let is_other = is_length && is_of_another_thing(text, phrase, taken, at);
            if !is_here || it.said.is_empty() || is_kind || !(unknown || is_other) {
                continue;
            }
            if back.last() != Some(phrase) {
                back.push(phrase.clone());
            }
            // The barrel's own length stands beside a figure of something else.
            let says_barrel = |it: &Taken| {
                !it.open && states(it, "outlet.nominal_length") && names_barrel(&text[it.range.clone()])
            };
            let stands =
                is_length && taken.iter().enumerate().any(|(other, it)| other != at && says_barrel(it));
            if stands {
                taken[at].said.clear();
            } else {
                taken[at].open = true;
            }
        }
    }
    back
}

fn names_barrel(words: &str) -> bool {
    words.to_ascii_lowercase().contains("barrel")
}

/// "No gasket and sleeve" denies both.
fn denied_together(text: &str, taken: &mut [Taken]) {
    let [_, _, joins, _] = &*WORDS;
    for at in 1..taken.len() {
        let (before, it) = (&taken[at - 1], &taken[at]);
        let gap = text.get(before.range.end..it.range.start).unwrap_or_default();
        let is_joined = !gap.trim().is_empty() && gap.trim() != "," && joins.is_match(gap);
        if is_joined && (before.denied || before.reached) && !it.denied {
            (taken[at].open, taken[at].reached) = (true, true);
        }
    }
}

/// Whether a count is followed by the outlet it counts, or by nothing.
fn counts_outlets(text: &str, phrases: &[Range<usize>], taken: &[Taken], at: usize) -> bool {
    let end = taken[at].range.end;
    let is_bare = |until: usize| !text[end..until].contains(|c: char| c.is_alphanumeric());
    let in_brackets = text[taken[at].range.clone()].starts_with('(');
    if taken.get(at + 1).is_some_and(|next| !next.said.is_empty() && is_bare(next.range.start)) {
        return true;
    }
    !in_brackets && phrase_of(phrases, &taken[at].range).is_some_and(|it| is_bare(it.end.max(end)))
}

/// Whether a length stands with a thing that is not the outlet.
fn is_of_another_thing(text: &str, phrase: &Range<usize>, taken: &[Taken], at: usize) -> bool {
    let [things, parts, ..] = &*WORDS;
    let own = &taken[at].range;
    if names_barrel(&text[own.clone()]) || own.start < phrase.start || own.end > phrase.end {
        return false;
    }
    let start = parts
        .find_iter(&text[phrase.start..own.start])
        .last()
        .map_or(phrase.start, |it| phrase.start + it.end());
    let end = parts.find(&text[own.end..phrase.end]).map_or(phrase.end, |it| own.end + it.start());
    let is_kind = |it: &Taken| it.said.len() <= 2 && it.said.iter().any(|(_, value)| value.is_some());
    taken.iter().enumerate().any(|(other, it)| {
        let words = &text[it.range.clone()];
        let is_hose_bibb = is_kind(it) && words.to_ascii_lowercase().starts_with("hose");
        other != at
            && it.range.start >= start
            && it.range.end <= end
            && !is_hose_bibb
            && things.is_match(words)
    })
}

/// Whether a phrase holds words that no list knows outside the stretches that are understood.
fn has_unknown(text: &str, phrase: &Range<usize>, covered: &[Range<usize>]) -> bool {
    let bare: String = text[phrase.clone()]
        .char_indices()
        .map(|(at, c)| if covered.iter().any(|it| it.contains(&(phrase.start + at))) { ' ' } else { c })
        .collect();
    is_unknown(&bare)
}
