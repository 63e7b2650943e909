//! Lines of assumed facts: one for each fact and reason, with all values assumed.

use super::WIDTH;
use super::page::labelled_at;
use super::words::{called, listed, value};
use crate::review::Shown;
use crate::units::{System, figures};
use std::sync::Arc;

/// Marks before the rest is only counted.
const MOST_MARKS: usize = 4;

/// An assumed fact.
pub(super) struct Taken<'r> {
    pub fact: &'r Shown,
    pub why: &'r Arc<str>,
    /// Marks of the outlets it is assumed for; empty if it is assumed for all.
    pub marks: &'r [Arc<str>],
}

/// A line a fact and reason.
pub(super) fn lines(out: &mut String, taken: &[Taken<'_>], system: System) {
    let mut entries: Vec<(&Taken<'_>, Vec<Arc<str>>)> = Vec::new();
    for it in taken {
        let mut text = value(it.fact, system);
        if !it.marks.is_empty() {
            text.push_str(&format!(" ({})", listed(it.marks, MOST_MARKS)));
        }
        match entries.iter_mut().find(|(of, _)| of.fact.name == it.fact.name && of.why == it.why) {
            Some((_, values)) => values.push(text.into()),
            None => entries.push((it, vec![text.into()])),
        }
    }
    let label = entries.iter().map(|(it, _)| called(it.fact).chars().count()).max().unwrap_or(0) + 2;
    for (it, values) in entries {
        let text = format!("{}: {}", listed(&values, usize::MAX), figures(it.why, system));
        out.push_str(&labelled_at(label, called(it.fact), &text, WIDTH));
    }
}
