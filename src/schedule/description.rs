//! What a description states: `3/4" frostproof wall hydrant, 10", integral VB, SS` read by the table of patterns into facts,
//! each with the words it came from. What is denied, left open or a choice is in doubt and states nothing.

use super::doubt::{About, TOPICS, denies, doubts};
use super::leftover::{Plain, left};
use super::patterns::{PATTERNS, SHORT};
use super::plainly::take_back;
use super::terms::{Read, Reads, Term, read_cell};
use regex::{Captures, Regex, RegexSet};
use std::collections::HashMap;
use std::ops::Range;
use std::sync::LazyLock;

/// What a text states.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Heard {
    /// Terms of the vocabulary with what is said of them and in what words, in the order of the vocabulary.
    pub facts: Vec<(usize, Read, String)>,
    /// Terms of which the text says two things, with both wordings.
    pub at_odds: Vec<(usize, [String; 2])>,
    /// Wordings in doubt, with the terms they leave open.
    pub doubtful: Vec<(String, Vec<usize>)>,
    /// What is denied and says nothing else by that: terms with what the text says that it is not, and the words.
    pub denied: Vec<(usize, Read, String)>,
    /// Words that are not understood.
    pub left: Vec<String>,
    /// Whether the text is too long to be read; nothing is taken from it.
    pub too_long: bool,
}

/// The most characters of a text that is read.
pub const MOST_CHARACTERS: usize = 2000;

struct Compiled {
    set: RegexSet,
    each: Vec<Regex>,
}

#[allow(clippy::expect_used, reason = "patterns written in the source; a test compiles them")]
static COMPILED: LazyLock<Compiled> = LazyLock::new(|| {
    let whole: Vec<String> = PATTERNS.iter().map(|it| expanded(it.words)).collect();
    Compiled {
        set: RegexSet::new(&whole).expect("patterns of the source"),
        each: whole.iter().map(|it| Regex::new(it).expect("a pattern of the source")).collect(),
    }
});

/// A pattern with its shorthands filled in, as whole words. What is matched is plain letters: the classes of all scripts
/// would only make it slow.
fn expanded(words: &str) -> String {
    let mut out = words.replace(' ', r"[\s.\-]*");
    for (short, long) in SHORT {
        out = out.replace(short, long);
    }
    let start = if words.starts_with('^') { "" } else { r"(?:\b{start-half}|\b)" };
    format!(r"(?i-u){start}(?:{out})(?:\b{{end-half}}|\b)")
}

/// Words that a pattern took.
pub(super) struct Taken {
    pub(super) range: Range<usize>,
    /// Facts by term with their value; none where the words say too little.
    pub(super) said: Vec<(usize, Option<Read>)>,
    /// Where it starts with the word that denies it.
    pub(super) from: usize,
    pub(super) denied: bool,
    /// What it would say were it not denied.
    pub(super) else_said: Vec<(usize, Option<Read>)>,
    /// Denied together with what stands before it.
    pub(super) reached: bool,
    pub(super) open: bool,
}

/// Reads a description.
pub fn hear(original: &str, vocabulary: &[Term]) -> Heard {
    Ear::new(vocabulary).hear(original)
}

/// Reads descriptions, and remembers what their figures and words were read as: descriptions that all differ are still
/// made of the same few.
pub(super) struct Ear<'v> {
    vocabulary: &'v [Term],
    known: HashMap<(usize, String), Option<Read>>,
}

impl<'v> Ear<'v> {
    pub(super) fn new(vocabulary: &'v [Term]) -> Self {
        Self { vocabulary, known: HashMap::new() }
    }

    /// What words say of a term.
    fn read(&mut self, term: usize, words: &str) -> Option<Read> {
        let reads = &self.vocabulary[term].reads;
        let read = self.known.entry((term, words.to_owned()));
        read.or_insert_with(|| read_cell(reads, words, None).ok()).clone()
    }

    /// Reads a description.
    pub(super) fn hear(&mut self, original: &str) -> Heard {
        heard(original, self)
    }
}

