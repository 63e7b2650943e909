//! One kind of problem message for everything people bring: where it stands, what stands there, what was expected,
//! and the nearest name.

mod case;
mod line;

pub use case::{capital, uncapital};
pub use line::{lines_of, quote};

use std::fmt;
use std::sync::Arc;

/// Where in a file something stands.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Position {
    /// The file as a whole.
    Whole,
    /// A line and a character of a text file, both counted from 1.
    Line(u32, u32),
    /// A row of a table as a spreadsheet numbers it, and the column's own heading where one is meant.
    Row(u32, Option<Arc<str>>),
}

/// A file and a spot in it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Location {
    /// The file as the person named it.
    pub file: Arc<str>,
    /// Where in it.
    pub spot: Position,
}

impl Location {
    /// The file as a whole.
    pub fn whole(file: &str) -> Self {
        Self { file: file.into(), spot: Position::Whole }
    }

    /// A line and character of a text file, counted from 1.
    pub fn line(file: &Arc<str>, line: u32, column: u32) -> Self {
        Self { file: file.clone(), spot: Position::Line(line, column) }
    }

    /// A row of a table, and the heading of a column.
    pub fn cell(file: &Arc<str>, row: u32, column: Option<&Arc<str>>) -> Self {
        Self { file: file.clone(), spot: Position::Row(row, column.cloned()) }
    }
}

impl Location {
    /// The row of a table, where it stands in one.
    pub fn row(&self) -> Option<u32> {
        match self.spot {
            Position::Row(row, _) => Some(row),
            Position::Line(..) | Position::Whole => None,
        }
    }
}

impl Location {
    /// The heading of a column, where it stands in one.
    pub fn heading(&self) -> Option<&Arc<str>> {
        match &self.spot {
            Position::Row(_, column) => column.as_ref(),
            Position::Line(..) | Position::Whole => None,
        }
    }
}

impl fmt::Display for Location {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.spot {
            Position::Whole => write!(f, "{}", self.file),
            Position::Line(line, column) => write!(f, "{}, line {line}, column {column}", self.file),
            Position::Row(row, None) => write!(f, "{}, row {row}", self.file),
            Position::Row(row, Some(column)) => write!(f, "{}, row {row}, column \"{column}\"", self.file),
        }
    }
}

/// Something wrong with what a person brought. Displays as one line.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Diagnostic {
    /// Where it stands.
    pub place: Location,
    /// The text that is wrong, as it stands there.
    pub text: Option<String>,
    /// What is wrong with it.
    pub what: String,
    /// What would have been right.
    pub expected: Option<String>,
    /// The nearest name that exists.
    pub nearest: Option<String>,
    /// The line of the file it stands on, whole, where the reader of the file gave it: see [`quote`].
    pub line: Option<Box<str>>,
}

impl Diagnostic {
    /// A problem at a place. `what` completes the sentence that starts with the text, or stands alone without one.
    pub fn new(place: Location, what: impl Into<String>) -> Self {
        Self { place, text: None, what: what.into(), expected: None, nearest: None, line: None }
    }

    /// Adds the text itself.
    #[must_use]
    pub fn text(mut self, text: impl Into<String>) -> Self {
        self.text = Some(text.into());
        self
    }

    /// Adds what would have been right.
    #[must_use]
    pub fn expected(mut self, expected: impl Into<String>) -> Self {
        self.expected = Some(expected.into());
        self
    }

    /// Adds the nearest of the names that exist, where one is near enough to be meant.
    #[must_use]
    pub fn nearest<'a>(mut self, word: &str, names: impl IntoIterator<Item = &'a str>) -> Self {
        self.nearest = nearest(word, names).map(str::to_owned);
        self
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: ", self.place)?;
        if let Some(text) = &self.text {
            write!(f, "\"{}\" ", shortened(text))?;
        }
        write!(f, "{}", self.what)?;
        if let Some(expected) = &self.expected {
            write!(f, "; expected {expected}")?;
        }
        if let Some(nearest) = &self.nearest {
            write!(f, "; did you mean \"{nearest}\"?")?;
        }
        Ok(())
    }
}

/// All errors and warnings found so far, in the order they were found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Diagnostics(Vec<Diagnostic>);

impl Diagnostics {
    /// Nothing found yet.
    pub const fn new() -> Self {
        Self(Vec::new())
    }

    /// Adds one.
    pub fn push(&mut self, diagnostic: Diagnostic) {
        self.0.push(diagnostic);
    }

    /// Takes the value out of a result; an error is added and leaves nothing.
    pub fn ok<T>(&mut self, result: Result<T, Diagnostic>) -> Option<T> {
        result.map_err(|diagnostic| self.push(diagnostic)).ok()
    }

