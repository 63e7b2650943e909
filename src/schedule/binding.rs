//! The binding rules: a figure binds to the word that says what it measures, a metal to the part beside it. A figure
//! or metal with no such word beside it is read only if its phrase has nothing else it could belong to (`ambiguous.rs`).

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
    /// Whether the words themselves say what they are about, so that unknown words beside them change nothing.
    pub names_its_subject: bool,
    /// Whether they name a part or another thing that can have a length or a metal of its own.
    pub is_thing: bool,
}

impl Bound {
    fn of(range: Range<usize>, states: Vec<(Subject, Says)>) -> Self {
        Self { range, states, denied: None, names_its_subject: true, is_thing: false }
    }

    /// Words that could be about something else in their phrase.
    fn ambiguous(range: Range<usize>, states: Vec<(Subject, Says)>) -> Self {
        Self { names_its_subject: false, ..Self::of(range, states) }
    }

    /// Words that are known and state nothing.
    fn idle(range: Range<usize>) -> Self {
        Self::of(range, Vec::new())
    }

    /// Words for a part or another thing, which state nothing of the outlet.
    fn thing(range: Range<usize>) -> Self {
        Self { is_thing: true, ..Self::idle(range) }
    }
}

/// Binds the nodes of a text in four passes, each mostly on the nodes that those before left: kinds with where they close and
/// their box; figures with what they measure; metals with their part; the rest, each by itself.
pub(super) fn bind(text: &str, nodes: &[Node]) -> Vec<Bound> {
    let mut binder = Binder { text, nodes, used: vec![false; nodes.len()], found: Vec::new() };
    binder.bind_kinds();
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
        binder.bind_alone(at);
    }
    binder.found
}

struct Binder<'b> {
    text: &'b str,
    nodes: &'b [Node],
    /// Whether each node is bound.
    used: Vec<bool>,
    found: Vec<Bound>,
}

fn says_words(text: &str) -> Says {
    Says::Words(text.to_owned())
}