fn heard(original: &str, ear: &mut Ear<'_>) -> Heard {
    let vocabulary = ear.vocabulary;
    if original.chars().count() > MOST_CHARACTERS {
        return Heard { too_long: true, ..Heard::default() };
    }
    let plain = Plain::of(original);
    let mut taken = take(&plain.text, ear);
    let phrases = phrases(&plain.text);
    let mut heard = Heard::default();
    let doubts = doubts(&plain.text);
    for (range, about) in &doubts {
        let inside = |it: &Taken| it.range.start <= range.start && range.end <= it.range.end;
        if taken.iter().any(inside) {
            continue;
        }
        let topics = open_by(range, *about, &plain.text, &phrases, &mut taken, vocabulary);
        if let (false, Some(phrase)) = (topics.is_empty(), phrase_of(&phrases, range)) {
            heard.doubtful.push((plain.own(original, phrase).to_owned(), topics));
        }
    }
    let back = take_back(&plain.text, &phrases, &doubts, &mut taken, vocabulary);
    for it in taken.iter().filter(|it| it.denied) {
        let silent = |term: usize| it.said.iter().any(|(own, value)| *own == term && value.is_none());
        let words = plain.own(original, &(it.from..it.range.end));
        let words = words.trim_start_matches(|c: char| !c.is_alphanumeric());
        let denied = it.else_said.iter().filter(|(term, _)| silent(*term));
        heard.denied.extend(denied.filter_map(|(term, read)| Some((*term, read.clone()?, words.to_owned()))));
    }
    for it in &mut taken {
        it.open |= it.denied && it.said.iter().all(|(_, value)| value.is_none());
    }
    settle(&taken, &phrases, &plain, original, &mut heard, vocabulary);
    for phrase in back {
        let words = plain.own(original, &phrase);
        if heard.doubtful.iter().all(|(known, _)| known != words) {
            heard.doubtful.push((words.to_owned(), Vec::new()));
        }
    }
    let is_told = |range: &Range<usize>| {
        phrase_of(&phrases, range)
            .is_some_and(|it| heard.doubtful.iter().any(|(known, _)| known == plain.own(original, it)))
    };
    // A limit or a choice of something that is no fact leaves its words not understood.
    let told: Vec<Range<usize>> = doubts
        .into_iter()
        .filter(|(range, about)| *about == About::Phrase || is_told(range))
        .map(|(range, _)| range)
        .collect();
    heard.left = left(&plain, original, &taken, &told);
    heard
}

/// The words that each pattern takes, in the order of the text.
fn take(text: &str, ear: &mut Ear<'_>) -> Vec<Taken> {
    let mut taken: Vec<Taken> = Vec::new();
    for pattern in &COMPILED.set.matches(text) {
        for found in COMPILED.each[pattern].find_iter(text) {
            let range = found.range();
            let free = taken.iter().all(|it| range.start >= it.range.end || it.range.start >= range.end);
            if range.is_empty() || !free || cuts_a_number(text, &range) {
                continue;
            }
            let Some(captures) = COMPILED.each[pattern].captures_at(text, range.start) else { continue };
            let denial = denies(&text[..range.start]);
            let (denied, from) = (denial.is_some(), denial.unwrap_or(range.start));
            let else_said = if denied { said(pattern, &captures, false, ear) } else { Vec::new() };
            let said = said(pattern, &captures, denied, ear);
            taken.push(Taken { range, said, from, denied, else_said, reached: false, open: false });
        }
    }
    taken.sort_by_key(|it| it.range.start);
    taken
}

/// Whether a stretch starts or ends in the middle of a figure: the 1/2 of 1-1/2 is no half.
fn cuts_a_number(text: &str, range: &Range<usize>) -> bool {
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let (before, own, after) = (&text[..range.start], &text[range.clone()], &text[range.end..]);
    let starts = digit(own.chars().next())
        && digit(before.trim_end_matches([' ', '-', '/', '.', ',']).chars().next_back())
        && before.ends_with([' ', '-', '/', '.', ','])
        && !before.ends_with(", ");
    let ends =
        digit(own.chars().next_back()) && after.starts_with(['/', '.', '-']) && digit(after.chars().nth(1));
    // The 6" of 1'-6" is no length by itself, and the 12 of FPHB 12" no mark.
    let after_feet = digit(own.chars().next()) && {
        let bare = before.trim_end_matches([' ', '-', '.']);
        ["'", "ft", "feet", "foot"].iter().any(|it| {
            let rest = bare.len().checked_sub(it.len()).and_then(|at| bare.split_at_checked(at));
            rest.is_some_and(|(rest, end)| {
                end.eq_ignore_ascii_case(it) && digit(rest.trim_end().chars().next_back())
            })
        }) && !bare.ends_with("''")
    };
    let before_mark = digit(own.chars().next_back()) && after.starts_with(['"', '\'']);
    starts || ends || after_feet || before_mark
}

