//! What figures measure: by the noun after them, then by the noun before them.

use super::super::lexicon::Sense;
use super::super::matching::{Says, is_thing};
use super::super::tokens::{Figure, Written};
use super::super::vocabulary::Subject::{self, *};
use super::{Binder, Bound, Content, says_words};
use std::ops::Range;

impl Binder<'_> {
    /// Whether a figure is the thickness of the pipe insulation named before it.
    fn measures_before_thick(&self, at: usize, states: &[(Subject, Says)]) -> bool {
        states.first().is_some_and(|(subject, _)| *subject == SupplyInsulation)
            && self.sense_before_in_item(at) == Some(Sense::Measure(SupplyInsulation))
    }

    /// Binds a figure to the noun or the other figure beside it.
    pub(super) fn figure(&mut self, at: usize, figure: &Figure) {
        if self.used[at] {
            return;
        }
        let next = self.next(at);
        let after = next.and_then(|it| self.next(it));
        // A length beside a riser is the riser's.
        let is_riser = |at: usize| self.text_of(self.nodes[at].range.clone()).eq_ignore_ascii_case("riser");
        let is_thing_at =
            |it: Option<usize>| it.is_some_and(|at| is_riser(at) || self.sense(at).is_some_and(is_thing));
        if let Some(other) = next
            && let Content::Figure(second) = &self.nodes[other].content
            && self.has_word_between(at, other, "x")
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
                let size = Says::Inches(self.figure_text(size));
                let states = vec![(SupplySize, size), (NominalLength, Says::Words(self.figure_text(length)))];
                return self.add(&[at, other], Bound::ambiguous(self.span(at, other), states));
            }
            // "3/4 X 14": the size; the other figure is by itself.
            if figure.is_pipe_size && !second.is_pipe_size {
                let states = vec![(SupplySize, Says::Inches(self.figure_text(at)))];
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
                self.before_in_item(at).unwrap_or(first)
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
        let value = || Says::Words(self.figure_text(at));
        let has_inches = matches!(figure.written, Written::Inches | Written::Metric);
        let size = || (SupplySize, Says::Inches(self.figure_text(at)));
        let after = self.next(noun);
        let sense_after = after.and_then(|it| self.sense(it));
        let with = |last: Option<usize>, is: bool| if is { last.unwrap_or(noun) } else { noun };
        let word = self.text_of(self.nodes[noun].range.clone()).to_lowercase();
        Some(match sense {
            Sense::Joint(joint) if figure.is_pipe_size => {
                let is_inlet = sense_after == Some(Sense::Measure(SupplySize));
                // A threaded end and a sweat end are one inlet that takes either.
                if let Some(last) = self.combination_end(noun, joint) {
                    return Some((last, vec![(Inlet, says_words("combination"))]));
                }
                (with(after, is_inlet), vec![size(), (Inlet, says_words(joint))])
            }
            Sense::Measure(SupplySize) if figure.is_pipe_size => (noun, vec![size()]),
            Sense::Measure(NominalLength) => match sense_after {
                Some(sense) if is_thing(sense) => (after.unwrap_or(noun), Vec::new()),
                _ if !has_inches => return None,
                _ => (noun, vec![(NominalLength, value())]),
            },
            Sense::Part(Barrel) if word == "riser" => (noun, Vec::new()),
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
            // Of a hydrant in the ground; boxes are measured in inches.
            Sense::Thing if word == "deep" && figure.written == Written::Feet => {
                (noun, vec![(BuryDepth, value())])
            }
            Sense::Thing if word == "thick" && sense_after == Some(Sense::Measure(SupplyInsulation)) => {
                (after.unwrap_or(noun), vec![(SupplyInsulation, value())])
            }
            // "Pipe insulation, 1 in thick".
            Sense::Thing
                if word == "thick"
                    && self.sense_before_in_item(at) == Some(Sense::Measure(SupplyInsulation)) =>
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
                (with(after, is_supply), vec![size(), (Supply, says_words(pipe))])
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
        let value = || Says::Words(self.figure_text(at));
        let word = self.text_of(self.nodes[noun].range.clone()).to_lowercase();
        Some(match sense {
            Sense::Measure(NominalLength) if has_inches => vec![(NominalLength, value())],
            Sense::Part(Barrel) if word.contains("barrel") && has_inches => vec![(NominalLength, value())],
            Sense::Measure(subject @ (BuryDepth | SeatDepth)) if has_unit => vec![(subject, value())],
            Sense::Measure(SupplyInsulation) => vec![(SupplyInsulation, Says::Unclear)],
            Sense::Measure(SupplySize) if figure.is_pipe_size => {
                vec![(SupplySize, Says::Inches(self.figure_text(at)))]
            }
            Sense::Metal("copper") | Sense::Pipe(_) if figure.is_pipe_size => {
                let (Sense::Metal(pipe) | Sense::Pipe(pipe)) = sense else { return None };
                vec![(Supply, says_words(pipe)), (SupplySize, Says::Inches(self.figure_text(at)))]
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
            let states = vec![(NominalLength, Says::Words(self.figure_text(at)))];
            self.add(&[at], Bound::ambiguous(range, states));
        } else if figure.is_pipe_size
            && (figure.written == Written::Inches || self.stands_alone(at) || self.ends_kind(at))
        {
            let states = vec![(SupplySize, Says::Inches(self.figure_text(at)))];
            self.add(&[at], Bound::ambiguous(range, states));
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
        self.text_of(range.clone()).contains('/') && self.is_between_commas(range)
    }

    /// Whether a fraction ends a phrase after the kind of outlet: "HOSE BIBB 3/4, BRASS".
    fn ends_kind(&self, at: usize) -> bool {
        let range = &self.nodes[at].range;
        let is_kind = |before| matches!(self.sense(before), Some(Sense::OfKind(_) | Sense::KindClosing(..)));
        self.text_of(range.clone()).contains('/')
            && self.before(at).is_some_and(is_kind)
            && self.text[range.end..].split([',', ';']).next().is_none_or(|rest| rest.trim().is_empty())
    }
}