    /// The value where nothing was found, otherwise all that was.
    pub fn or<T>(self, value: T) -> Result<T, Self> {
        if self.0.is_empty() { Ok(value) } else { Err(self) }
    }

    /// Moves all of another list to the end of this one.
    pub fn append(&mut self, other: &mut Self) {
        self.0.append(&mut other.0);
    }

    /// Keeps those that meet a condition.
    pub fn retain(&mut self, keep: impl FnMut(&Diagnostic) -> bool) {
        self.0.retain(keep);
    }

    /// Removes the last one.
    pub fn pop(&mut self) -> Option<Diagnostic> {
        self.0.pop()
    }

    /// Removes repetitions that follow one another.
    pub fn dedup(&mut self) {
        self.0.dedup();
    }

    /// Takes all out, and leaves none.
    pub fn take(&mut self) -> Self {
        std::mem::take(self)
    }
}

impl std::ops::Deref for Diagnostics {
    type Target = [Diagnostic];

    fn deref(&self) -> &[Diagnostic] {
        &self.0
    }
}

impl std::ops::DerefMut for Diagnostics {
    fn deref_mut(&mut self) -> &mut [Diagnostic] {
        &mut self.0
    }
}

impl Extend<Diagnostic> for Diagnostics {
    fn extend<I: IntoIterator<Item = Diagnostic>>(&mut self, diagnostics: I) {
        self.0.extend(diagnostics);
    }
}

impl FromIterator<Diagnostic> for Diagnostics {
    fn from_iter<I: IntoIterator<Item = Diagnostic>>(diagnostics: I) -> Self {
        Self(diagnostics.into_iter().collect())
    }
}

impl From<Vec<Diagnostic>> for Diagnostics {
    fn from(diagnostics: Vec<Diagnostic>) -> Self {
        Self(diagnostics)
    }
}

impl From<Diagnostic> for Diagnostics {
    fn from(diagnostic: Diagnostic) -> Self {
        Self(vec![diagnostic])
    }
}

impl<'d> IntoIterator for &'d Diagnostics {
    type Item = &'d Diagnostic;
    type IntoIter = std::slice::Iter<'d, Diagnostic>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

impl IntoIterator for Diagnostics {
    type Item = Diagnostic;
    type IntoIter = std::vec::IntoIter<Diagnostic>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

/// A person's text on one line, cut where it would drown the message.
pub fn shortened(text: &str) -> String {
    const MOST: usize = 60;
    let mut out: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).take(MOST).collect();
    if text.chars().nth(MOST).is_some() {
        out.push('…');
    }
    out
}

/// The name nearest to a word, where one is near enough to be meant. Case does not count; ties go to the first.
pub fn nearest<'a>(word: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    /// Below this a suggestion puzzles more than it helps.
    const NEAR_ENOUGH: f64 = 0.6;
    let word = word.to_lowercase();
    if word.chars().count() > 100 {
        return None;
    }
    let mut best: Option<(&str, f64)> = None;
    for name in names {
        let likeness = likeness(&word, &name.to_lowercase());
        if likeness >= NEAR_ENOUGH && best.is_none_or(|(_, most)| likeness > most) {
            best = Some((name, likeness));
        }
    }
    best.map(|(name, _)| name)
}

/// How alike two words are, 0 to 1. Of two names in one topic (`outlet.seat`) only what follows the topic counts.
fn likeness(a: &str, b: &str) -> f64 {
    let (a, b) = match (a.rsplit_once('.'), b.rsplit_once('.')) {
        (Some((topic, a)), Some((other, b))) if topic == other => (a, b),
        _ => (a, b),
    };
    strsim::normalized_damerau_levenshtein(a, b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_problem_reads_as_one_located_line() {
        let file: Arc<str> = "schedule.csv".into();
        let column: Arc<str> = "Wall".into();
        let problem = Diagnostic::new(Location::cell(&file, 5, Some(&column)), "is not a wall")
            .text("rim\njoist")
            .nearest("rim-jiost", ["slab", "rim-joist"]);
        assert_eq!(
            problem.to_string(),
            "schedule.csv, row 5, column \"Wall\": \"rim joist\" is not a wall; did you mean \"rim-joist\"?"
        );
    }

    #[test]
    fn a_word_like_nothing_gets_no_suggestion() {
        assert_eq!(nearest("gravel", ["copper", "brass"]), None);
        assert_eq!(nearest("outlet.seat", ["outlet.maker", "outlet.wall"]), None);
    }
}
