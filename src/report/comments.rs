//! Comments gathered: what is said alike of several outlets is said once.

use super::sentences::{advice, sentence};
use super::settling::to_settle;
use super::words::lower;
use crate::expr::Slot;
use crate::facts;
use crate::facts::columns::{NOMINAL_LENGTH, SEAT_DEPTH};
use crate::review::{Comment, Findings, Review, RuleCard, Spotted};
use crate::ruleset::Outcome;
use crate::units::System;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A comment and the outlets it is made of.
#[derive(Clone)]
pub(super) struct Gathered<'r> {
    pub rule: &'r Arc<RuleCard>,
    /// The comment on the first of the outlets.
    pub comment: &'r Comment,
    pub outcome: Outcome,
    pub lowered: bool,
    pub says: Option<String>,
    pub settle: Option<String>,
    pub remedy: Option<String>,
    /// Whether a question asks for what it waits for.
    pub is_asked: bool,
    /// The headings of the facts it waits for, where that is all there is to say.
    pub waits_for: Option<String>,
    /// Marks with their rows.
    pub outlets: Vec<(Arc<str>, Spotted)>,
}

/// All comments that say something, the gravest first, then in the order of the rules.
pub(super) fn gathered(review: &Review, system: System) -> Vec<Gathered<'_>> {
    let mut gathered: Vec<Gathered<'_>> = Vec::new();
    let order: Vec<&Arc<str>> = review
        .outlets
        .first()
        .map(|it| it.findings.comments.iter().map(|it| &it.rule.id).collect())
        .unwrap_or_default();
    let mut known: BTreeMap<*const Findings, Vec<usize>> = BTreeMap::new();
    let asked = AskedFacts::of(review);
    for outlet in &review.outlets {
        let who = (outlet.mark.clone(), Spotted::at(&outlet.location, &review.schedule));
        let places = known.entry(Arc::as_ptr(&outlet.findings)).or_insert_with(|| {
            let speaking = outlet.findings.comments.iter().filter(|it| speaks(it));
            speaking
                .map(|comment| place_of(&mut gathered, comment, asked.has(comment, who.1), system))
                .collect()
        });
        for &place in places.iter() {
            gathered[place].outlets.push(who.clone());
        }
    }
    gathered.sort_by_key(|it| (it.outcome, order.iter().position(|id| **id == it.rule.id)));
    gathered
}

fn place_of<'r>(
    gathered: &mut Vec<Gathered<'r>>,
    comment: &'r Comment,
    is_asked: bool,
    system: System,
) -> usize {
    let (says, settle) = said(comment, system);
    let remedy = remedy(comment, system);
    let alike = gathered.iter().position(|it| {
        it.rule.id == comment.rule.id
            && it.outcome == comment.outcome
            && it.lowered == comment.lowered
            && it.says == says
            && it.settle == settle
            && it.remedy == remedy
            && it.is_asked == is_asked
    });
    alike.unwrap_or_else(|| {
        let (rule, outcome, lowered) = (&comment.rule, comment.outcome, comment.lowered);
        let waits_for = waits_for(comment);
        let outlets = Vec::new();
        gathered.push(Gathered {
            rule,
            comment,
            outcome,
            lowered,
            says,
            settle,
            remedy,
            is_asked,
            waits_for,
            outlets,
        });
        gathered.len() - 1
    })
}

pub(super) fn speaks(comment: &Comment) -> bool {
    comment.outcome.is_comment()
}

/// The facts that questions ask of each row.
pub(super) struct AskedFacts(BTreeSet<(Slot, Spotted)>);

impl AskedFacts {
    pub fn of(review: &Review) -> Self {
        let asked = review.questions.iter().flat_map(|question| {
            let rows = question.types.iter().flat_map(|of| &of.outlets);
            rows.map(|(_, row)| (question.slot, *row))
        });
        Self(asked.collect())
    }

    /// Whether a comment on a row stands among the questions: it waits for an answer, or asks for nothing but a fact that
    /// a question asks for. The length gives the seat depth.
    pub fn has(&self, comment: &Comment, row: Spotted) -> bool {
        let waits = comment.open.as_ref().is_some_and(|open| !open.missing.is_empty());
        let asks = |slot: Slot| {
            let by_length =
                slot == facts::slot(SEAT_DEPTH) && self.0.contains(&(facts::slot(NOMINAL_LENGTH), row));
            by_length || self.0.contains(&(slot, row))
        };
        comment.outcome == Outcome::Clarify && (waits || comment.rule.asks.is_some_and(asks))
    }
}

/// What a comment says, and what keeps it open. An open rule does not say what it would say if it were broken.
pub(super) fn said(comment: &Comment, system: System) -> (Option<String>, Option<String>) {
    let settle = comment.open.as_ref().map(|open| to_settle(open, system));
    let says = (!is_open(comment)).then(|| sentence(&comment.says, system));
    (says, settle)
}

/// The remedy, where there is something to mend or where only the figures are too close. What its sentences lack stands with
/// the comment.
pub(super) fn remedy(comment: &Comment, system: System) -> Option<String> {
    let open = comment.open.as_ref().filter(|open| !open.agreed);
    let waits = open.is_some_and(|open| !open.missing.is_empty() || !open.absent.is_empty());
    let remedy = comment.remedy.as_ref().filter(|_| !waits)?;
    Some(advice(remedy, system))
}

/// What a comment waits for where nothing can be said of the answers.
fn waits_for(comment: &Comment) -> Option<String> {
    let open = comment.open.as_ref().filter(|it| !it.agreed && it.would_settle.is_empty())?;
    let only_missing = open.close.is_empty() && open.absent.is_empty() && !open.missing.is_empty();
    let headings: Vec<Arc<str>> = open.missing.iter().map(|(_, _, heading)| heading.clone()).collect();
    only_missing.then(|| lower(&headings))
}

fn is_open(comment: &Comment) -> bool {
    comment.open.as_ref().is_some_and(|open| !open.agreed)
}

/// Whether a comment goes to the general notes: a note for the whole job that asks for nothing.
pub(super) fn is_general(once: bool, outcome: Outcome) -> bool {
    once && outcome == Outcome::Advise
}
