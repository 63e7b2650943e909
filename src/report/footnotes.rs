//! Numbered sources of a page.

use super::blocks::Blocks;
use crate::physics::Standing;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// Marks a source whose section or value was not checked against the adopted edition.
const UNCHECKED: char = '†';

/// Sources of a page, each once, numbered in the order they are first cited.
#[derive(Default)]
pub(super) struct Footnotes<'s> {
    numbers: BTreeMap<Cow<'s, str>, usize>,
    sources: Vec<Cow<'s, str>>,
}

impl<'s> Footnotes<'s> {
    /// The mark of a source: "[3]".
    pub(super) fn cite(&mut self, source: impl Into<Cow<'s, str>>) -> String {
        let source = source.into();
        let number = *self.numbers.entry(source.clone()).or_insert_with(|| {
            self.sources.push(source);
            self.sources.len()
        });
        format!("[{number}]")
    }

    /// The mark of a source with a standing.
    pub(super) fn cite_as(&mut self, source: &'s str, standing: Standing) -> String {
        match standing {
            Standing::FromMemory => self.cite(format!("{source} {UNCHECKED}")),
            Standing::Seen | Standing::Recomputed => self.cite(source),
        }
    }

    /// The list of sources under a heading, if any was cited.
    pub(super) fn list(&self, out: &mut Blocks, title: &str) {
        if self.sources.is_empty() {
            return;
        }
        out.heading(title);
        let column = format!("[{}] ", self.sources.len()).len();
        for (source, number) in self.sources.iter().zip(1..) {
            out.labelled_at(column, &format!("[{number}]"), source);
        }
        if self.sources.iter().any(|source| source.contains(UNCHECKED)) {
            out.paragraph(&format!("{UNCHECKED} Section or value not checked against the adopted edition."));
        }
    }
}
