//! The binding rules: a figure binds to the word that says what it measures, a metal to the part beside it. What binds
//! to nothing is read only where its phrase has nothing else it could be of.

mod figures;
mod metals;

use super::lexicon::Sense;
use super::matching::{Says, is_thing};
use super::tokens::{Figure, Written};
use super::vocabulary::Subject::{self, *};
use std::ops::Range;

/// A recognized span of text.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub range: Range<usize>,
    pub content: Content,
}

/// What was recognized.
#[derive(Clone, Debug)]
pub(super) enum Content {
    /// A fixed pattern ("1/4 in/ft"), with what it states, if anything.
    Form(Option<(Subject, String)>),
    /// A number with or without a unit.
    Figure(Figure),
    /// A word of the lexicon.
    Sense(Sense),
}

/// Nodes bound together, and what they state.
#[derive(Debug)]
pub(super) struct Bound {
    pub range: Range<usize>,
    pub states: Vec<(Subject, Says)>,
    /// What the first subject is if the phrase is negated ("no vacuum breaker").
    pub denied: Option<Says>,
    pub is_bound: bool,
    pub is_thing: bool,
}

impl Bound {
    fn of(range: Range<usize>, states: Vec<(Subject, Says)>) -> Self {
        Self { range, states, denied: None, is_bound: true, is_thing: false }
    }

    fn weak(range: Range<usize>, states: Vec<(Subject, Says)>) -> Self {
        Self { is_bound: false, ..Self::of(range, states) }
    }

    /// Words that are known and state nothing.
    fn idle(range: Range<usize>) -> Self {
        Self::of(range, Vec::new())
    }

    fn thing(range: Range<usize>) -> Self {
        Self { is_thing: true, ..Self::idle(range) }
    }
}

/// Binds the nodes of a text.
pub(super) fn bind(text: &str, nodes: &[Node]) -> Vec<Bound> {
    let mut binder = Binder { text, nodes, used: vec![false; nodes.len()], found: Vec::new() };
    binder.kinds();
    for (at, node) in nodes.iter().enumerate() {
        if let Content::Figure(figure) = &node.content {
            binder.figure(at, figure);
        }
    }
    for (at, node) in nodes.iter().enumerate() {
        if let Content::Sense(sense) = node.content {
            binder.metal(at, sense);
        }
    }
    for at in 0..nodes.len() {
        binder.rest(at);
    }
    binder.found
}

struct Binder<'b> {
    text: &'b str,
    nodes: &'b [Node],
    used: Vec<bool>,
    found: Vec<Bound>,
}

fn words(text: &str) -> Says {
    Says::Words(text.to_owned())
}