/// What the words of a pattern say of each of its facts. A bracket that took no part says nothing.
fn said(
    pattern: usize,
    captures: &Captures<'_>,
    denied: bool,
    ear: &mut Ear<'_>,
) -> Vec<(usize, Option<Read>)> {
    let pattern = &PATTERNS[pattern];
    let mut said = Vec::new();
    for (index, (fact, value)) in pattern.states.iter().enumerate() {
        let Some(term) = ear.vocabulary.iter().position(|term| term.fact == *fact) else { continue };
        let mut text = String::new();
        match (denied, index) {
            (true, 0) => text.push_str(pattern.denied),
            (true, _) => {}
            (false, _) => captures.expand(value, &mut text),
        }
        let text = text.trim();
        let is_told = !text.is_empty() && text != "in";
        if is_told || denied || value.is_empty() {
            said.push((term, is_told.then(|| ear.read(term, text)).flatten()));
        }
    }
    said
}

/// The phrases of a text: what commas, semicolons, line ends and full stops part.
fn phrases(text: &str) -> Vec<Range<usize>> {
    let mut phrases = Vec::new();
    let mut start = 0;
    let bytes = text.as_bytes();
    for (at, byte) in text.bytes().enumerate() {
        let digit = |at: Option<usize>| at.and_then(|it| bytes.get(it)).is_some_and(u8::is_ascii_digit);
        let parts = match byte {
            b';' | b'\n' | b'\r' => true,
            b',' => !(digit(at.checked_sub(1)) && digit(Some(at + 1))),
            // "W. HYD." ends no phrase, a sentence of some length does.
            b'.' => bytes.get(at + 1).is_none_or(|it| *it == b' ') && at - start > 8 && !digit(Some(at + 2)),
            _ => false,
        };
        if parts {
            phrases.push(start..at);
            start = at + 1;
        }
    }
    phrases.push(start..text.len());
    phrases
}

pub(super) fn phrase_of<'p>(phrases: &'p [Range<usize>], range: &Range<usize>) -> Option<&'p Range<usize>> {
    phrases.iter().find(|phrase| range.start < phrase.end && range.end > phrase.start)
}

/// Leaves open what a doubt is about. Returns the terms it names by themselves, as "verify length" does.
fn open_by(
    doubt: &Range<usize>,
    about: About,
    text: &str,
    phrases: &[Range<usize>],
    taken: &mut [Taken],
    vocabulary: &[Term],
) -> Vec<usize> {
    let Some(own) = phrases.iter().position(|it| it.start <= doubt.start && doubt.start <= it.end) else {
        return Vec::new();
    };
    let within =
        |it: &Taken, phrase: &Range<usize>| it.range.start < phrase.end && it.range.end > phrase.start;
    let is_figure = |term: usize| matches!(vocabulary[term].reads, Reads::Quantity { .. } | Reads::Count);
    let states = |it: &Taken| !it.said.is_empty();
    match about {
        About::Phrase => {
            let (named, terms) = topics(&text[phrases[own].clone()], vocabulary);
            let of_topic = |it: &Taken| it.said.iter().any(|(term, _)| terms.contains(term));
            let says_what = taken.iter().any(|it| states(it) && within(it, &phrases[own]));
            // "10 in, verify": a doubt by itself is about what comes before it.
            let before = own.checked_sub(1).map(|it| &phrases[it]).filter(|_| !named && !says_what);
            let meant = |it: &Taken| {
                of_topic(it) || within(it, &phrases[own]) || before.is_some_and(|phrase| within(it, phrase))
            };
            taken.iter_mut().filter(|it| meant(it)).for_each(|it| it.open = true);
            return terms;
        }
        About::Figures => {
            let meant =
                |it: &Taken| within(it, &phrases[own]) && it.said.iter().any(|(term, _)| is_figure(*term));
            taken.iter_mut().filter(|it| meant(it)).for_each(|it| it.open = true);
        }
        About::Sides => {
            let bare = |gap: &str| gap.chars().all(|c| !c.is_alphanumeric());
            let beside = |it: &Taken| {
                (it.range.end <= doubt.start && bare(&text[it.range.end..doubt.start]))
                    || (it.range.start >= doubt.end && bare(&text[doubt.end..it.range.start]))
            };
            let terms: Vec<usize> =
                taken.iter().filter(|it| beside(it)).flat_map(|it| &it.said).map(|(term, _)| *term).collect();
            let meant = |it: &Taken| it.said.iter().any(|(term, _)| terms.contains(term));
            taken.iter_mut().filter(|it| meant(it)).for_each(|it| it.open = true);
        }
    }
    Vec::new()
}

