//! Rows of a schedule with the same findings, for the summary.

use super::comments::{is_general, speaks};
use super::words::listed;
use crate::review::{Comment, Findings, OutletReview, Review, RowOf, Spotted};
use crate::ruleset::{Basis, Outcome};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Questions printed before the rest is only counted.
pub(super) const MOST_QUESTIONS: usize = 10;

/// Rows with the same findings.
pub(super) struct Group<'r> {
    pub outlets: Vec<&'r OutletReview>,
    pub findings: &'r Findings,
    /// The gravest outcome of its comments; general notes do not count.
    pub outcome: Outcome,
    /// Numbers of the questions that wait for an answer about them.
    pub questions: Vec<usize>,
}

/// The groups in the order of the schedule.
pub(super) fn groups(review: &Review) -> Vec<Group<'_>> {
    let mut asked: BTreeMap<(&Arc<str>, Spotted), Vec<usize>> = BTreeMap::new();
    for (question, number) in review.questions.iter().take(MOST_QUESTIONS).zip(1..) {
        for (mark, row) in question.types.iter().flat_map(|of| &of.outlets) {
            asked.entry((mark, *row)).or_default().push(number);
        }
    }
    let mut groups: Vec<Group<'_>> = Vec::new();
    let mut known: BTreeMap<*const Findings, usize> = BTreeMap::new();
    for outlet in &review.outlets {
        let at = *known.entry(Arc::as_ptr(&outlet.findings)).or_insert_with(|| {
            let speaking = outlet.findings.comments.iter().filter(|comment| is_of_the_row(comment));
            let outcome = speaking.map(|comment| comment.outcome).min().unwrap_or(Outcome::NoComment);
            let row = Spotted::at(&outlet.location, &review.schedule);
            let questions = asked.get(&(&outlet.mark, row)).cloned().unwrap_or_default();
            groups.push(Group { outlets: Vec::new(), findings: &outlet.findings, outcome, questions });
            groups.len() - 1
        });
        groups[at].outlets.push(outlet);
    }
    groups
}

/// Whether a comment is one on the row itself, rather than a note for the whole job.
pub(super) fn is_of_the_row(comment: &Comment) -> bool {
    speaks(comment) && !is_general(comment.rule.once, comment.outcome)
}

/// "2, 5 and 8".
pub(super) fn rows_of(outlets: &[&OutletReview], review: &Review) -> String {
    listed(&row_numbers(outlets, review), 3)
}

/// The rows of outlets, as a spreadsheet numbers them.
pub(super) fn row_numbers(outlets: &[&OutletReview], review: &Review) -> Vec<Arc<str>> {
    outlets
        .iter()
        .map(|outlet| match Spotted::at(&outlet.location, &review.schedule) {
            Spotted { of: RowOf::Schedule, number } => number.to_string().into(),
            other => other.to_string().into(),
        })
        .collect()
}

/// The result in a word; in capitals if the adopted code requires a revision.
pub(super) fn result_of(group: &Group<'_>) -> &'static str {
    let by_code =
        |comment: &Comment| comment.outcome == Outcome::Revise && comment.rule.basis == Basis::AdoptedCode;
    match group.outcome {
        Outcome::Revise if group.findings.comments.iter().any(by_code) => "REVISE",
        Outcome::Revise => "revise",
        Outcome::Clarify => "clarify",
        Outcome::Advise => "advisory",
        Outcome::NoComment | Outcome::DoesNotApply => "no comment",
    }
}
