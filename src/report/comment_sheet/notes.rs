//! What stands below the table of a comment sheet: marks with different orders, notes for the drawings, what was assumed.

use super::{CommentSheet, TypeLine, row_text};
use crate::diag::capital;
use crate::facts;
use crate::report::comments::{Gathered, is_general};
use crate::report::sentences::complete;
use crate::report::words::{alone, called, listed};
use crate::review::{Review, Spotted};
use crate::units::{System, figures};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Marks with different orders that are named.
const MOST_SPLIT: usize = 4;

/// A note for the drawings.
pub(in crate::report) struct NoteLine {
    /// What to do, or else what the matter is.
    pub title: String,
    /// The number of its rule.
    pub number: Arc<str>,
    /// Rows it is for.
    pub rows: Vec<Arc<str>>,
    /// Whether it is for every row.
    pub of_all: bool,
}

impl NoteLine {
    /// "all rows", "rows 2, 3 and 5".
    pub fn where_to(&self, most: usize) -> String {
        match &self.rows[..] {
            _ if self.of_all => "all rows".into(),
            [row] => format!("row {row}"),
            rows => format!("rows {}", listed(rows, most)),
        }
    }
}

impl CommentSheet<'_> {
    /// "HB-1 takes different orders by row: give each a mark of its own." for each such mark.
    pub fn split(&self) -> Option<String> {
        let orders = |line: &TypeLine<'_>| {
            line.findings.remedies.first().is_some_and(|remedy| remedy.changes.iter().any(|it| it.is_order))
        };
        // Each mark with the types that have it, in the order of the sheet.
        let (mut types, mut known) = (Vec::<(&Arc<str>, Vec<&TypeLine<'_>>)>::new(), BTreeMap::new());
        for line in &self.types {
            for mark in &line.all_marks {
                let at = *known.entry(mark).or_insert(types.len());
                if at == types.len() {
                    types.push((mark, Vec::new()));
                }
                types[at].1.push(line);
            }
        }
        let takes_different = |own: &[&TypeLine<'_>]| {
            own.iter().any(|line| line.action != own[0].action) && own.iter().any(|line| orders(line))
        };
        let marks: Vec<Arc<str>> =
            types.iter().filter(|(_, own)| takes_different(own)).map(|(mark, _)| Arc::clone(mark)).collect();
        let verb = if marks.len() == 1 { "takes" } else { "take" };
        let named = listed(&marks, MOST_SPLIT);
        (!marks.is_empty())
            .then(|| format!("{named} {verb} different orders by row: give each its own mark."))
    }
}

pub(super) fn notes(gathered: &[Gathered<'_>], review: &Review, system: System) -> Vec<NoteLine> {
    let mut rules: Vec<(&Gathered<'_>, Vec<Spotted>)> = Vec::new();
    for note in gathered.iter().filter(|it| is_general(it.rule.once, it.outcome)) {
        let rows = note.outlets.iter().map(|(_, row)| *row);
        match rules.iter_mut().find(|(known, _)| known.rule.id == note.rule.id) {
            Some((_, known)) => known.extend(rows),
            None => rules.push((note, rows.collect())),
        }
    }
    let line = |(note, mut rows): (&Gathered<'_>, Vec<Spotted>)| {
        rows.sort();
        NoteLine {
            title: complete(&note.comment.action, system)
                .next()
                .map_or_else(|| note.rule.title.to_string(), |action| capital(&action)),
            number: note.rule.number.clone(),
            of_all: rows.len() == review.outlets.len(),
            rows: rows.iter().map(row_text).collect(),
        }
    };
    rules.into_iter().map(line).collect()
}

pub(super) fn assumed(review: &Review, system: System) -> Vec<(Arc<str>, Vec<Arc<str>>)> {
    let mut lines: Vec<(Arc<str>, Vec<Arc<str>>)> = Vec::new();
    for assumption in &review.assumed {
        let fact = &assumption.fact;
        let text = match &*assumption.why {
            // One rule for all lengths.
            facts::SEAT_BY_USUAL_OFFSET => figures(facts::USUAL_SEAT, system),
            facts::SEAT_AT_FACE => format!("{} at the face", alone(fact, system)),
            _ => alone(fact, system),
        };
        let text: Arc<str> = text.into();
        match lines.iter_mut().find(|(heading, _)| **heading == *called(fact)) {
            Some((_, values)) if values.contains(&text) => {}
            Some((_, values)) => values.push(text),
            None => lines.push((called(fact).into(), vec![text])),
        }
    }
    lines
}
