//! What is new, settled and standing since a previous review, and which numbers its letter has given.

use super::previous::{Previous, PreviousLetterItem};
use super::{Comment, OutletReview, Review};
use crate::ruleset::Outcome;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// What became of comments that ask to revise or to clarify.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Not made before.
    New,
    /// Made before, and still made.
    Standing,
    /// Made before, of an outlet and by a rule that are still reviewed.
    Settled,
    /// Made before, of an outlet that is no longer on the schedule.
    NotListed,
    /// Made before, by a rule that is no longer in force.
    NotInForce,
}

/// Comments of one rule that have the same standing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SinceLine {
    /// What became of them.
    pub standing: Standing,
    /// The rule's id.
    pub rule: Arc<str>,
    /// The rule's number.
    pub number: Arc<str>,
    /// The marks, each once, in the order of the schedule.
    pub marks: Vec<Arc<str>>,
}

/// A review beside the one before.
#[derive(Clone, Debug)]
pub struct Since {
    /// The file of the review before.
    pub file: Arc<str>,
    /// New comments, then standing, settled and dropped ones.
    pub lines: Vec<SinceLine>,
    /// The numbered comments of the letter before.
    pub letter: Vec<PreviousLetterItem>,
}

/// An outlet by its mark, and which of those with that mark.
pub(super) type Key = (Arc<str>, usize);

impl Since {
    /// Compares a review with the one before. Outlets are the same if they have the same mark; those of one mark go by their
    /// order.
    pub fn of(file: &str, previous: &Previous, review: &Review) -> Self {
        let in_force: BTreeSet<&Arc<str>> = review
            .outlets
            .first()
            .into_iter()
            .flat_map(|outlet| outlet.findings.comments.iter().map(|comment| &comment.rule.id))
            .collect();
        let outlets = keyed(review.outlets.iter().map(|outlet| (&outlet.mark, outlet)));
        let rows = keyed(previous.rows_in_order().into_iter().map(|row| (&row.1.mark, row)));
        let listed: BTreeSet<&Key> = outlets.iter().map(|(key, _)| key).collect();
        let asked_before: BTreeSet<(&Key, &str)> = rows
            .iter()
            .flat_map(|(key, (findings, _))| findings.asking().map(move |comment| (key, &*comment.rule)))
            .collect();
        let mut lines: BTreeMap<(Standing, Arc<str>), SinceLine> = BTreeMap::new();
        let mut seen: BTreeSet<(Standing, Arc<str>, Arc<str>)> = BTreeSet::new();
        let mut add = |standing, rule: &Arc<str>, number: &Arc<str>, mark: &Arc<str>| {
            if seen.insert((standing, rule.clone(), mark.clone())) {
                let new =
                    || SinceLine { standing, rule: rule.clone(), number: number.clone(), marks: Vec::new() };
                lines.entry((standing, rule.clone())).or_insert_with(new).marks.push(mark.clone());
            }
        };
        let mut asked: BTreeSet<(&Key, &str)> = BTreeSet::new();
        for (key, outlet) in &outlets {
            for comment in asking(outlet) {
                asked.insert((key, &comment.rule.id));
                let is_standing = asked_before.contains(&(key, &comment.rule.id));
                let standing = if is_standing { Standing::Standing } else { Standing::New };
                add(standing, &comment.rule.id, &comment.rule.number, &outlet.mark);
            }
        }
        for (key, (findings, row)) in &rows {
            for comment in findings.asking().filter(|comment| !asked.contains(&(key, &*comment.rule))) {
                let standing = match (listed.contains(key), in_force.contains(&comment.rule)) {
                    (false, _) => Standing::NotListed,
                    (true, false) => Standing::NotInForce,
                    (true, true) => Standing::Settled,
                };
                add(standing, &comment.rule, &comment.number, &row.mark);
            }
        }
        let mut lines: Vec<SinceLine> = lines.into_values().collect();
        lines.sort_by(|a, b| (a.standing, &a.number).cmp(&(b.standing, &b.number)));
        Self { file: file.into(), lines, letter: previous.letter.clone() }
    }

    /// Numbers for the comments of a letter, each of a rule or a question (by its id or fact) and some outlets: one that
    /// shares outlets with a comment of the letter before keeps its number, the others follow the last number given.
    pub fn numbers(&self, comments: &[(&str, Vec<&str>)]) -> Vec<usize> {
        let mut shared: Vec<(usize, usize, usize)> = Vec::new();
        for (at, (about, marks)) in comments.iter().enumerate() {
            let marks: BTreeSet<&str> = marks.iter().copied().collect();
            for before in self.letter.iter().filter(|before| *before.about == **about) {
                let count = before.marks.iter().filter(|mark| marks.contains(&***mark)).count();
                if count > 0 {
                    shared.push((count, before.number, at));
                }
            }
        }
        // Most outlets in common first; then the lower number, and the earlier comment.
        shared.sort_by_key(|(count, number, at)| (usize::MAX - count, *number, *at));
        let mut numbers: Vec<Option<usize>> = vec![None; comments.len()];
        let mut given = BTreeSet::new();
        for (_, number, at) in shared {
            if numbers[at].is_none() && given.insert(number) {
                numbers[at] = Some(number);
            }
        }
        let mut last = self.letter.iter().map(|before| before.number).max().unwrap_or(0);
        let next = |number: Option<usize>| {
            number.unwrap_or_else(|| {
                last += 1;
                last
            })
        };
        numbers.into_iter().map(next).collect()
    }
}

/// Each with its key.
pub(super) fn keyed<'k, T>(all: impl Iterator<Item = (&'k Arc<str>, T)>) -> Vec<(Key, T)> {
    let mut known: BTreeMap<Arc<str>, usize> = BTreeMap::new();
    let keyed = all.map(|(mark, of)| {
        let count = known.entry(mark.clone()).or_default();
        *count += 1;
        ((mark.clone(), *count), of)
    });
    keyed.collect()
}

fn asking(outlet: &OutletReview) -> impl Iterator<Item = &Comment> {
    let comments = outlet.findings.comments.iter();
    comments.filter(|comment| matches!(comment.outcome, Outcome::Revise | Outcome::Clarify))
}
