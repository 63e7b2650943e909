//! The binding rules: a figure binds to the word that says what it measures, a metal to the part beside it. What binds
//! to nothing is read only where its phrase has nothing else it could be of.

use super::lexicon::Sense;
use super::matching::{Says, is_thing};
use super::tokens::{Figure, Written};
use super::vocabulary::Subject::{self, *};
use std::ops::Range;

/// A form, a figure or a word.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub range: Range<usize>,
    pub what: What,
}

/// What a node is.
#[derive(Clone, Debug)]
pub(super) enum What {
    Form(Option<(Subject, String)>),
    Figure(Figure),
    Sense(Sense),
}

/// Nodes bound together, and what they state.
#[derive(Debug)]
pub(super) struct Bound {
    pub range: Range<usize>,
    pub states: Vec<(Subject, Says)>,
    /// What a denial says of the first subject.
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
    for at in 0..nodes.len() {
        if let What::Figure(figure) = &nodes[at].what {
            binder.figure(at, figure);
        }
    }
    for at in 0..nodes.len() {
        if let What::Sense(sense) = nodes[at].what {
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
        match self.nodes.get(at)?.what {
            What::Sense(sense) => Some(sense),
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

    /// Whether nothing but signs and idle words is between two places. "10 in at brick" is not 10 in of brick.
    fn is_bare(&self, gap: &Range<usize>, separators: &[char]) -> bool {
        const PREPOSITIONS: [&str; 15] = [
            "at", "in", "on", "with", "w", "to", "from", "by", "for", "and", "in", "as", "dans", "sur",
            "avec",
        ];
        let mut gap_words = self.text[gap.clone()].split(|c: char| !c.is_alphanumeric());
        if gap_words.any(|word| PREPOSITIONS.iter().any(|it| it.eq_ignore_ascii_case(word))) {
            return false;
        }
        let idle = |at: usize| {
            self.nodes.iter().any(|it| it.range.contains(&at) && matches!(it.what, What::Sense(Sense::Idle)))
        };
        let own = &self.text[gap.clone()];
        own.char_indices()
            .all(|(at, c)| !separators.contains(&c) && (!c.is_alphanumeric() || idle(gap.start + at)))
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
        // The number of a list is none.
        matches!(&self.nodes[at].what, What::Figure(figure) if figure.written != Written::Bare)
            || self
                .words(range.clone())
                .trim_end_matches('.')
                .rsplit([' ', '.'])
                .next()
                .is_some_and(|it| it.len() <= 5)
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
            let (before, after) = (beside(self.before(at)), beside(self.next_in_list(at)));
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
    fn next_in_list(&self, at: usize) -> Option<usize> {
        let next = (at + 1..self.nodes.len()).find(|it| self.sense(*it) != Some(Sense::Idle))?;
        let gap = self.nodes[at].range.end..self.nodes[next].range.start;
        self.is_bare(&gap, &[';', '\n']).then_some(next)
    }

    /// The node before another, also before a comma.
    fn listed_before(&self, at: usize) -> Option<usize> {
        let before = (0..at).rev().find(|it| self.sense(*it) != Some(Sense::Idle))?;
        self.next_in_list(before).filter(|it| *it == at).map(|_| before)
    }

    fn in_list_before(&self, at: usize) -> Option<Sense> {
        self.listed_before(at).and_then(|it| self.sense(it))
    }

    /// Whether a figure is the thickness of the pipe insulation named before it.
    fn measures_before_thick(&self, at: usize, states: &[(Subject, Says)]) -> bool {
        states.first().is_some_and(|(subject, _)| *subject == SupplyInsulation)
            && self.in_list_before(at) == Some(Sense::Measure(SupplyInsulation))
    }

    fn figure(&mut self, at: usize, figure: &Figure) {
        if self.used[at] {
            return;
        }
        let next = self.next(at);
        let after = next.and_then(|it| self.next(it));
        let is_thing_at = |it: Option<usize>| it.and_then(|it| self.sense(it)).is_some_and(is_thing);
        if let Some(other) = next
            && let What::Figure(second) = &self.nodes[other].what
            && self.has_sign_between(at, other, "x")
        {
            if is_thing_at(after) {
                let Some(thing) = after else { return };
                return self.add(&[at, other, thing], Bound::thing(self.span(at, thing)));
            }
            let is_pair = |size: &Figure, length: &Figure| {
                size.is_pipe_size
                    && length.is_long()
                    && !length.is_range
                    && matches!(length.written, Written::Inches | Written::Metric)
            };
            let pair = if is_pair(figure, second) {
                Some((at, other))
            } else {
                is_pair(second, figure).then_some((other, at))
            };
            if let Some((size, length)) = pair {
                let size = Says::Inches(self.number(size));
                let states = vec![(SupplySize, size), (NominalLength, Says::Words(self.number(length)))];
                return self.add(&[at, other], Bound::weak(self.span(at, other), states));
            }
            // "3/4 X 14": the size; the other figure is by itself.
            if figure.is_pipe_size && !second.is_pipe_size {
                let states = vec![(SupplySize, Says::Inches(self.number(at)))];
                return self.add(&[at], Bound::of(self.nodes[at].range.clone(), states));
            }
        }
        if let Some(before) =
            self.before(at).filter(|it| self.sense(*it) == Some(Sense::Measure(SupplyInsulation)))
        {
            let states = vec![(SupplyInsulation, Says::Unclear)];
            return self.add(&[before, at], Bound::of(self.span(before, at), states));
        }
        if let Some(noun) = next
            && let Some(sense) = self.sense(noun)
            && let Some((last, states)) = self.measured(at, figure, noun, sense)
        {
            // "Seat 4 in from face" names it twice.
            let first = self
                .before(at)
                .filter(|it| matches!(sense, Sense::Measure(_)) && self.sense(*it) == Some(sense));
            let first = first.unwrap_or(at);
            let nodes: Vec<usize> = (first..=last).collect();
            let is_thing =
                states.is_empty() && !matches!(sense, Sense::Elsewhere | Sense::Measure(SupplySize));
            let first = if self.measures_before_thick(at, &states) {
                self.listed_before(at).unwrap_or(first)
            } else {
                first
            };
            return self.add(&nodes, Bound { is_thing, ..Bound::of(self.span(first, last), states) });
        }
        if let Some(noun) = self.before(at)
            && !self.used[noun]
            && let Some(sense) = self.sense(noun)
            && let Some(states) = self.measured_before(at, figure, noun, sense)
        {
            let is_thing = states.is_empty() && is_thing(sense);
            return self.add(&[noun, at], Bound { is_thing, ..Bound::of(self.span(noun, at), states) });
        }
        self.unbound(at, figure);
    }

    /// What a figure is with the noun after it, and the last node of that.
    fn measured(
        &self,
        at: usize,
        figure: &Figure,
        noun: usize,
        sense: Sense,
    ) -> Option<(usize, Vec<(Subject, Says)>)> {
        let value = || Says::Words(self.number(at));
        let has_inches = matches!(figure.written, Written::Inches | Written::Metric);
        let size = || (SupplySize, Says::Inches(self.number(at)));
        let after = self.next(noun);
        let sense_after = after.and_then(|it| self.sense(it));
        let with = |last: Option<usize>, is: bool| if is { last.unwrap_or(noun) } else { noun };
        let word = self.words(self.nodes[noun].range.clone()).to_lowercase();
        Some(match sense {
            Sense::Joint(joint) if figure.is_pipe_size => {
                let is_inlet = sense_after == Some(Sense::Measure(SupplySize));
                // A threaded end and a sweat end are one inlet that takes either.
                if let Some((last, _)) = self.other_joint(noun, joint) {
                    return Some((last, vec![(Inlet, words("combination"))]));
                }
                (with(after, is_inlet), vec![size(), (Inlet, words(joint))])
            }
            Sense::Measure(SupplySize) if figure.is_pipe_size => (noun, vec![size()]),
            Sense::Measure(NominalLength) => match sense_after {
                Some(sense) if is_thing(sense) => (after.unwrap_or(noun), Vec::new()),
                _ if !has_inches => return None,
                _ => (noun, vec![(NominalLength, value())]),
            },
            Sense::Part(Barrel) if word.contains("barrel") && has_inches => {
                let is_length = sense_after == Some(Sense::Measure(NominalLength));
                (with(after, is_length), vec![(NominalLength, value())])
            }
            Sense::Measure(subject @ (BuryDepth | Height | SeatDepth)) if figure.written != Written::Bare => {
                (noun, vec![(subject, value())])
            }
            Sense::Measure(subject @ (SupplyInsulation | BlockThickness)) => {
                (noun, vec![(subject, Says::Unclear)])
            }
            Sense::Thing if word == "thick" && sense_after == Some(Sense::Measure(SupplyInsulation)) => {
                (after.unwrap_or(noun), vec![(SupplyInsulation, value())])
            }
            // "Pipe insulation, 1 in thick".
            Sense::Thing
                if word == "thick" && self.in_list_before(at) == Some(Sense::Measure(SupplyInsulation)) =>
            {
                (noun, vec![(SupplyInsulation, value())])
            }
            Sense::Thing if word == "thick" && sense_after == Some(Sense::Measure(BlockThickness)) => {
                (after.unwrap_or(noun), vec![(BlockThickness, Says::Unclear)])
            }
            Sense::Metal("copper") | Sense::Pipe(_)
                if figure.is_pipe_size && !sense_after.is_some_and(is_thing) =>
            {
                let (Sense::Metal(pipe) | Sense::Pipe(pipe)) = sense else { return None };
                let is_supply = sense_after == Some(Sense::Measure(SupplySize));
                (with(after, is_supply), vec![size(), (Supply, words(pipe))])
            }
            Sense::Metal(_) | Sense::Pipe(_) | Sense::Plating(_) | Sense::Plastic
                if sense_after.is_some_and(|it| is_thing(it) || it == Sense::Measure(SupplySize))
                    && !figure.is_pipe_size =>
            {
                (after.unwrap_or(noun), Vec::new())
            }
            Sense::Elsewhere | Sense::Measure(_) => (noun, Vec::new()),
            sense if is_thing(sense) => match sense {
                // The flag speaks for itself.
                Sense::Yes(_) => (noun - 1, Vec::new()),
                _ => (noun, Vec::new()),
            },
            _ => return None,
        })
    }

    /// The other end of an inlet, after an x or an "or": its last node.
    fn other_joint(&self, at: usize, joint: &str) -> Option<(usize, &'static str)> {
        let mut next = self.next(at)?;
        if matches!(self.nodes[next].what, What::Figure(_)) {
            next = self.next(next)?;
        }
        let Some(Sense::Joint(other)) = self.sense(next) else { return None };
        let is_pair = [joint, other].contains(&"threaded") && [joint, other].contains(&"sweat");
        let inlet = self.next(next).filter(|it| self.sense(*it) == Some(Sense::Measure(SupplySize)));
        is_pair.then_some((inlet.unwrap_or(next), other))
    }

    /// What a figure is with the noun before it.
    fn measured_before(
        &self,
        at: usize,
        figure: &Figure,
        noun: usize,
        sense: Sense,
    ) -> Option<Vec<(Subject, Says)>> {
        let has_unit = figure.written != Written::Bare;
        let has_inches = matches!(figure.written, Written::Inches | Written::Metric);
        let value = || Says::Words(self.number(at));
        let word = self.words(self.nodes[noun].range.clone()).to_lowercase();
        Some(match sense {
            Sense::Measure(NominalLength) if has_inches => vec![(NominalLength, value())],
            Sense::Part(Barrel) if word.contains("barrel") && has_inches => vec![(NominalLength, value())],
            Sense::Measure(subject @ (BuryDepth | SeatDepth)) if has_unit => vec![(subject, value())],
            Sense::Measure(SupplyInsulation) => vec![(SupplyInsulation, Says::Unclear)],
            Sense::Measure(SupplySize) if figure.is_pipe_size => {
                vec![(SupplySize, Says::Inches(self.number(at)))]
            }
            Sense::Metal("copper") | Sense::Pipe(_) if figure.is_pipe_size => {
                let (Sense::Metal(pipe) | Sense::Pipe(pipe)) = sense else { return None };
                vec![(Supply, words(pipe)), (SupplySize, Says::Inches(self.number(at)))]
            }
            Sense::Measure(SupplySize) | Sense::Elsewhere => Vec::new(),
            Sense::Yes(_) => return None,
            sense if is_thing(sense) => Vec::new(),
            _ => return None,
        })
    }

    /// A figure that nothing beside it explains.
    fn unbound(&mut self, at: usize, figure: &Figure) {
        let range = self.nodes[at].range.clone();
        if self.is_distance(&range) {
            return;
        }
        let is_length = figure.is_long()
            && match figure.written {
                Written::Inches => true,
                Written::Metric => figure.inches > 3.9,
                Written::Bare | Written::Feet => false,
            };
        if is_length {
            let states = vec![(NominalLength, Says::Words(self.number(at)))];
            self.add(&[at], Bound::weak(range, states));
        } else if figure.is_pipe_size && (figure.written == Written::Inches || self.stands_alone(at)) {
            let states = vec![(SupplySize, Says::Inches(self.number(at)))];
            self.add(&[at], Bound::weak(range, states));
        }
    }

    /// Whether a figure is a distance by the word beside it: "6 in from corner", "@ 24 in".
    fn is_distance(&self, range: &Range<usize>) -> bool {
        const AFTER: [&str; 12] = [
            "from", "below", "above", "of", "off", "away", "apart", "between", "up", "down", "clear",
            "beyond",
        ];
        const BEFORE: [&str; 10] =
            ["at", "@", "every", "within", "mounted", "mount", "ht", "height", "spaced", "set"];
        let is_one = |word: Option<&str>, of: &[&str]| {
            word.is_some_and(|word| {
                of.iter().any(|it| it.eq_ignore_ascii_case(word.trim_end_matches(['.', ':'])))
            })
        };
        is_one(
            self.text[range.end..]
                .split_whitespace()
                .next()
                .filter(|_| self.text[range.end..].starts_with(' ')),
            &AFTER,
        ) || is_one(self.text[..range.start].split_whitespace().next_back(), &BEFORE)
    }

    /// Whether a fraction is all its phrase.
    fn stands_alone(&self, at: usize) -> bool {
        let range = &self.nodes[at].range;
        let ends = |part: Option<&str>| part.is_none_or(|it| it.trim().is_empty());
        self.words(range.clone()).contains('/')
            && ends(self.text[..range.start].rsplit([',', ';']).next())
            && ends(self.text[range.end..].split([',', ';']).next())
    }

    fn metal(&mut self, at: usize, sense: Sense) {
        if self.used[at]
            || !matches!(
                sense,
                Sense::Metal(_) | Sense::Plating(_) | Sense::Finish | Sense::Plastic | Sense::Pipe(_)
            )
        {
            return;
        }
        // "Chrome plated brass": the last one is what it is made of.
        let mut last = at;
        while let Some(next) = self.next(last).filter(|it| !self.used[*it])
            && matches!(self.sense(next), Some(Sense::Metal(_) | Sense::Plating(_)))
            && !matches!(self.sense(last), Some(Sense::Metal(_)))
        {
            last = next;
        }
        let run: Vec<usize> = (at..=last).collect();
        let span = self.span(at, last);
        let of = |binder: &Self, at: usize| match binder.sense(at) {
            Some(Sense::Metal(word) | Sense::Plating(word) | Sense::Pipe(word)) => words(word),
            _ => Says::Unclear,
        };
        let next = self.next(last).filter(|it| !self.used[*it]);
        match next.map(|next| (next, self.sense(next))) {
            Some((part, Some(Sense::Part(subject)))) => {
                // Screws and flanges are what their surface is.
                let by_surface = matches!(subject, Fasteners | Flange)
                    && matches!(self.sense(at), Some(Sense::Plating(_)));
                let material = of(self, if by_surface { at } else { last });
                let whole = self
                    .next(part)
                    .filter(|it| matches!(self.sense(*it), Some(Sense::Part(own)) if own == subject));
                let end = whole.unwrap_or(part);
                let nodes: Vec<usize> = (at..=end).collect();
                return self.add(&nodes, Bound::of(self.span(at, end), vec![(subject, material)]));
            }
            Some((noun, Some(Sense::Measure(SupplySize))))
                if matches!(
                    self.sense(last),
                    Some(Sense::Metal("copper") | Sense::Pipe(_) | Sense::Plating("galvanized steel"))
                ) =>
            {
                let pipe = of(self, last);
                let nodes: Vec<usize> = (at..=noun).collect();
                return self.add(&nodes, Bound::of(self.span(at, noun), vec![(Supply, pipe)]));
            }
            Some((look, Some(Sense::Finish))) if matches!(self.sense(last), Some(Sense::Metal(_))) => {
                let nodes: Vec<usize> = (at..=look).collect();
                return self.add(&nodes, Bound::of(self.span(at, look), vec![(Barrel, Says::Unclear)]));
            }
            Some((thing, Some(sense))) if is_thing(sense) && !matches!(sense, Sense::Yes(_)) => {
                let nodes: Vec<usize> = (at..=thing).collect();
                return self.add(&nodes, Bound::thing(self.span(at, thing)));
            }
            _ => {}
        }
        if let Some(before) = self.before(at).filter(|it| !self.used[*it])
            && let Some(Sense::Part(subject)) = self.sense(before)
        {
            let material = of(self, last);
            let nodes: Vec<usize> = (before..=last).collect();
            return self.add(&nodes, Bound::of(self.span(before, last), vec![(subject, material)]));
        }
        if let Some(before) = self.before(at)
            && self.sense(before) == Some(Sense::Measure(SupplySize))
            && matches!(self.sense(last), Some(Sense::Metal("copper") | Sense::Pipe(_)))
        {
            let pipe = of(self, last);
            return self.add(&run, Bound::of(span, vec![(Supply, pipe)]));
        }
        match self.sense(last) {
            Some(Sense::Metal("brass" | "bronze" | "red brass" | "silicon bronze" | "stainless"))
            | Some(Sense::Plating("galvanized steel")) => {
                let material = of(self, last);
                self.add(&run, Bound::weak(span, vec![(Barrel, material)]));
            }
            Some(Sense::Plating(_) | Sense::Finish) => self.add(&run, Bound::idle(span)),
            _ => {}
        }
    }

    /// What no other node is bound to.
    fn rest(&mut self, at: usize) {
        if self.used[at] {
            return;
        }
        let range = self.nodes[at].range.clone();
        let bound = match &self.nodes[at].what {
            What::Figure(_) => return,
            // "Slab slope 1/4 in/ft" is of the slab.
            What::Form(Some((Slope, _)))
                if self.before(at).and_then(|it| self.sense(it)).is_some_and(is_thing) =>
            {
                Bound::thing(range)
            }
            What::Form(states) => {
                let is_bound = !matches!(states, Some((Quantity | Slope, _)));
                let states = states.iter().map(|(subject, text)| (*subject, words(text)));
                Bound { is_bound, ..Bound::of(range, states.collect()) }
            }
            What::Sense(sense) => match *sense {
                Sense::KindClosing(kind, closes) => {
                    Bound::of(range, vec![(Kind, words(kind)), (Closes, words(closes))])
                }
                Sense::Closing(closes) => Bound::of(range, vec![(Closes, words(closes))]),
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
