//! What the headings of a person's own schedules stand for: names a job adds to those of the vocabulary.

use super::{Term, plain};

/// What a job says of a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meant {
    /// It states the term, by index.
    Term(usize),
    /// It is not to be read.
    Ignored,
}

/// Headings with what they are meant to be, in the order of the job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Columns(Vec<(String, Meant)>);

impl Columns {
    /// Adds a heading, unless it stands there already.
    pub fn add(&mut self, heading: &str, meant: Meant) -> bool {
        let is_new = self.of(heading).is_none();
        if is_new {
            self.0.push((heading.trim().to_owned(), meant));
        }
        is_new
    }

    /// What a heading is meant to be. Case counts nothing, nor does punctuation where there is anything else.
    pub fn of(&self, heading: &str) -> Option<Meant> {
        let wanted = heading.trim().to_lowercase();
        let words = plain(heading);
        let is_it = |name: &str| name.to_lowercase() == wanted || !words.is_empty() && plain(name) == words;
        // `VB` and `VB?` may be two columns: the one written so comes first.
        let exact = self.0.iter().find(|(name, _)| name.to_lowercase() == wanted);
        exact.or_else(|| self.0.iter().find(|(name, _)| is_it(name))).map(|(_, meant)| *meant)
    }

    /// The headings.
    pub fn headings(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(name, _)| name.as_str())
    }
}

/// The term of a heading, or of a fact's name with or without its topic.
pub fn term_named(word: &str, vocabulary: &[Term]) -> Option<usize> {
    let wanted = plain(word);
    let is_alias = |term: &Term| term.aliases.iter().any(|alias| plain(alias) == wanted);
    let is_fact = |term: &Term| {
        let short = term.fact.rsplit('.').next().unwrap_or_default();
        plain(term.fact) == wanted || plain(short) == wanted
    };
    let by = |is_it: &dyn Fn(&Term) -> bool| vocabulary.iter().position(is_it);
    if wanted.is_empty() { None } else { by(&is_alias).or_else(|| by(&is_fact)) }
}
