//! What to order after remedies: outlets alike in what tells them apart for a supplier, other work, and what cannot be
//! ordered yet.

use super::{Change, Findings, Open, OutletReview, Remedy, Review, Shown};
use crate::expr::Value;
use crate::ruleset::Outcome;
use std::sync::Arc;

/// What to order for a review.
#[derive(Clone, Debug)]
pub struct Orders<'r> {
    /// Outlets to order, alike together, in the order of the schedule.
    pub items: Vec<Item<'r>>,
    /// Changes besides the outlet itself, alike together.
    pub work: Vec<Work<'r>>,
    /// Rows that cannot be ordered yet.
    pub waiting: Vec<Waiting<'r>>,
}

/// One kind of outlet to order.
#[derive(Clone, Debug)]
pub struct Item<'r> {
    /// What tells it apart: model, kind, length, barrel, device.
    pub facts: &'r [Shown],
    /// Rows that order it, alike together.
    pub lines: Vec<Line<'r>>,
}

/// Rows that are specified alike and change alike.
#[derive(Clone, Debug)]
pub struct Line<'r> {
    /// What they are specified as.
    pub specified: &'r [Shown],
    /// The remedy they follow; `None` if ordered as specified.
    pub remedy: Option<&'r Remedy>,
    /// The rows.
    pub rows: Vec<&'r OutletReview>,
}

/// A change that is no order of an outlet.
#[derive(Clone, Debug)]
pub struct Work<'r> {
    /// The remedy, and which of its changes.
    pub remedy: &'r Remedy,
    /// Index of the change.
    pub change: usize,
    /// The rows.
    pub rows: Vec<&'r OutletReview>,
}

/// A row that cannot be ordered yet.
#[derive(Clone, Debug)]
pub struct Waiting<'r> {
    /// The row.
    pub row: &'r OutletReview,
    /// Why.
    pub why: Why,
}

/// Why a row cannot be ordered yet.
#[derive(Clone, Debug, PartialEq)]
pub enum Why {
    /// Rules, by number, wait for facts: their headings.
    Asks(Vec<(Arc<str>, Vec<Arc<str>>)>),
    /// Rules, by number, ask for a revision, and no change was proven.
    NoRemedy(Vec<Arc<str>>),
    /// Facts, by heading, that a supplier needs are not stated.
    Lacks(Vec<Arc<str>>),
    /// Something is not computed for such an outlet: why.
    NotComputed(Arc<str>),
}

/// How many outlets some rows state, and how many of the rows state none.
pub fn count<'r>(rows: impl IntoIterator<Item = &'r OutletReview>) -> (f64, usize) {
    rows.into_iter().fold((0.0, 0), |(sum, without), row| match row.quantity {
        Some(quantity) => (sum + quantity, without),
        None => (sum, without + 1),
    })
}

/// The order list of a review. A row follows the first of its remedies; one that waits for an answer is not ordered.
pub fn orders(review: &Review) -> Orders<'_> {
    let mut orders = Orders { items: Vec::new(), work: Vec::new(), waiting: Vec::new() };
    for row in &review.outlets {
        match choose(&row.findings) {
            Ok(remedy) => orders.add(row, remedy),
            Err(why) => orders.waiting.push(Waiting { row, why }),
        }
    }
    orders
}

/// The remedy of an outlet, if it needs one; or why it cannot be ordered.
fn choose(findings: &Findings) -> Result<Option<&Remedy>, Why> {
    let with = |outcome| findings.comments.iter().filter(move |comment| comment.outcome == outcome);
    let revise: Vec<Arc<str>> = with(Outcome::Revise).map(|comment| comment.rule.number.clone()).collect();
    let remedy = findings.remedies.first().filter(|_| !revise.is_empty());
    if remedy.is_none() && !revise.is_empty() {
        return Err(Why::NoRemedy(revise));
    }
    // No answer helps where such an outlet is not computed.
    let absent = with(Outcome::Clarify).filter_map(|comment| comment.open.as_ref()).find_map(|open| {
        let (_, why) = open.absent.first()?;
        open.missing.is_empty().then(|| why.clone())
    });
    if let (None, Some(why)) = (remedy, absent) {
        return Err(Why::NotComputed(why));
    }
    let asks: Vec<(Arc<str>, Vec<Arc<str>>)> = match remedy {
        Some(remedy) => remedy.leaves.clone(),
        None => with(Outcome::Clarify)
            .map(|comment| (comment.rule.number.clone(), asked(comment.open.as_ref(), &comment.rule.title)))
            .collect(),
    };
    if !asks.is_empty() {
        return Err(Why::Asks(asks));
    }
    let lacks = lacking(remedy.map_or(&findings.order, |remedy| &remedy.order));
    if lacks.is_empty() { Ok(remedy) } else { Err(Why::Lacks(lacks)) }
}

