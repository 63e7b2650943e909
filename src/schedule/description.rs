//! What a description states: `3/4" frostproof wall hydrant, 10", integral VB, SS` is matched by the table of patterns,
//! and each fact keeps the words it came from. What is denied, open or a choice states nothing.

use super::ambiguous::discard_ambiguous;
use super::doubt::{About, doubts, topics};
use super::lexicon::{Sense, Where, items};
use super::matching::{Match, Reader};
use super::text::{Plain, has_unknown_words, unmatched};
use super::trim::{Trim, trim};
use super::vocabulary::{CellValue, Subject, Term, term_of};
use super::wall_words::wall_words;
use std::ops::Range;

/// What a text states.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Description {
    /// Facts, in the order of the vocabulary.
    pub stated: Vec<Statement>,
    /// Terms of which the text says two things, with both wordings.
    pub contradictions: Vec<(usize, [String; 2])>,
    /// Phrases that are not specific, with the terms they leave open.
    pub open: Vec<(String, Vec<usize>)>,
    /// Terms that are open only as the words say too little: "vacuum breaker". Fuller words elsewhere decide them.
    pub vague: Vec<usize>,
    /// Words for a wall.
    pub wall: Option<String>,
    /// What the text says that something is not; its phrase is open as well.
    pub denied: Vec<Statement>,
    /// Unknown words.
    pub unknown: Vec<String>,
    /// Phrases that state, deny and leave open nothing, with unknown words or without.
    pub unsaid: Vec<String>,
    /// Unknown words of the other phrases.
    pub unknown_beside: Vec<String>,
    /// Whether the text is too long to be read; nothing is read from it.
    pub too_long: bool,
}

/// What words state of a term.
#[derive(Clone, Debug, PartialEq)]
pub struct Statement {
    /// The term of the vocabulary, by index.
    pub term: usize,
    /// Its value.
    pub value: CellValue,
    /// The words.
    pub words: String,
}

/// The most characters of a text that is read.
const MOST_CHARACTERS: usize = 2000;

/// Parses a description.
pub fn parse_description(original: &str, vocabulary: &[Term]) -> Description {
    parse_with(original, &mut Reader::new(vocabulary))
}

/// Parses a description; the reader remembers the values of its words.
pub(super) fn parse_with(original: &str, reader: &mut Reader<'_>) -> Description {
    if original.chars().count() > MOST_CHARACTERS {
        return Description { too_long: true, ..Description::default() };
    }
    let plain = Plain::of(original);
    let matches = reader.matches(&plain.text);
    let phrases = phrases(&plain.text);
    let trims = trim(&plain.text, &phrases);
    let mut parser = Parser {
        plain: &plain,
        original,
        vocabulary: reader.vocabulary,
        phrases: &phrases,
        matches,
        trimmed: trims.iter().map(|it| it.range.clone()).collect(),
        trims,
        found: Description::default(),
    };
    parser.parse();
    parser.found.wall = wall_words(&plain, original);
    parser.found
}

struct Parser<'p> {
    plain: &'p Plain,
    original: &'p str,
    vocabulary: &'p [Term],
    phrases: &'p [Range<usize>],
    matches: Vec<Match>,
    trims: Vec<Trim>,
    /// Where finish and handle are said.
    trimmed: Vec<Range<usize>>,
    found: Description,
}

