//! What metals are of: the part after them, then the part before them.

use super::super::lexicon::Sense;
use super::super::matching::{Says, is_thing};
use super::super::vocabulary::Subject::*;
use super::{Binder, Bound, says_words};

impl Binder<'_> {
    /// Binds a metal, a coating or a pipe to the part beside it.
    pub(super) fn metal(&mut self, at: usize, sense: Sense) {
        if self.used[at]
            || !matches!(
                sense,
                Sense::Metal(_) | Sense::Plating(_) | Sense::Look | Sense::Plastic | Sense::Pipe(_)
            )
        {
            return;
        }
        // "Chrome plated brass": the last one is what it is made of.
        let mut last = at;
        while let Some(next) = self.next(last).filter(|it| !self.used[*it])
            && matches!(self.sense(next), Some(Sense::Metal(_) | Sense::Plating(_)))
            && !matches!(self.sense(last), Some(Sense::Metal(_)))
            // "Galv/SS" are two.
            && !self.text_of(self.nodes[last].range.end..self.nodes[next].range.start).contains(['/', '&', '+'])
        {
            last = next;
        }
        let run: Vec<usize> = (at..=last).collect();
        let span = self.span(at, last);
        let of = |binder: &Self, at: usize| match binder.sense(at) {
            Some(Sense::Metal(word) | Sense::Plating(word) | Sense::Pipe(word)) => says_words(word),
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
            Some((look, Some(Sense::Look))) if matches!(self.sense(last), Some(Sense::Metal(_))) => {
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
                self.add(&run, Bound::ambiguous(span, vec![(Barrel, material)]));
            }
            Some(Sense::Plating(_) | Sense::Look) => self.add(&run, Bound::idle(span)),
            _ => {}
        }
    }
}
