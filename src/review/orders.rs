//! What to order after remedies: outlets alike in what tells them apart for a supplier, other work, what the designer has
//! to decide, and what cannot be ordered yet.

use super::{Change, Findings, Open, OutletReview, Remedy, Review, Shown};
use crate::expr::Value;
use crate::facts::Origin;
use crate::ruleset::Outcome;
use std::sync::Arc;

const INLET: &str = "outlet.inlet";
const NOMINAL_LENGTH: &str = "outlet.nominal_length";
/// The widest tolerance of a length that is ordered, m: 1/2 in.
const TOLERANCE: f64 = 0.0127 + 1e-9;
const SPACE: &str = "outlet.space_behind";

/// What to order for a review.
#[derive(Clone, Debug, Default)]
pub struct Orders<'r> {
    /// Outlets to order, alike together, in the order of the schedule.
    pub items: Vec<Item<'r>>,
    /// Changes besides the outlet itself, alike together.
    pub work: Vec<Work<'r>>,
    /// Rows to hold until the designer has decided a change of the piping.
    pub held: Vec<Line<'r>>,
    /// Rows that can be ordered once their quantity is stated.
    pub uncounted: Vec<Line<'r>>,
    /// Rows that cannot be ordered for another reason.
    pub waiting: Vec<Waiting<'r>>,
}

/// One kind of outlet to order.
#[derive(Clone, Debug)]
pub struct Item<'r> {
    /// Rows that order it, alike together; at least one.
    pub lines: Vec<Line<'r>>,
}

/// Rows that are specified alike and change alike.
#[derive(Clone, Debug)]
pub struct Line<'r> {
    /// What they are specified as.
    pub specified: &'r [Shown],
    /// The remedy they follow; `None` if ordered as specified.
    pub remedy: Option<&'r Remedy>,
    /// The space at the inlet, if the length was decided with an assumed one.
    pub assumed_space: Option<&'r Shown>,
    /// The rows.
    pub rows: Vec<&'r OutletReview>,
}

impl<'r> Line<'r> {
    /// What tells which outlet to order: model, kind, length, barrel, device.
    pub fn order(&self) -> &'r [Shown] {
        self.remedy.map_or(self.specified, |remedy| &remedy.order)
    }
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

/// How many outlets some rows state; `None` if one of them states none.
pub fn count<'r>(rows: impl IntoIterator<Item = &'r OutletReview>) -> Option<f64> {
    rows.into_iter().map(|row| row.quantity).sum()
}

/// The inlet in the words of the schedule, without figures: "MIP"; its kind if nobody words it.
pub fn inlet_type(order: &[Shown]) -> Option<String> {
    /// Words that say nothing of the type.
    const IDLE: [&str; 8] = ["inlet", "connection", "conn", "x", "in", "inch", "size", "with"];
    let fact = order.iter().find(|fact| &*fact.name == INLET)?;
    let Ok(Value::Text(kind)) = &fact.value else { return None };
    let is_word = |word: &&str| {
        !word.is_empty()
            && word.chars().all(|c| c.is_alphabetic() || c == '-')
            && !IDLE.contains(&&*word.to_lowercase())
    };
    let written = fact.origin.written().map_or("", |text| text);
    let words: Vec<&str> = written.split([' ', '/', ',', '(', ')']).filter(is_word).collect();
    let words = words.join(" ");
    Some(if words.is_empty() || words.eq_ignore_ascii_case(kind) { kind.to_string() } else { words })
}