impl<'p> Parser<'p> {
    fn parse(&mut self) {
        let doubts = doubts(&self.plain.text);
        for (range, about) in &doubts {
            let contains = |it: &Match| it.range.start <= range.start && range.end <= it.range.end;
            if self.matches.iter().any(contains) {
                continue;
            }
            let topics = self.leave_open(range, *about);
            if let (false, Some(phrase)) = (topics.is_empty(), self.phrase_of(range)) {
                self.found.open.push((self.words(phrase).to_owned(), topics));
            }
        }
        self.collect_trim();
        let text = &self.plain.text;
        let discarded = discard_ambiguous(text, self.phrases, &doubts, &mut self.matches, self.vocabulary);
        self.collect_denied();
        for term in 0..self.vocabulary.len() {
            self.collect(term);
        }
        self.found.stated.sort_by_key(|statement| statement.term);
        for phrase in discarded {
            let words = self.words(&phrase);
            if !self.is_open(words) {
                self.found.open.push((words.to_owned(), Vec::new()));
            }
        }
        // Words beside a limit or a choice of something that is not a fact are unknown.
        let is_reported = |range: &Range<usize>| {
            self.phrase_of(range).is_some_and(|phrase| self.is_open(self.words(phrase)))
        };
        let reported: Vec<Range<usize>> =
            doubts.into_iter().map(|(range, _)| range).filter(is_reported).collect();
        let (idle, said): (Vec<&Match>, Vec<&Match>) =
            self.matches.iter().partition(|it| it.states.is_empty());
        let idle: Vec<Range<usize>> =
            idle.into_iter().filter(|it| it.is_idle).map(|it| it.range.clone()).collect();
        let unknown = |matched: &[Range<usize>]| {
            unmatched(self.plain, self.original, matched.iter().cloned(), &idle, &reported)
        };
        let mut read: Vec<Range<usize>> = said.into_iter().map(Match::with_denial).collect();
        let unsaid = self.unsaid();
        self.found.unknown = unknown(&read);
        read.extend(unsaid.iter().cloned());
        read.sort_by_key(|it| it.start);
        self.found.unknown_beside = unknown(&read);
        self.found.unsaid = unsaid.iter().map(|phrase| self.words(phrase).to_owned()).collect();
    }

    fn unsaid(&self) -> Vec<Range<usize>> {
        let says = |phrase: &Range<usize>| {
            let touches = |range: &Range<usize>| range.start < phrase.end && range.end > phrase.start;
            let matched = self.matches.iter().any(|it| !it.states.is_empty() && touches(&it.range));
            matched || self.trimmed.iter().any(touches) || self.is_open(self.words(phrase))
        };
        let has_words =
            |phrase: &&Range<usize>| self.plain.text[(*phrase).clone()].contains(char::is_alphanumeric);
        let is_place = |phrase: &Range<usize>| is_only_a_place(&self.plain.text[phrase.clone()]);
        let phrases = self.phrases.iter().filter(has_words);
        phrases.filter(|phrase| !says(phrase) && !is_place(phrase)).cloned().collect()
    }

