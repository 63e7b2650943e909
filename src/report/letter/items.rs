//! The numbered comments of a letter: which there are, in which part, and by which number.

use crate::facts::Origin;
use crate::facts::columns::{NOMINAL_LENGTH, QUANTITY};
use crate::report::comment_sheet::{CommentSheet, QuestionLine};
use crate::report::comments::{Gathered, gathered};
use crate::report::remedies;
use crate::report::words::{alone, listed};
use crate::review::{OutletReview, Question, Remedy, Review, Spotted};
use crate::ruleset::{Basis, Outcome};
use crate::units::System;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Outlets, each with its row.
type Located<'r> = Vec<(Spotted, &'r OutletReview)>;
/// Outlets by mark and row.
type Rows<'r> = BTreeMap<(&'r str, Spotted), &'r OutletReview>;

/// A numbered comment.
pub(in crate::report) struct LetterItem<'r> {
    /// Its number, which it keeps from one review of the schedule to the next.
    pub number: usize,
    /// The id of its rule; of a question, the fact it asks for.
    pub about: &'r str,
    /// The problem in one line, or the question.
    pub title: Arc<str>,
    /// Marks it is made of, each once.
    pub marks: Vec<&'r str>,
    /// The part of the letter it stands in.
    pub part: Part,
    /// The rows it is made of, in the order of the schedule.
    pub outlets: Located<'r>,
    /// A comment of a rule, or a question.
    pub content: Content<'r>,
}

/// A part of the letter, in its order.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::report) enum Part {
    /// To revise, by what requires it.
    Revise(Basis),
    /// Facts to state.
    Questions,
    /// Comments to clarify that no question covers.
    Open,
}

/// The part of what is to be revised by calculation alone.
pub(super) const CALCULATED: Part = Part::Revise(Basis::Calculation);

/// What an item is made of.
pub(in crate::report) enum Content<'r> {
    /// What a rule found; if it is a calculation alone, the change that settles it, if one was proven.
    Comment(Gathered<'r>, Option<String>),
    /// What the schedule has instead of an answer, each text once.
    Question(Vec<Arc<str>>),
}

/// The outlets of a review, each with its row.
pub(super) fn located(review: &Review) -> impl Iterator<Item = (Spotted, &OutletReview)> {
    review.outlets.iter().map(|outlet| (Spotted::at(&outlet.location, &review.schedule), outlet))
}

/// The comments in the order of the letter, numbered.
pub(in crate::report) fn items<'r>(
    review: &'r Review,
    sheet: &'r CommentSheet<'r>,
    system: System,
) -> Vec<LetterItem<'r>> {
    let rows: Rows<'_> = located(review).map(|(row, outlet)| ((&*outlet.mark, row), outlet)).collect();
    let comments = gathered(review, system).into_iter().filter(|comment| !comment.is_asked);
    let mut items: Vec<LetterItem<'r>> =
        comments.flat_map(|comment| items_of(comment, &rows, system)).collect();
    // The sheet has one line for each question, in the same order.
    let questions = review.questions.iter().zip(&sheet.questions);
    let questions: Vec<LetterItem<'r>> =
        questions.filter_map(|(question, line)| item_asking(question, line, &rows)).collect();
    items.extend(questions);
    items.extend(quantities(review));
    // Within a part, items in the order of their first rows.
    items.sort_by_key(|item| (item.part, item.outlets.first().map(|(row, _)| *row)));
    let about: Vec<(&str, Vec<&str>)> = items.iter().map(|item| (item.about, item.marks.clone())).collect();
    let numbers = review.since.as_ref().map_or_else(|| (1..=about.len()).collect(), |it| it.numbers(&about));
    for (item, number) in items.iter_mut().zip(numbers) {
        item.number = number;
    }
    // Numbers rise within a part.
    items.sort_by_key(|item| (item.part, item.number));
    items
}

