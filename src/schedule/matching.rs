//! What the words of a text state: forms, and words of the lexicon with the figures bound to them.

use super::binding::{Bound, Content, Node, bind};
use super::cell::read_cell;
use super::doubt::denial_before;
use super::forms::forms;
use super::lexicon::{Sense, items};
use super::tokens::figures;
use super::vocabulary::{CellValue, Subject, Term, term_of};
use crate::units::find_unit;
use std::collections::HashMap;
use std::ops::Range;

/// Words that were recognized.
pub(super) struct Match {
    pub range: Range<usize>,
    /// What the words state; `None` if they say too little.
    pub states: Vec<(usize, Option<CellValue>)>,
    /// The word that denies them, if any.
    pub denial: Option<Denial>,
    /// Whether they are denied together with what comes before them.
    pub shares_denial: bool,
    /// Whether they state nothing definite.
    pub is_open: bool,
    /// Whether it is open only for unknown words or another thing beside it.
    pub is_discarded: bool,
    /// Whether the words themselves say what they are about, so that unknown words beside them change nothing.
    pub names_its_subject: bool,
    /// Whether they name another thing, with a length of its own.
    pub is_thing: bool,
    /// Whether they are known and neither state anything nor have a figure of another thing.
    pub is_idle: bool,
}

/// A word before a match that denies it.
pub(super) struct Denial {
    pub start: usize,
    /// What the match states without the denial.
    pub states: Vec<(usize, Option<CellValue>)>,
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
    pub(super) fn value_of(&self, term: usize) -> Option<&Option<CellValue>> {
        self.states.iter().find(|(own, _)| *own == term).map(|(_, value)| value)
    }

    pub(super) fn is_about(&self, subject: Subject, vocabulary: &[Term]) -> bool {
        self.states.iter().any(|(term, _)| vocabulary[*term].subject == Some(subject))
    }
}

/// What words say of a subject.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Says {
    /// These words, read as a cell.
    Words(String),
    /// A number, in inches if it has no unit.
    Inches(String),
    YesNo(bool),
    /// Too little to have a value.
    Unclear,
}

/// Reads the words of descriptions, and remembers their values: descriptions that all differ still repeat the same
/// words.
pub(super) struct Reader<'v> {
    pub vocabulary: &'v [Term],
    known: HashMap<(usize, bool, String), Option<CellValue>>,
}

impl<'v> Reader<'v> {
    pub(super) fn new(vocabulary: &'v [Term]) -> Self {
        Self { vocabulary, known: HashMap::new() }
    }

    /// What is recognized in a text, in its order.
    pub(super) fn matches(&mut self, text: &str) -> Vec<Match> {
        let found = bind(text, &nodes(text));
        let mut matches: Vec<Match> = found.into_iter().map(|bound| self.matched(text, bound)).collect();
        matches.sort_by_key(|it| it.range.start);
        matches
    }

    fn matched(&mut self, text: &str, bound: Bound) -> Match {
        let Bound { range, states, denied, names_its_subject, is_thing } = bound;
        let mut values = Vec::new();
        for (subject, says) in states {
            let Some(term) = term_of(subject, self.vocabulary) else { continue };
            values.push((term, self.value(term, says)));
        }
        let is_word = !text[range.clone()].contains(|c: char| c.is_ascii_digit()) || !is_thing;
        let denial = denial_before(&text[..range.start]);
        let (states, denial) = match denial {
            None => (values, None),
            Some(start) => {
                let mut denied = denied;
                let of = |(term, _): &(usize, Option<CellValue>)| *term;
                let terms: Vec<usize> = values.iter().map(of).collect();
                let own = terms.iter().map(|term| {
                    let value = denied.take().and_then(|says| self.value(*term, says));
                    (*term, value)
                });
                (own.collect(), Some(Denial { start, states: values }))
            }
        };
        let is_idle = is_word && states.is_empty();
        Match {
            is_idle,
            range,
            states,
            denial,
            shares_denial: false,
            is_open: false,
            is_discarded: false,
            names_its_subject,
            is_thing,
        }
    }

    fn value(&mut self, term: usize, says: Says) -> Option<CellValue> {
        let (words, is_inches) = match says {
            Says::YesNo(is) => return Some(CellValue::YesNo(is)),
            Says::Unclear => return None,
            Says::Words(words) => (words, false),
            Says::Inches(words) => (words, true),
        };
        let reads = &self.vocabulary[term].reads;
        let unit = if is_inches { find_unit("in") } else { None };
        let value = self.known.entry((term, is_inches, words));
        value.or_insert_with_key(|(_, _, words)| read_cell(reads, words, unit).ok()).clone()
    }
}

/// Forms, figures and words of a text, in order and without overlaps: a form before a longer word, that before a figure
/// in it, and a figure before the words in it.
fn nodes(text: &str) -> Vec<Node> {
    let mut nodes: Vec<Node> = forms(text)
        .into_iter()
        .map(|it| Node { range: it.range, content: Content::Form(it.states) })
        .collect();
    let is_free = |nodes: &[Node], range: &Range<usize>| {
        nodes.iter().all(|it| range.start >= it.range.end || it.range.start >= range.end)
    };
    let items = items(text);
    let figures = figures(text);
    let is_in =
        |inner: &Range<usize>, outer: &Range<usize>| outer.start <= inner.start && inner.end <= outer.end;
    let of_item = |it: &Range<usize>| items.iter().any(|item| is_in(it, &item.range) && item.range != *it);
    let figures: Vec<_> = figures.into_iter().filter(|it| !of_item(&it.range)).collect();
    for figure in figures {
        if is_free(&nodes, &figure.range) {
            nodes.push(Node { range: figure.range.clone(), content: Content::Figure(figure) });
        }
    }
    for item in items {
        if is_free(&nodes, &item.range) {
            nodes.push(Node { range: item.range, content: Content::Sense(item.sense) });
        }
    }
    nodes.sort_by_key(|it| it.range.start);
    nodes
}

/// Whether a sense names a thing with a length or a metal of its own.
pub(super) fn is_thing(sense: Sense) -> bool {
    let is_part = |subject| !matches!(subject, Subject::Barrel);
    match sense {
        Sense::Thing | Sense::Construction | Sense::Other(_) => true,
        Sense::Part(subject) => is_part(subject),
        Sense::Yes(
            Subject::Sleeve | Subject::Gasket | Subject::Cover | Subject::HeatCable | Subject::InsideStop,
        ) => true,
        _ => false,
    }
}
