//! Matches the patterns of descriptions.

use super::cell::read_cell;
use super::doubt::denial_before;
use super::lexicon::whole_words;
use super::patterns::{PATTERNS, Pattern, Says};
use super::vocabulary::{Read, Subject, Term, term_of};
use crate::units::find_unit;
use regex::{Captures, Regex, RegexSet};
use std::collections::HashMap;
use std::ops::Range;
use std::sync::LazyLock;

/// Words that a pattern matched.
pub(super) struct Match {
    pub range: Range<usize>,
    /// What the words state; `None` if they say too little.
    pub states: Vec<(usize, Option<Read>)>,
    /// The word that denies them, if any.
    pub denial: Option<Denial>,
    /// Whether they are denied together with what comes before them.
    pub shares_denial: bool,
    /// Whether they state nothing definite.
    pub is_open: bool,
}

/// A word before a match that denies it.
pub(super) struct Denial {
    pub start: usize,
    /// What the match states without the denial.
    pub states: Vec<(usize, Option<Read>)>,
}

impl Match {
    /// The range with the word that denies it.
    pub(super) fn with_denial(&self) -> Range<usize> {
        self.denial.as_ref().map_or(self.range.start, |denial| denial.start)..self.range.end
    }

    pub(super) fn is_within(&self, phrase: &Range<usize>) -> bool {
        self.range.start < phrase.end && self.range.end > phrase.start
    }

    /// What it states of a term.
    pub(super) fn value_of(&self, term: usize) -> Option<&Option<Read>> {
        self.states.iter().find(|(own, _)| *own == term).map(|(_, value)| value)
    }

    pub(super) fn is_about(&self, subject: Subject, vocabulary: &[Term]) -> bool {
        self.states.iter().any(|(term, _)| vocabulary[*term].subject == Some(subject))
    }
}

struct Compiled {
    set: RegexSet,
    each: Vec<Regex>,
}

#[allow(clippy::expect_used, reason = "patterns written in the source; a test compiles them")]
static COMPILED: LazyLock<Compiled> = LazyLock::new(|| {
    let patterns: Vec<String> = PATTERNS.iter().map(|pattern| whole_words(pattern.words)).collect();
    let compile = |pattern: &String| Regex::new(pattern).expect("a pattern of the source");
    Compiled {
        set: RegexSet::new(&patterns).expect("patterns of the source"),
        each: patterns.iter().map(compile).collect(),
    }
});

/// Reads the words of descriptions, and remembers their values: descriptions that all differ still repeat the same
/// words.
pub(super) struct Reader<'v> {
    pub vocabulary: &'v [Term],
    known: HashMap<(usize, bool, String), Option<Read>>,
}

impl<'v> Reader<'v> {
    pub(super) fn new(vocabulary: &'v [Term]) -> Self {
        Self { vocabulary, known: HashMap::new() }
    }

    /// The matches of all patterns, in the order of the text.
    pub(super) fn matches(&mut self, text: &str) -> Vec<Match> {
        let mut matches: Vec<Match> = Vec::new();
        for index in &COMPILED.set.matches(text) {
            let (pattern, regex) = (&PATTERNS[index], &COMPILED.each[index]);
            for found in regex.find_iter(text) {
                let range = found.range();
                let is_free =
                    matches.iter().all(|it| range.start >= it.range.end || it.range.start >= range.end);
                if range.is_empty() || !is_free || cuts_a_number(text, &range) {
                    continue;
                }
                let Some(captures) = regex.captures_at(text, range.start) else { continue };
                let states = self.states(pattern, &captures);
                let (states, denial) = match denial_before(&text[..range.start]) {
                    None => (states, None),
                    Some(start) => (self.denied(pattern), Some(Denial { start, states })),
                };
                matches.push(Match { range, states, denial, shares_denial: false, is_open: false });
            }
        }
        matches.sort_by_key(|it| it.range.start);
        matches
    }

    /// What the words of a pattern state. A group that is not in the text states nothing.
    fn states(&mut self, pattern: &Pattern, captures: &Captures<'_>) -> Vec<(usize, Option<Read>)> {
        let group = |index: usize| captures.get(index).map_or("", |group| group.as_str().trim());
        let mut states = Vec::new();
        for (subject, says) in pattern.states {
            let Some(term) = term_of(*subject, self.vocabulary) else { continue };
            let (words, is_inches) = match says {
                Says::Groups(groups) => {
                    let words = groups.iter().map(|index| group(*index)).filter(|words| !words.is_empty());
                    (words.collect::<Vec<_>>().join(" "), false)
                }
                Says::Inches(index) => (group(*index).to_owned(), true),
                fixed => {
                    states.push((term, fixed_value(fixed)));
                    continue;
                }
            };
            if !words.is_empty() {
                states.push((term, self.read(term, words, is_inches)));
            }
        }
        states
    }

    /// What the words of a pattern state if they are denied.
    fn denied(&self, pattern: &Pattern) -> Vec<(usize, Option<Read>)> {
        let terms = pattern.states.iter().map(|(subject, _)| term_of(*subject, self.vocabulary));
        let says = pattern.denied.as_ref().and_then(fixed_value);
        let values = std::iter::once(says).chain(std::iter::repeat(None));
        terms.zip(values).filter_map(|(term, value)| Some((term?, value))).collect()
    }

    fn read(&mut self, term: usize, words: String, is_inches: bool) -> Option<Read> {
        let reads = &self.vocabulary[term].reads;
        let unit = if is_inches { find_unit("in") } else { None };
        let value = self.known.entry((term, is_inches, words));
        value.or_insert_with_key(|(_, _, words)| read_cell(reads, words, unit).ok()).clone()
    }
}

fn fixed_value(says: &Says) -> Option<Read> {
    match says {
        Says::Word(word) => Some(Read::Text((*word).into())),
        Says::YesNo(is) => Some(Read::YesNo(*is)),
        Says::Groups(_) | Says::Inches(_) | Says::Unclear => None,
    }
}

/// Whether a range starts or ends inside a number: the 1/2 of 1-1/2 is not a half.
fn cuts_a_number(text: &str, range: &Range<usize>) -> bool {
    let is_digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let (before, own, after) = (&text[..range.start], &text[range.clone()], &text[range.end..]);
    let (starts_with_digit, ends_with_digit) =
        (is_digit(own.chars().next()), is_digit(own.chars().next_back()));
    let starts_inside = before.ends_with([' ', '-', '/', '.', ','])
        && !before.ends_with(", ")
        && is_digit(before.trim_end_matches([' ', '-', '/', '.', ',']).chars().next_back());
    let ends_inside = after.starts_with(['/', '.', '-']) && is_digit(after.chars().nth(1));
    // The 12 of FPHB 12" is not part of a mark.
    let before_inch_mark = after.starts_with(['"', '\'']);
    starts_with_digit && (starts_inside || follows_feet(before))
        || ends_with_digit && (ends_inside || before_inch_mark)
}

/// Whether a text ends in a number of feet: the 6" of 1'-6" is not a length by itself.
fn follows_feet(before: &str) -> bool {
    let bare = before.trim_end_matches([' ', '-', '.']);
    let has_number = |mark: &&str| {
        let at = bare.len().checked_sub(mark.len());
        at.and_then(|at| bare.split_at_checked(at)).is_some_and(|(number, end)| {
            end.eq_ignore_ascii_case(mark) && number.trim_end().ends_with(|c: char| c.is_ascii_digit())
        })
    };
    !bare.ends_with("''") && ["'", "ft", "feet", "foot"].iter().any(has_number)
}