impl Binder<'_> {
    fn sense(&self, at: usize) -> Option<Sense> {
        match self.nodes.get(at)?.content {
            Content::Sense(sense) => Some(sense),
            _ => None,
        }
    }

    fn words(&self, range: Range<usize>) -> &str {
        &self.text[range]
    }

    /// The words of a figure as a cell has them.
    fn number(&self, at: usize) -> String {
        self.words(self.nodes[at].range.clone()).replace(',', ".")
    }

    fn add(&mut self, at: &[usize], bound: Bound) {
        at.iter().for_each(|at| self.used[*at] = true);
        self.found.push(bound);
    }

    /// From the start of one node to the end of another.
    fn span(&self, first: usize, last: usize) -> Range<usize> {
        self.nodes[first].range.start..self.nodes[last].range.end
    }

    /// Whether only punctuation and idle words stand in a gap between two nodes. "10 in at brick" is not 10 in of brick.
    fn is_bare(&self, gap: &Range<usize>, separators: &[char]) -> bool {
        const BREAKS: [&str; 14] =
            ["at", "in", "on", "with", "w", "to", "from", "by", "for", "and", "as", "dans", "sur", "avec"];
        let gap_text = &self.text[gap.clone()];
        let mut gap_words = gap_text.split(|c: char| !c.is_alphanumeric());
        if gap_words.any(|word| BREAKS.iter().any(|it| it.eq_ignore_ascii_case(word))) {
            return false;
        }
        let is_idle = |offset: usize| {
            self.nodes
                .iter()
                .any(|it| it.range.contains(&offset) && matches!(it.content, Content::Sense(Sense::Idle)))
        };
        let mut characters = gap_text.char_indices();
        characters.all(|(offset, c)| {
            !separators.contains(&c) && (!c.is_alphanumeric() || is_idle(gap.start + offset))
        })
    }

    const SEPARATORS: [char; 6] = [',', ';', '\n', '(', ')', '|'];

    /// The next node that is not idle, in the same phrase with nothing unknown between.
    fn next(&self, at: usize) -> Option<usize> {
        let next = (at + 1..self.nodes.len()).find(|it| self.sense(*it) != Some(Sense::Idle))?;
        let gap = self.nodes[at].range.end..self.nodes[next].range.start;
        // A full stop after a word ends its phrase.
        let ends = self.text[gap.clone()].contains(". ") && !self.is_abbreviation(at);
        (!ends && self.is_bare(&gap, &Self::SEPARATORS)).then_some(next)
    }

    fn before(&self, at: usize) -> Option<usize> {
        let before = (0..at).rev().find(|it| self.sense(*it) != Some(Sense::Idle))?;
        self.next(before).filter(|it| *it == at).map(|_| before)
    }

    /// Whether a node is short enough to be an abbreviation with its point.
    fn is_abbreviation(&self, at: usize) -> bool {
        let range = &self.nodes[at].range;
        let is_short = || {
            let text = self.words(range.clone()).trim_end_matches('.');
            text.rsplit([' ', '.']).next().is_some_and(|word| word.len() <= 5)
        };
        match &self.nodes[at].content {
            // "12 in." goes on; a bare number with a point may be that of a list.
            Content::Figure(figure) => figure.written != Written::Bare,
            _ => is_short(),
        }
    }

    /// Whether a range is all of its phrase.
    fn is_phrase(&self, range: &Range<usize>) -> bool {
        let ends = |part: Option<&str>| part.is_none_or(|it| it.trim().is_empty());
        ends(self.text[..range.start].rsplit([',', ';']).next())
            && ends(self.text[range.end..].split([',', ';']).next())
    }

    fn has_sign_between(&self, first: usize, last: usize, word: &str) -> bool {
        let gap = &self.text[self.nodes[first].range.end..self.nodes[last].range.start];
        gap.split_whitespace().any(|it| it.eq_ignore_ascii_case(word))
    }

    // Kinds, with where they close and the box around them.
    fn kinds(&mut self) {
        for at in 0..self.nodes.len() {
            let Some(Sense::OfKind(kind)) = self.sense(at) else { continue };
            let beside = |other: Option<usize>| {
                other.filter(|it| !self.used[*it]).and_then(|it| Some((it, self.sense(it)?)))
            };
            let (before, after) = (beside(self.before(at)), beside(self.next_across_comma(at)));
            let (mut first, mut last, mut own, mut states) = (at, at, kind, Vec::new());
            for (other, sense) in [before, after].into_iter().flatten() {
                match sense {
                    Sense::ClosingBeside(closes) => states.push((Closes, words(closes))),
                    Sense::Boxed if kind == "wall hydrant" => own = "box hydrant",
                    // A frost-proof yard hydrant closes below grade.
                    Sense::Closing(_) if own == "yard hydrant" && other < at => {}
                    _ => continue,
                }
                (first, last) = (first.min(other), last.max(other));
            }
            states.insert(0, (Kind, words(own)));
            let nodes: Vec<usize> = (first..=last).collect();
            self.add(&nodes, Bound::of(self.span(first, last), states));
        }
    }

    /// The next node that is not idle, also after a comma.
    fn next_across_comma(&self, at: usize) -> Option<usize> {
        let next = (at + 1..self.nodes.len()).find(|it| self.sense(*it) != Some(Sense::Idle))?;
        let gap = self.nodes[at].range.end..self.nodes[next].range.start;
        self.is_bare(&gap, &[';', '\n']).then_some(next)
    }

    /// The node before another, also before a comma.
    fn before_across_comma(&self, at: usize) -> Option<usize> {
        let before = (0..at).rev().find(|it| self.sense(*it) != Some(Sense::Idle))?;
        self.next_across_comma(before).filter(|it| *it == at).map(|_| before)
    }

    fn sense_before_across_comma(&self, at: usize) -> Option<Sense> {
        self.before_across_comma(at).and_then(|it| self.sense(it))
    }

    /// The second connection of a combination inlet ("thread x sweat", "thread or sweat"), with its last node.
    fn other_joint(&self, at: usize, joint: &str) -> Option<(usize, &'static str)> {
        let mut next = self.next(at)?;
        if matches!(self.nodes[next].content, Content::Figure(_)) {
            next = self.next(next)?;
        }
        let Some(Sense::Joint(other)) = self.sense(next) else { return None };
        let is_pair = [joint, other].contains(&"threaded") && [joint, other].contains(&"sweat");
        let inlet = self.next(next).filter(|it| self.sense(*it) == Some(Sense::Measure(SupplySize)));
        is_pair.then_some((inlet.unwrap_or(next), other))
    }

    /// What no other node is bound to.
    fn rest(&mut self, at: usize) {
        if self.used[at] {
            return;
        }
        let range = self.nodes[at].range.clone();
        let bound = match &self.nodes[at].content {
            Content::Figure(_) => return,
            // "Slab slope 1/4 in/ft" is of the slab.
            Content::Form(Some((Slope, _)))
                if self.before(at).and_then(|it| self.sense(it)).is_some_and(is_thing) =>
            {
                Bound::thing(range)
            }
            Content::Form(states) => {
                let is_bound = !matches!(states, Some((Quantity | Slope, _)));
                let states = states.iter().map(|(subject, text)| (*subject, words(text)));
                Bound { is_bound, ..Bound::of(range, states.collect()) }
            }
            Content::Sense(sense) => match *sense {
                Sense::KindClosing(kind, closes) => {
                    Bound::of(range, vec![(Kind, words(kind)), (Closes, words(closes))])
                }
                Sense::Closing(closes) => Bound::of(range, vec![(Closes, words(closes))]),
                // "NF, 12 in long" beside a kind in another cell. FF is also a finished floor.
                Sense::ClosingBeside(closes)
                    if self.is_phrase(&range)
                        && self.words(range.clone()).len() < 3
                        && !self.words(range.clone()).eq_ignore_ascii_case("ff") =>
                {
                    Bound::of(range, vec![(Closes, words(closes))])
                }
                Sense::Device(Some(device)) => Bound::of(range, vec![(BackflowDevice, words(device))]),
                Sense::Device(None) => Bound {
                    denied: Some(words("none")),
                    ..Bound::of(range, vec![(BackflowDevice, Says::Unclear)])
                },
                Sense::Joint(joint) => {
                    let (last, joint) = match self.other_joint(at, joint) {
                        Some((last, _)) => (last, "combination"),
                        None => {
                            let inlet = self
                                .next(at)
                                .filter(|it| self.sense(*it) == Some(Sense::Measure(SupplySize)));
                            (inlet.unwrap_or(at), joint)
                        }
                    };
                    // A thread alone may be the hose's.
                    let text = self.words(range).to_lowercase();
                    if last == at && (text.starts_with("thr") || text == "thd") {
                        return;
                    }
                    let nodes: Vec<usize> = (at..=last).collect();
                    return self.add(&nodes, Bound::of(self.span(at, last), vec![(Inlet, words(joint))]));
                }
                Sense::Yes(subject) => Bound {
                    denied: Some(Says::YesNo(false)),
                    is_thing: is_thing(*sense),
                    ..Bound::of(range, vec![(subject, Says::YesNo(true))])
                },
                Sense::No(subject) => Bound::of(range, vec![(subject, Says::YesNo(false))]),
                Sense::Word(subject, word) => Bound::of(range, vec![(subject, words(word))]),
                Sense::Space(space) => {
                    let in_wall = self
                        .next(at)
                        .filter(|it| self.words(self.nodes[*it].range.clone()).eq_ignore_ascii_case("wall"));
                    let start = self.text[..range.start].to_lowercase();
                    let preposition = ["in ", "at ", "on ", "in the ", "at the ", "on the "]
                        .into_iter()
                        .filter(|it| start.ends_with(it))
                        .max_by_key(|it| it.len());
                    match (in_wall, preposition) {
                        (Some(wall), Some(word)) => {
                            let whole = range.start - word.len()..self.nodes[wall].range.end;
                            self.add(&[wall], Bound::weak(whole, vec![(SpaceBehind, words(space))]));
                            self.used[at] = true;
                            return;
                        }
                        // "Supplied from crawlspace" is where it is; "at garage door" may be anything.
                        _ if self.next(at).is_none() => Bound::idle(range),
                        _ => return,
                    }
                }
                Sense::Measure(SupplyInsulation) => Bound { is_thing: true, ..Bound::of(range, Vec::new()) },
                Sense::Metal(_) | Sense::Pipe(_) | Sense::Plastic | Sense::MayBeKind(_) => return,
                sense => Bound { is_thing: is_thing(sense), ..Bound::idle(range) },
            },
        };
        self.add(&[at], bound);
    }
}
