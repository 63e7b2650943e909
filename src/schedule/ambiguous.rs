//! Discards what is read from ambiguous phrases: unknown words beside it, the length of another part, a count of
//! another thing. The kind stays: "Gizmo sillcock" is a sillcock.

use super::doubt::About;
use super::matching::Match;
use super::text::has_unknown_words;
use super::vocabulary::{Subject, Term};
use regex::Regex;
use std::ops::Range;
use std::sync::LazyLock;

struct Words {
    /// Words that separate two things in a phrase.
    separators: Regex,
    /// What joins two things that are denied together.
    joins: Regex,
    /// Materials that barrels are not made of.
    not_metal: Regex,
}

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static WORDS: LazyLock<Words> = LazyLock::new(|| {
    let words = |words: &str| Regex::new(&format!("(?i-u){words}")).expect("a pattern of the source");
    Words {
        separators: words(r"\b(?:with|w/)"),
        joins: words(r"^[\s,]*(?:and|or|nor|&|/|and/or)?[\s,]*(?:an?|any|the)?[\s\-]*$"),
        not_metal: words(r"\b(?:plastic|pvc|nylon|abs|polymer|composite)\b"),
    }
});

/// Marks what is not stated clearly as open. Returns the phrases in which that happened.
pub(super) fn discard_ambiguous(
    text: &str,
    phrases: &[Range<usize>],
    doubts: &[(Range<usize>, About)],
    matches: &mut [Match],
    vocabulary: &[Term],
) -> Vec<Range<usize>> {
    for it in matches.iter_mut() {
        let is_unclear = it.states.iter().any(|(_, value)| value.is_none());
        it.is_open |= is_unclear
            && it.is_about(Subject::Barrel, vocabulary)
            && WORDS.not_metal.is_match(&text[it.range.clone()]);
    }
    share_denials(text, matches);
    let counts_another = |at: &usize| {
        matches[*at].is_about(Subject::Quantity, vocabulary) && !counts_outlets(text, phrases, matches, *at)
    };
    let counts: Vec<usize> = (0..matches.len()).filter(counts_another).collect();
    counts.into_iter().for_each(|at| matches[at].is_open = true);
    let covered: Vec<Range<usize>> =
        matches.iter().map(Match::with_denial).chain(doubts.iter().map(|(range, _)| range.clone())).collect();
    let mut discarded = Vec::new();
    for phrase in phrases {
        let has_unknown = has_unknown_words(&without(text, phrase, &covered));
        for at in 0..matches.len() {
            let it = &matches[at];
            let is_length = it.is_about(Subject::NominalLength, vocabulary);
            let is_kind =
                it.states.first().is_some_and(|(term, _)| vocabulary[*term].subject == Some(Subject::Kind));
            let is_ambiguous = has_unknown || is_length && is_of_another_thing(text, phrase, matches, at);
            if !it.is_within(phrase)
                || it.states.is_empty()
                || is_kind
                || it.names_its_subject
                || !is_ambiguous
            {
                continue;
            }
            if discarded.last() != Some(phrase) {
                discarded.push(phrase.clone());
            }
            // Another length is clearly the barrel's.
            let is_barrels = |(other, it): (usize, &Match)| {
                other != at
                    && !it.is_open
                    && it.is_about(Subject::NominalLength, vocabulary)
                    && names_barrel(&text[it.range.clone()])
            };
            if is_length && matches.iter().enumerate().any(is_barrels) {
                matches[at].states.clear();
            } else {
                matches[at].is_discarded = !matches[at].is_open;
                matches[at].is_open = true;
            }
        }
    }
    discarded
}

fn names_barrel(words: &str) -> bool {
    words.to_ascii_lowercase().contains("barrel")
}

/// "No gasket and sleeve" denies both.
fn share_denials(text: &str, matches: &mut [Match]) {
    let stating: Vec<usize> = (0..matches.len()).filter(|at| !matches[*at].states.is_empty()).collect();
    for (before, at) in stating.iter().zip(stating.iter().skip(1)) {
        let (at, before, it) = (*at, &matches[*before], &matches[*at]);
        let gap = text.get(before.range.end..it.range.start).unwrap_or_default();
        let is_joined = !gap.trim().is_empty() && gap.trim() != "," && WORDS.joins.is_match(gap);
        if is_joined && (before.denial.is_some() || before.shares_denial) && it.denial.is_none() {
            (matches[at].is_open, matches[at].shares_denial) = (true, true);
        }
    }
}

/// Whether a count is followed by the outlet it counts, or by nothing.
fn counts_outlets(text: &str, phrases: &[Range<usize>], matches: &[Match], at: usize) -> bool {
    let it = &matches[at];
    let is_bare_until = |end: usize| !text[it.range.end..end].contains(|c: char| c.is_alphanumeric());
    if matches.get(at + 1).is_some_and(|next| !next.states.is_empty() && is_bare_until(next.range.start)) {
        return true;
    }
    let phrase = phrases.iter().find(|phrase| it.is_within(phrase));
    !text[it.range.clone()].starts_with('(')
        && phrase.is_some_and(|phrase| is_bare_until(phrase.end.max(it.range.end)))
}

/// Whether a length is beside a thing that is not the outlet.
fn is_of_another_thing(text: &str, phrase: &Range<usize>, matches: &[Match], at: usize) -> bool {
    let own = &matches[at].range;
    if names_barrel(&text[own.clone()]) || own.start < phrase.start || own.end > phrase.end {
        return false;
    }
    let before = WORDS.separators.find_iter(&text[phrase.start..own.start]).last();
    let after = WORDS.separators.find(&text[own.end..phrase.end]);
    let start = before.map_or(phrase.start, |word| phrase.start + word.end());
    let end = after.map_or(phrase.end, |word| own.end + word.start());
    matches
        .iter()
        .enumerate()
        .any(|(other, it)| other != at && it.is_thing && it.range.start >= start && it.range.end <= end)
}

/// A phrase with the covered ranges blanked.
fn without(text: &str, phrase: &Range<usize>, covered: &[Range<usize>]) -> String {
    let is_covered = |at: usize| covered.iter().any(|range| range.contains(&(phrase.start + at)));
    text[phrase.clone()].char_indices().map(|(at, c)| if is_covered(at) { ' ' } else { c }).collect()
}