/// Whether a phrase names what it is about, and the terms of that.
fn topics(phrase: &str, vocabulary: &[Term]) -> (bool, Vec<usize>) {
    let lower = phrase.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
    let named: Vec<_> = TOPICS.iter().filter(|(word, _)| words.contains(word)).collect();
    let is_meant = |term: &Term| named.iter().any(|(_, facts)| facts.contains(&term.fact));
    let terms = vocabulary.iter().enumerate().filter(|(_, term)| is_meant(term)).map(|(index, _)| index);
    (!named.is_empty(), terms.collect())
}

/// Sorts what was taken into facts, contradictions and doubts.
fn settle(
    taken: &[Taken],
    phrases: &[Range<usize>],
    plain: &Plain,
    original: &str,
    heard: &mut Heard,
    vocabulary: &[Term],
) {
    let standard = vocabulary.iter().position(|term| term.fact == "outlet.backflow_standard");
    let names = |wanted: usize| {
        taken
            .iter()
            .any(|it| !it.open && it.said.iter().any(|(term, value)| *term == wanted && value.is_some()))
    };
    for (term, Term { fact, .. }) in vocabulary.iter().enumerate() {
        let of_term = || taken.iter().filter(|it| it.said.iter().any(|(own, _)| *own == term));
        let values: Vec<(&Read, &Taken)> = of_term()
            .filter(|it| !it.open)
            .filter_map(|it| {
                it.said.iter().find(|(own, _)| *own == term)?.1.as_ref().map(|value| (value, it))
            })
            .collect();
        let own = |it: &Taken| plain.own(original, &it.range).to_owned();
        let open = of_term().any(|it| it.open);
        // "Vacuum breaker" says too little, unless its standard or a fuller wording says the rest.
        let vague = values.is_empty()
            && of_term().next().is_some()
            && !(*fact == "outlet.backflow_device" && standard.is_some_and(names));
        if open || vague {
            for it in of_term().filter(|it| it.open || vague) {
                let phrase =
                    phrases.iter().find(|phrase| it.range.start < phrase.end && it.range.end > phrase.start);
                let words = phrase.map_or_else(|| own(it), |phrase| plain.own(original, phrase).to_owned());
                match heard.doubtful.iter_mut().find(|(known, _)| *known == words) {
                    Some((_, terms)) if terms.contains(&term) => {}
                    Some((_, terms)) => terms.push(term),
                    None => heard.doubtful.push((words, vec![term])),
                }
            }
            continue;
        }
        let Some((first, at)) = values.first() else { continue };
        match values.iter().find(|(value, _)| !alike(first, value)) {
            Some((_, other)) => heard.at_odds.push((term, [own(at), own(other)])),
            None => {
                // Of "ASSE 1019" and "ASSE 1019-A" the fuller is meant.
                let fullest = |a: &(&Read, &Taken), b: &(&Read, &Taken)| length(a.0) < length(b.0);
                let best = |best, it: &_| if fullest(&best, it) { *it } else { best };
                let (value, at) = values.iter().fold((*first, *at), best);
                heard.facts.push((term, value.clone(), own(at)));
            }
        }
    }
}

fn length(value: &Read) -> usize {
    if let Read::Text(text) = value { text.len() } else { 0 }
}

/// Two figures that differ by no more are one figure in two units, as a share.
const ROUNDING: f64 = 0.02;
/// Words for one thing in the trade.
const SAME: &[&[&str]] = &[&["hose bibb", "sillcock"]];

/// Whether two values can both be meant: one may say more than the other.
pub(super) fn alike(a: &Read, b: &Read) -> bool {
    match (a, b) {
        (Read::Quantity(a), Read::Quantity(b)) => {
            (a.is - b.is).abs() <= ROUNDING * a.is.abs().max(b.is.abs())
        }
        (Read::Text(a), Read::Text(b)) => {
            let same = SAME.iter().any(|words| words.contains(&&**a) && words.contains(&&**b));
            same || a.contains(&**b) || b.contains(&**a)
        }
        (a, b) => a == b,
    }
}