    /// The original words of a range.
    fn words(&self, range: &Range<usize>) -> &'p str {
        self.plain.original(self.original, range)
    }

    fn phrase_of(&self, range: &Range<usize>) -> Option<&'p Range<usize>> {
        self.phrases.iter().find(|phrase| range.start < phrase.end && range.end > phrase.start)
    }

    /// Whether a phrase is among those that are not specific.
    fn is_open(&self, words: &str) -> bool {
        self.found.open.iter().any(|(known, _)| known == words)
    }

    /// Marks the matches a doubt is about as open. Returns the terms it names, as in "verify length".
    fn leave_open(&mut self, doubt: &Range<usize>, about: About) -> Vec<usize> {
        let Some(own) = self.phrases.iter().position(|it| it.start <= doubt.start && doubt.start <= it.end)
        else {
            return Vec::new();
        };
        let (text, phrase, vocabulary) = (&self.plain.text, &self.phrases[own], self.vocabulary);
        let has_term = |it: &Match, terms: &[usize]| it.states.iter().any(|(term, _)| terms.contains(term));
        let mut named_terms = Vec::new();
        let is_meant: Box<dyn Fn(&Match) -> bool> = match about {
            About::Phrase => {
                let (is_named, terms) = topics(&text[phrase.clone()], vocabulary);
                let states = |it: &Match| !it.states.is_empty() && it.is_within(phrase);
                // "10 in, verify": a doubt by itself is about what comes before it.
                let is_trim = |it: &Trim| it.range.start < phrase.end && it.range.end > phrase.start;
                let is_alone =
                    !is_named && !self.matches.iter().any(states) && !self.trims.iter().any(is_trim);
                let before = own.checked_sub(1).map(|at| &self.phrases[at]).filter(|_| is_alone);
                // A new sentence is about something else.
                let before = before.filter(|it| !text[it.end..].starts_with('.'));
                named_terms.clone_from(&terms);
                Box::new(move |it| {
                    let is_before = before.is_some_and(|phrase| it.is_within(phrase));
                    has_term(it, &terms) || it.is_within(phrase) || is_before
                })
            }
            About::Numbers => Box::new(move |it| {
                let is_number = |(term, _): &(usize, _)| vocabulary[*term].reads.is_numeric();
                it.is_within(phrase) && it.states.iter().any(is_number)
            }),
            About::Sides => {
                let is_bare = |gap: &str| gap.chars().all(|c| !c.is_alphanumeric());
                let is_beside = |it: &&Match| {
                    (it.range.end <= doubt.start && is_bare(&text[it.range.end..doubt.start]))
                        || (it.range.start >= doubt.end && is_bare(&text[doubt.end..it.range.start]))
                };
                let beside = self.matches.iter().filter(is_beside);
                let terms: Vec<usize> = beside.flat_map(|it| &it.states).map(|(term, _)| *term).collect();
                Box::new(move |it| has_term(it, &terms))
            }
        };
        self.matches.iter_mut().filter(|it| is_meant(it)).for_each(|it| it.is_open = true);
        named_terms
    }

    /// Adds finish and handle in their own words.
    fn collect_trim(&mut self) {
        let mut trims = std::mem::take(&mut self.trims);
        trims.sort_by_key(|trim| !trim.is_open);
        for Trim { subject, range, is_open } in trims {
            let Some(term) = term_of(subject, self.vocabulary) else { continue };
            let words = self.words(&range);
            if is_open {
                self.add_open(self.words(self.phrase_of(&range).unwrap_or(&range)), term);
                continue;
            }
            if self.found.open.iter().any(|(_, terms)| terms.contains(&term)) {
                continue;
            }
            let value = words.split_whitespace().collect::<Vec<_>>().join(" ");
            match self.found.stated.iter_mut().find(|known| known.term == term) {
                // Said again, it is the same finish; another one goes with it.
                Some(Statement { value: CellValue::Text(known), .. }) => {
                    if !known.split(", ").any(|one| one.eq_ignore_ascii_case(&value)) {
                        *known = format!("{known}, {value}").into();
                    }
                }
                Some(_) => {}
                None => self.found.stated.push(Statement {
                    term,
                    value: CellValue::Text(value.into()),
                    words: words.to_owned(),
                }),
            }
        }
    }

    /// Collects what is denied and has no value by that.
    fn collect_denied(&mut self) {
        for it in &mut self.matches {
            let Some(denial) = &it.denial else { continue };
            let words = self.plain.original(self.original, &it.with_denial());
            let words = words.trim_start_matches(|c: char| !c.is_alphanumeric());
            let without_value = denial.states.iter().filter(|(term, _)| it.value_of(*term) == Some(&None));
            self.found.denied.extend(without_value.filter_map(|(term, value)| {
                Some(Statement { term: *term, value: value.clone()?, words: words.to_owned() })
            }));
            it.is_open |= it.states.iter().all(|(_, value)| value.is_none());
        }
    }

    /// Adds what is said of a term: a statement, a contradiction, or phrases that are not specific.
    fn collect(&mut self, term: usize) {
        let of_term: Vec<&Match> = self.matches.iter().filter(|it| it.value_of(term).is_some()).collect();
        let clear = of_term.iter().filter(|it| !it.is_open);
        let values: Vec<(&CellValue, &str)> =
            clear.filter_map(|it| Some((it.value_of(term)?.as_ref()?, self.words(&it.range)))).collect();
        // "Vacuum breaker" says too little, unless its standard or a fuller wording says the rest.
        let is_vague = values.is_empty() && !of_term.is_empty() && !self.has_standard(term);
        if is_vague || of_term.iter().any(|it| it.is_open) {
            if !of_term.iter().any(|it| it.is_open && !it.is_discarded) {
                self.found.vague.push(term);
            }
            let open = of_term.iter().filter(|it| it.is_open || is_vague);
            let phrases: Vec<&str> =
                open.map(|it| self.words(self.phrase_of(&it.range).unwrap_or(&it.range))).collect();
            phrases.into_iter().for_each(|phrase| self.add_open(phrase, term));
            return;
        }
        let Some((first, words)) = values.first() else { return };
        if let Some((_, other)) = values.iter().find(|(value, _)| !first.is_compatible(value)) {
            self.found.contradictions.push((term, [(*words).to_owned(), (*other).to_owned()]));
            return;
        }
        // Of "ASSE 1019" and "ASSE 1019-A" the fuller is meant; of two alike, the first.
        let fullness = |value: &CellValue| if let CellValue::Text(text) = value { text.len() } else { 0 };
        // `max_by_key` keeps the last of equals.
        let (value, words) =
            values.iter().rev().max_by_key(|(value, _)| fullness(value)).unwrap_or(&values[0]);
        let (value, words) = ((*value).clone(), (*words).to_owned());
        self.found.stated.push(Statement { term, value, words });
    }

    /// Whether the term is the backflow device, and the text states its standard.
    fn has_standard(&self, term: usize) -> bool {
        let is_standard = |(term, value): &(usize, Option<CellValue>)| {
            self.vocabulary[*term].subject == Some(Subject::BackflowStandard) && value.is_some()
        };
        self.vocabulary[term].subject == Some(Subject::BackflowDevice)
            && self.matches.iter().any(|it| !it.is_open && it.states.iter().any(is_standard))
    }

    fn add_open(&mut self, phrase: &str, term: usize) {
        match self.found.open.iter_mut().find(|(known, _)| known == phrase) {
            Some((_, terms)) if terms.contains(&term) => {}
            Some((_, terms)) => terms.push(term),
            None => self.found.open.push((phrase.to_owned(), vec![term])),
        }
    }
}