/// The items of a comment: one, or by calculation one for each change that settles it.
fn items_of<'r>(comment: Gathered<'r>, rows: &Rows<'r>, system: System) -> Vec<LetterItem<'r>> {
    let part = match comment.outcome {
        Outcome::Revise => Part::Revise(comment.rule.basis),
        Outcome::Clarify => Part::Open,
        Outcome::Advise | Outcome::NoComment | Outcome::DoesNotApply => return Vec::new(),
    };
    let mut outlets: Located<'_> =
        comment.outlets.iter().filter_map(|(mark, row)| Some((*row, *rows.get(&(&**mark, *row))?))).collect();
    outlets.sort_by_key(|(row, _)| *row);
    let mut parts: Vec<(Option<String>, Located<'_>)> = Vec::new();
    for (row, outlet) in outlets {
        let settling = settling(outlet, &comment.rule.number).filter(|_| part == CALCULATED);
        let proven = settling.map(|remedy| correction(remedy, outlet, system));
        match parts.iter_mut().find(|(known, _)| *known == proven) {
            Some((_, own)) => own.push((row, outlet)),
            None => parts.push((proven, vec![(row, outlet)])),
        }
    }
    let items = parts.into_iter().map(|(proven, outlets)| LetterItem {
        number: 0,
        about: &comment.rule.id,
        title: comment.rule.title.clone(),
        marks: marks(&outlets),
        part,
        outlets,
        content: Content::Comment(comment.clone(), proven),
    });
    items.collect()
}

/// The best change proven for an outlet, if it settles a rule.
fn settling<'r>(outlet: &'r OutletReview, rule: &Arc<str>) -> Option<&'r Remedy> {
    outlet.findings.remedies.first().filter(|remedy| remedy.answers.contains(rule))
}

/// "order 12 in (8 in scheduled)".
fn correction(remedy: &Remedy, outlet: &OutletReview, system: System) -> String {
    let what = remedies::for_drawings(remedy, system);
    let orders_length = remedy.changes.iter().flat_map(|change| &change.cells);
    let orders_length = orders_length.filter(|(fact, ..)| **fact == *NOMINAL_LENGTH.name).count() > 0;
    let scheduled = outlet.fact(NOMINAL_LENGTH.name).filter(|fact| orders_length && fact.value.is_ok());
    match scheduled {
        Some(fact) => format!("{what} ({} scheduled)", alone(&fact, system)),
        None => what,
    }
}

/// The item of a question.
fn item_asking<'r>(question: &'r Question, line: &QuestionLine, rows: &Rows<'r>) -> Option<LetterItem<'r>> {
    let asked = question.types.iter().flat_map(|of| &of.outlets);
    let mut outlets: Located<'_> =
        asked.filter_map(|(mark, row)| Some((*row, *rows.get(&(&**mark, *row))?))).collect();
    outlets.sort_by_key(|(row, _)| *row);
    let mut written: Vec<Arc<str>> = Vec::new();
    for (_, outlet) in &outlets {
        if let Some(Origin::Unreadable(_, text)) = outlet.fact(&question.fact).map(|fact| fact.origin)
            && !written.contains(&text)
        {
            written.push(text);
        }
    }
    (!outlets.is_empty()).then(|| LetterItem {
        number: 0,
        about: &question.fact,
        title: line.sentence.as_str().into(),
        marks: marks(&outlets),
        part: Part::Questions,
        outlets,
        content: Content::Question(written),
    })
}

/// Asks for the quantity of rows that state none, if others state one.
fn quantities(review: &Review) -> Option<LetterItem<'_>> {
    let (stated, silent): (Vec<_>, Vec<_>) =
        located(review).partition(|(_, outlet)| outlet.quantity.is_some());
    (!stated.is_empty() && !silent.is_empty()).then(|| LetterItem {
        number: 0,
        about: QUANTITY.name,
        title: "How many are there?".into(),
        marks: marks(&silent),
        part: Part::Questions,
        outlets: silent,
        content: Content::Question(Vec::new()),
    })
}

/// The marks of outlets, each once.
fn marks<'r>(outlets: &[(Spotted, &'r OutletReview)]) -> Vec<&'r str> {
    let mut seen = BTreeSet::new();
    outlets.iter().map(|(_, outlet)| &*outlet.mark).filter(|mark| seen.insert(*mark)).collect()
}

/// "item 5", "items 1 to 4 and 9".
pub(super) fn named(numbers: &[usize]) -> String {
    let runs = numbers.chunk_by(|a, b| a + 1 == *b).flat_map(|run| match run {
        [first, .., last] if last - first > 1 => vec![format!("{first} to {last}").into()],
        run => run.iter().map(|number| number.to_string().into()).collect(),
    });
    let runs: Vec<Arc<str>> = runs.collect();
    format!("{} {}", if numbers.len() == 1 { "item" } else { "items" }, listed(&runs, usize::MAX))
}