/// The order list of a review. A row follows the first of its remedies; one that waits for an answer is not ordered.
pub fn orders(review: &Review) -> Orders<'_> {
    let mut orders = Orders::default();
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
    let mut asks: Vec<(Arc<str>, Vec<Arc<str>>)> = match remedy {
        Some(remedy) => remedy.leaves.clone(),
        None => with(Outcome::Clarify)
            .map(|comment| (comment.rule.number.clone(), asked(comment.open.as_ref(), &comment.rule.title)))
            .collect(),
    };
    if !asks.is_empty() {
        // A title says nothing beside the facts that others wait for.
        let is_title = |(number, headings): &(Arc<str>, Vec<Arc<str>>)| {
            findings
                .comments
                .iter()
                .any(|comment| comment.rule.number == *number && **headings == [comment.rule.title.clone()])
        };
        if !asks.iter().all(is_title) {
            asks.retain(|ask| !is_title(ask));
        }
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
    // Of a range of lengths none can be ordered.
    let is_one = |fact: &Shown| match &fact.value {
        Ok(Value::Quantity(length)) if &*fact.name == NOMINAL_LENGTH => length.high - length.low <= TOLERANCE,
        value => value.is_ok(),
    };
    let has = |name: &str| order.iter().any(|fact| &*fact.name == name && is_one(fact));
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
    /// Whether every row can be ordered.
    pub fn is_complete(&self) -> bool {
        self.held.is_empty() && self.uncounted.is_empty() && self.waiting.is_empty()
    }

    fn add(&mut self, row: &'r OutletReview, remedy: Option<&'r Remedy>) {
        let line = Line {
            specified: &row.findings.order,
            remedy,
            assumed_space: assumed_space(&row.findings, remedy),
            rows: vec![row],
        };
        if remedy.is_some_and(|remedy| remedy.changes.iter().any(|change| change.is_of_designer)) {
            return put(&mut self.held, line);
        }
        if row.quantity.is_none() {
            return put(&mut self.uncounted, line);
        }
        match self.items.iter_mut().find(|item| alike(item.lines[0].order(), line.order())) {
            Some(item) => put(&mut item.lines, line),
            None => self.items.push(Item { lines: vec![line] }),
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

/// Adds the rows of a line to the one like it.
fn put<'r>(lines: &mut Vec<Line<'r>>, line: Line<'r>) {
    let space = |line: &Line<'_>| line.assumed_space.map(|fact| fact.value.clone());
    let is_it = |known: &&mut Line<'_>| {
        alike(known.specified, line.specified)
            && changes(known.remedy).eq(changes(line.remedy))
            && space(known) == space(&line)
    };
    match lines.iter_mut().find(is_it) {
        Some(known) => known.rows.extend(line.rows),
        None => lines.push(line),
    }
}

/// The space at the inlet of an outlet that closes inside, if it is assumed and its remedy does not state it.
fn assumed_space<'r>(findings: &'r Findings, remedy: Option<&Remedy>) -> Option<&'r Shown> {
    let order = remedy.map_or(&findings.order, |remedy| &remedy.order);
    let closes_inside = order
        .iter()
        .any(|fact| &*fact.name == "outlet.closes" && fact.value == Ok(Value::Text("inside".into())));
    let mut cells = remedy.into_iter().flat_map(|remedy| &remedy.changes).flat_map(|change| &change.cells);
    if !closes_inside || cells.any(|(name, ..)| &**name == SPACE) {
        return None;
    }
    let space = findings.facts.iter().find(|fact| &*fact.name == SPACE)?;
    (space.value.is_ok() && matches!(space.origin, Origin::Assumed(_))).then_some(space)
}

fn changes(remedy: Option<&Remedy>) -> impl Iterator<Item = (&'static str, Vec<Option<&str>>)> {
    remedy.into_iter().flat_map(|remedy| &remedy.changes).map(key)
}

/// What makes two changes one: their name and the values they give.
fn key(change: &Change) -> (&'static str, Vec<Option<&str>>) {
    (change.name, change.cells.iter().map(|(_, _, text)| text.as_deref()).collect())
}

/// Whether a supplier takes two outlets for one. MIP and FIP are both threaded.
fn alike(a: &[Shown], b: &[Shown]) -> bool {
    a.len() == b.len()
        && a.iter().zip(b).all(|(a, b)| a.name == b.name && a.value == b.value)
        && inlet_type(a) == inlet_type(b)
}