/// Whether a phrase says where outdoors something is, and no more: "Front".
fn is_only_a_place(phrase: &str) -> bool {
    let items = items(phrase);
    let mut rest = phrase.to_owned();
    for item in items.iter().rev() {
        rest.replace_range(item.range.clone(), " ");
    }
    let is_place = |sense: Sense| sense == Sense::Place(Where::Outdoors);
    !items.is_empty() && items.iter().all(|it| is_place(it.sense)) && !has_unknown_words(&rest)
}

/// The phrases of a text: what commas, semicolons, line ends and full stops separate.
pub(super) fn phrases(text: &str) -> Vec<Range<usize>> {
    /// A shorter sentence is an abbreviation: "W. HYD.".
    const SHORTEST_SENTENCE: usize = 8;
    let bytes = text.as_bytes();
    let is_digit = |at: Option<usize>| at.and_then(|at| bytes.get(at)).is_some_and(u8::is_ascii_digit);
    let (mut phrases, mut start) = (Vec::new(), 0);
    for (at, byte) in bytes.iter().enumerate() {
        let is_end = match byte {
            b';' | b'\n' | b'\r' => true,
            b',' => !(is_digit(at.checked_sub(1)) && is_digit(Some(at + 1))),
            b'.' => {
                let ends_word = bytes.get(at + 1).is_none_or(|next| *next == b' ');
                ends_word && at - start > SHORTEST_SENTENCE && !is_digit(Some(at + 2))
            }
            _ => false,
        };
        if is_end {
            phrases.push(start..at);
            start = at + 1;
        }
    }
    phrases.push(start..text.len());
    phrases
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn commas_within_numbers_and_points_of_abbreviations_end_no_phrase() {
        for (text, wanted) in [
            ("size 3/4, brass", &["size 3/4", " brass"][..]),
            ("1,200 mm bury", &["1,200 mm bury"]),
            ("12, 18 in", &["12", " 18 in"]),
            ("W. HYD. BRASS", &["W. HYD. BRASS"]),
            ("brass barrel. By others", &["brass barrel", " By others"]),
            ("see the sheet no. 5", &["see the sheet no. 5"]),
        ] {
            let found: Vec<&str> = phrases(text).into_iter().map(|it| &text[it]).collect();
            assert_eq!(found, wanted, "{text}");
        }
    }
}
