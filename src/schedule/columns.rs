//! Headings a job adds to those of the vocabulary.

use super::text::plain;

/// The meaning of a column in a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meant {
    /// It states the term, by index.
    Term(usize),
    /// It is not read.
    Ignored,
}

/// Headings with their meaning, in the order of the job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Columns(Vec<(String, Meant)>);

impl Columns {
    /// Adds a heading; `false` if it is there already.
    pub fn add(&mut self, heading: &str, meant: Meant) -> bool {
        let is_new = self.of(heading).is_none();
        if is_new {
            self.0.push((heading.trim().to_owned(), meant));
        }
        is_new
    }

    /// The meaning of a heading. Case is ignored, and so is punctuation unless there is nothing else.
    pub fn of(&self, heading: &str) -> Option<Meant> {
        let wanted = heading.trim().to_lowercase();
        let words = plain(heading);
        let is_it = |name: &str| name.to_lowercase() == wanted || !words.is_empty() && plain(name) == words;
        // `VB` and `VB?` may be two columns: an exact match comes first.
        let exact = self.0.iter().find(|(name, _)| name.to_lowercase() == wanted);
        exact.or_else(|| self.0.iter().find(|(name, _)| is_it(name))).map(|(_, meant)| *meant)
    }

    /// The headings.
    pub fn headings(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(name, _)| name.as_str())
    }
}