/// Headings of what an open comment waits for, or else what its rule is about.
pub(super) fn asked(open: Option<&Open>, title: &Arc<str>) -> Vec<Arc<str>> {
    let missing = open.into_iter().flat_map(|open| &open.missing).map(|(_, _, heading)| heading);
    let absent = open.into_iter().flat_map(|open| &open.absent).map(|(heading, _)| heading);
    let headings: Vec<Arc<str>> = missing.chain(absent).cloned().collect();
    if headings.is_empty() { vec![title.clone()] } else { headings }
}

/// Headings of what a supplier needs and nobody states. A model says all of it.
fn lacking(order: &[Shown]) -> Vec<Arc<str>> {
    let has = |name: &str| order.iter().any(|fact| &*fact.name == name && fact.value.is_ok());
    let is = |name: &str, word: &str| {
        order.iter().any(|fact| &*fact.name == name && fact.value == Ok(Value::Text(word.into())))
    };
    let needs: &[&str] = match () {
        () if has("outlet.model") => &[],
        () if is("outlet.closes", "inside") => &["outlet.nominal_length", "outlet.barrel"],
        () if is("outlet.kind", "yard hydrant") => &["outlet.bury_depth"],
        () => &["outlet.kind"],
    };
    let heading = |name: &&str| crate::facts::entry_named(name).map(|entry| entry.heading.clone());
    needs.iter().filter(|name| !has(name)).filter_map(heading).collect()
}

impl<'r> Orders<'r> {
    fn add(&mut self, row: &'r OutletReview, remedy: Option<&'r Remedy>) {
        let specified = &*row.findings.order;
        let facts = remedy.map_or(specified, |remedy| &*remedy.order);
        let known = self.items.iter().position(|item| alike(item.facts, facts));
        let item = known.unwrap_or_else(|| {
            self.items.push(Item { facts, lines: Vec::new() });
            self.items.len() - 1
        });
        let lines = &mut self.items[item].lines;
        let is_it = |line: &&mut Line<'_>| {
            alike(line.specified, specified) && changes(line.remedy).eq(changes(remedy))
        };
        match lines.iter_mut().find(is_it) {
            Some(line) => line.rows.push(row),
            None => lines.push(Line { specified, remedy, rows: vec![row] }),
        }
        let Some(remedy) = remedy else { return };
        for (change, _) in remedy.changes.iter().enumerate().filter(|(_, change)| !change.is_order) {
            let own = key(&remedy.changes[change]);
            match self.work.iter_mut().find(|work| key(&work.remedy.changes[work.change]) == own) {
                Some(work) => work.rows.push(row),
                None => self.work.push(Work { remedy, change, rows: vec![row] }),
            }
        }
    }
}

fn changes(remedy: Option<&Remedy>) -> impl Iterator<Item = (&'static str, Vec<Option<&str>>)> {
    remedy.into_iter().flat_map(|remedy| &remedy.changes).map(key)
}

/// What makes two changes one: their name and the values they give.
fn key(change: &Change) -> (&'static str, Vec<Option<&str>>) {
    (change.name, change.cells.iter().map(|(_, _, text)| text.as_deref()).collect())
}

/// Whether a supplier takes two outlets for one.
fn alike(a: &[Shown], b: &[Shown]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| a.name == b.name && a.value == b.value)
}
