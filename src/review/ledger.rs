//! What was assumed, and what to ask: each once, however many outlets it concerns.

use super::judge::shown;
use super::{Assumption, Comment, OutletReview, Question, Tally};
use crate::facts::{self, Origin};
use crate::ruleset::{Outcome, Rules};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Assumptions of all outlets, in the order of the catalogue.
pub(super) fn assumed(outlets: &[OutletReview]) -> Vec<Assumption> {
    let mut assumed: Vec<Assumption> = Vec::new();
    for outlet in outlets {
        for fact in &outlet.findings.facts {
            let (Origin::Assumed(why), Ok(_)) = (&fact.origin, &fact.value) else { continue };
            match assumed
                .iter_mut()
                .find(|it| it.fact.name == fact.name && it.fact.value == fact.value && it.why == *why)
            {
                Some(known) => mark_once(&mut known.applies_to, &outlet.mark),
                None => assumed.push(Assumption {
                    fact: fact.clone(),
                    why: why.clone(),
                    applies_to: vec![outlet.mark.clone()],
                }),
            }
        }
    }
    assumed.sort_by_key(|it| facts::CATALOGUE.iter().position(|entry| entry.def.name == &*it.fact.name));
    assumed
}

/// Questions, the one that settles most first, then in the order of the catalogue.
pub(super) fn questions(outlets: &[OutletReview]) -> Vec<Question> {
    let mut asked: BTreeMap<u16, Question> = BTreeMap::new();
    for outlet in outlets {
        let mut waits: Vec<_> = outlet
            .findings
            .comments
            .iter()
            .filter(|it| is_waiting(it))
            .flat_map(|it| &it.open)
            .flat_map(|it| &it.missing)
            .collect();
        waits.sort_by_key(|(slot, ..)| *slot);
        waits.dedup_by_key(|(slot, ..)| *slot);
        for (slot, name, heading) in waits {
            let question = asked.entry(slot.0).or_insert_with(|| Question {
                fact: name.clone(),
                heading: heading.clone(),
                about: facts::entry(*slot).map_or("", |entry| entry.def.about).into(),
                asked_of: Vec::new(),
                settles: 0,
            });
            question.settles += 1;
            mark_once(&mut question.asked_of, &outlet.mark);
        }
    }
    let mut questions: Vec<Question> = asked.into_values().collect();
    questions.sort_by_key(|it| std::cmp::Reverse(it.settles));
    questions
}

/// A comment that an answer would move; a general note asks for nothing by itself.
fn is_waiting(comment: &Comment) -> bool {
    comment.outcome == Outcome::Clarify && !comment.rule.once
}

pub(super) fn tally(outlets: &[OutletReview]) -> Tally {
    let mut tally = Tally::default();
    for comment in outlets.iter().flat_map(|it| &it.findings.comments) {
        tally.add(comment.outcome);
    }
    tally
}

fn mark_once(marks: &mut Vec<Arc<str>>, mark: &Arc<str>) {
    if !marks.contains(mark) {
        marks.push(mark.clone());
    }
}

/// Facts for printing, from those worked out so far.
pub(super) fn facts_of(outlet: &facts::Outlet<'_>, rules: &Rules) -> Vec<super::Shown> {
    outlet.known_so_far().iter().map(|(slot, fact)| shown(*slot, fact, rules)).collect()
}