impl Binder<'_> {
    /// Characters that end a phrase.
    const SEPARATORS: [char; 6] = [',', ';', '\n', '(', ')', '|'];

    /// The sense of a node that is a word; `None` for others and beyond the ends.
    fn sense(&self, at: usize) -> Option<Sense> {
        match self.nodes.get(at)?.content {
            Content::Sense(sense) => Some(sense),
            _ => None,
        }
    }

    fn text_of(&self, range: Range<usize>) -> &str {
        &self.text[range]
    }

    /// The text of a figure, with a decimal point.
    fn figure_text(&self, at: usize) -> String {
        self.text_of(self.nodes[at].range.clone()).replace(',', ".")
    }

    /// Adds what nodes are bound to, and marks them as bound.
    fn add(&mut self, at: &[usize], bound: Bound) {
        at.iter().for_each(|at| self.used[*at] = true);
        self.found.push(bound);
    }

    /// From the start of one node to the end of another.
    fn span(&self, first: usize, last: usize) -> Range<usize> {
        self.nodes[first].range.start..self.nodes[last].range.end
    }

    /// Whether a gap between two nodes has only punctuation and idle words, none of the `forbidden` characters and no word of
    /// `BREAKS`: "10 in at brick" is not 10 in of brick.
    fn is_bare(&self, gap: &Range<usize>, forbidden: &[char]) -> bool {
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
            !forbidden.contains(&c) && (!c.is_alphanumeric() || is_idle(gap.start + offset))
        })
    }

    /// The next node that is not idle, if it is in the same phrase with nothing unknown between.
    fn next(&self, at: usize) -> Option<usize> {
        let next = (at + 1..self.nodes.len()).find(|it| self.sense(*it) != Some(Sense::Idle))?;
        let gap = self.nodes[at].range.end..self.nodes[next].range.start;
        // A full stop after a word ends its phrase.
        let ends = self.text[gap.clone()].contains(". ") && !self.is_abbreviation(at);
        (!ends && self.is_bare(&gap, &Self::SEPARATORS)).then_some(next)
    }

    /// The node before that is not idle, if this one is its [`Self::next`].
    fn before(&self, at: usize) -> Option<usize> {
        let before = (0..at).rev().find(|it| self.sense(*it) != Some(Sense::Idle))?;
        self.next(before).filter(|it| *it == at).map(|_| before)
    }

    /// Whether a node can be an abbreviation, so that a period after it need not end a phrase.
    fn is_abbreviation(&self, at: usize) -> bool {
        let range = &self.nodes[at].range;
        let is_short = || {
            let text = self.text_of(range.clone()).trim_end_matches('.');
            text.rsplit([' ', '.']).next().is_some_and(|word| word.len() <= 5)
        };
        match &self.nodes[at].content {
            // "12 in." may be an abbreviation; a bare number with a period may number a list.
            Content::Figure(figure) => figure.written != Written::Bare,
            _ => is_short(),
        }
    }

    /// Whether nothing stands beside a range up to the next comma or semicolon.
    fn is_between_commas(&self, range: &Range<usize>) -> bool {
        let ends = |part: Option<&str>| part.is_none_or(|it| it.trim().is_empty());
        ends(self.text[..range.start].rsplit([',', ';']).next())
            && ends(self.text[range.end..].split([',', ';']).next())
    }

    /// Whether a word is in the gap between two nodes.
    fn has_word_between(&self, first: usize, last: usize, word: &str) -> bool {
        let gap = &self.text[self.nodes[first].range.end..self.nodes[last].range.start];
        gap.split_whitespace().any(|it| it.eq_ignore_ascii_case(word))
    }

    /// Binds each kind with the words beside it for where it closes and for its box.
    fn bind_kinds(&mut self) {
        for at in 0..self.nodes.len() {
            let Some(Sense::OfKind(kind)) = self.sense(at) else { continue };
            let beside = |other: Option<usize>| {
                other.filter(|it| !self.used[*it]).and_then(|it| Some((it, self.sense(it)?)))
            };
            let (before, after) = (beside(self.before(at)), beside(self.next_in_item(at)));
            let (mut first, mut last, mut own, mut states) = (at, at, kind, Vec::new());
            for (other, sense) in [before, after].into_iter().flatten() {
                match sense {
                    Sense::ClosingBeside(closes) => states.push((Closes, says_words(closes))),
                    Sense::Boxed if kind == "wall hydrant" => own = "box hydrant",
                    // A yard hydrant closes below grade: a word before it for where it closes, mostly `frostproof`, is part of
                    // the name and states nothing.
                    Sense::Closing(_) if own == "yard hydrant" && other < at => {}
                    _ => continue,
                }
                (first, last) = (first.min(other), last.max(other));
            }
            states.insert(0, (Kind, says_words(own)));
            let nodes: Vec<usize> = (first..=last).collect();
            self.add(&nodes, Bound::of(self.span(first, last), states));
        }
    }

    /// The next node that is not idle, across anything but a semicolon, a line end, an unknown word or a word of `BREAKS`.
    fn next_in_item(&self, at: usize) -> Option<usize> {
        let next = (at + 1..self.nodes.len()).find(|it| self.sense(*it) != Some(Sense::Idle))?;
        let gap = self.nodes[at].range.end..self.nodes[next].range.start;
        self.is_bare(&gap, &[';', '\n']).then_some(next)
    }

    /// The node before that is not idle, if this one is its [`Self::next_in_item`].
    fn before_in_item(&self, at: usize) -> Option<usize> {
        let before = (0..at).rev().find(|it| self.sense(*it) != Some(Sense::Idle))?;
        self.next_in_item(before).filter(|it| *it == at).map(|_| before)
    }

    fn sense_before_in_item(&self, at: usize) -> Option<Sense> {
        self.before_in_item(at).and_then(|it| self.sense(it))
    }

    /// The last node of a combination inlet that starts with a joint ("thread x sweat", "thread or sweat"); `None` if it is
    /// no such inlet.
    fn combination_end(&self, at: usize, joint: &str) -> Option<usize> {
        let mut next = self.next(at)?;
        if matches!(self.nodes[next].content, Content::Figure(_)) {
            next = self.next(next)?;
        }
        let Some(Sense::Joint(other)) = self.sense(next) else { return None };
        let is_pair = [joint, other].contains(&"threaded") && [joint, other].contains(&"sweat");
        let inlet = self.next(next).filter(|it| self.sense(*it) == Some(Sense::Measure(SupplySize)));
        is_pair.then(|| inlet.unwrap_or(next))
    }

    /// Binds a node that is bound to no other, by itself. Figures, metals, pipes and words that may be a
    /// kind stay unbound; other words that say nothing alone are bound as known words.
    fn bind_alone(&mut self, at: usize) {
        if self.used[at] {
            return;
        }
        let range = self.nodes[at].range.clone();
        let bound = match &self.nodes[at].content {
            Content::Figure(_) => return,
            // "Slab slope 1/4 in/ft" is the slope of the slab.
            Content::Form(Some((Slope, _)))
                if self.before(at).and_then(|it| self.sense(it)).is_some_and(is_thing) =>
            {
                Bound::thing(range)
            }
            Content::Form(states) => {
                let names_its_subject = !matches!(states, Some((Quantity | Slope, _)));
                let states = states.iter().map(|(subject, text)| (*subject, says_words(text)));
                Bound { names_its_subject, ..Bound::of(range, states.collect()) }
            }
            Content::Sense(sense) => match *sense {
                Sense::KindClosing(kind, closes) => {
                    Bound::of(range, vec![(Kind, says_words(kind)), (Closes, says_words(closes))])
                }
                Sense::Closing(closes) => Bound::of(range, vec![(Closes, says_words(closes))]),
                Sense::UnclearClosing => Bound::of(range, vec![(Closes, Says::Unclear)]),
                // "NF, 12 in long" with the kind in another cell: "FP" and "NF" alone. FF can also be a finished floor.
                Sense::ClosingBeside(closes)
                    if self.is_between_commas(&range)
                        && self.text_of(range.clone()).len() < 3
                        && !self.text_of(range.clone()).eq_ignore_ascii_case("ff") =>
                {
                    Bound::of(range, vec![(Closes, says_words(closes))])
                }
                Sense::Device(Some(device)) => Bound::of(range, vec![(BackflowDevice, says_words(device))]),
                Sense::Device(None) => Bound {
                    denied: Some(says_words("none")),
                    ..Bound::of(range, vec![(BackflowDevice, Says::Unclear)])
                },
                Sense::Joint(joint) => {
                    let (last, joint) = match self.combination_end(at, joint) {
                        Some(last) => (last, "combination"),
                        None => {
                            let inlet = self
                                .next(at)
                                .filter(|it| self.sense(*it) == Some(Sense::Measure(SupplySize)));
                            (inlet.unwrap_or(at), joint)
                        }
                    };
                    // "Thread" alone may be that of the hose.
                    let text = self.text_of(range).to_lowercase();
                    if last == at && (text.starts_with("thr") || text == "thd") {
                        return;
                    }
                    let nodes: Vec<usize> = (at..=last).collect();
                    return self
                        .add(&nodes, Bound::of(self.span(at, last), vec![(Inlet, says_words(joint))]));
                }
                Sense::Yes(subject) => Bound {
                    denied: Some(Says::YesNo(false)),
                    is_thing: is_thing(*sense),
                    ..Bound::of(range, vec![(subject, Says::YesNo(true))])
                },
                Sense::No(subject) => Bound::of(range, vec![(subject, Says::YesNo(false))]),
                Sense::Word(subject, word) => Bound::of(range, vec![(subject, says_words(word))]),
                Sense::Space(space) => {
                    let in_wall = self.next(at).filter(|it| {
                        self.text_of(self.nodes[*it].range.clone()).eq_ignore_ascii_case("wall")
                    });
                    let start = self.text[..range.start].to_lowercase();
                    let preposition = ["in ", "at ", "on ", "in the ", "at the ", "on the "]
                        .into_iter()
                        .filter(|it| start.ends_with(it))
                        .max_by_key(|it| it.len());
                    match (in_wall, preposition) {
                        (Some(wall), Some(word)) => {
                            let whole = range.start - word.len()..self.nodes[wall].range.end;
                            let states = vec![(SpaceBehind, says_words(space))];
                            self.add(&[at, wall], Bound::ambiguous(whole, states));
                            return;
                        }
                        // "Supplied from crawlspace" at the end of a phrase tells where the supply comes from: known, no
                        // fact. Before another noun ("at garage door") it may be anything: leave it unread.
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
