//! Diagnostics: located errors and warnings about the files a person brings.

mod case;
mod line;
mod location;
mod nearest;

pub use case::{capital, spaced_words, uncapital};
pub use line::{lines_of, quote};
pub use location::{Location, Position, SheetName, Span};
pub use nearest::nearest;

use std::fmt;

/// An error or warning at a location. Displays as one line.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Diagnostic {
    /// Where it is.
    pub location: Location,
    /// The original text, if the message is about one.
    pub text: Option<String>,
    /// What is wrong. Completes the sentence that starts with the text, or stands alone without one.
    pub message: String,
    /// What would have been right.
    pub expected: Option<String>,
    /// The nearest known name.
    pub nearest: Option<Box<str>>,
    /// The whole source line, once [`quote`] has added it.
    pub line: Option<Box<str>>,
}

impl Diagnostic {
    /// A diagnostic at a location.
    pub fn new(location: Location, message: impl Into<String>) -> Self {
        Self { location, text: None, message: message.into(), expected: None, nearest: None, line: None }
    }

    /// Adds the original text.
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

    /// Adds the nearest known name, if one is near enough to be meant.
    #[must_use]
    pub fn nearest<'a>(mut self, word: &str, names: impl IntoIterator<Item = &'a str>) -> Self {
        self.nearest = nearest(word, names).map(Into::into);
        self
    }

    /// Adds the nearest known name in place of what was expected, if one is near enough to be meant.
    #[must_use]
    pub fn nearest_instead<'a>(self, word: &str, names: impl IntoIterator<Item = &'a str>) -> Self {
        match nearest(word, names) {
            Some(nearest) => Self { nearest: Some(nearest.into()), expected: None, ..self },
            None => self,
        }
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: ", self.location)?;
        if let Some(text) = &self.text {
            write!(f, "\"{}\" ", shortened(text))?;
        }
        write!(f, "{}", self.message)?;
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

/// A text on one line, cut to 60 characters.
pub fn shortened(text: &str) -> String {
    const MOST: usize = 60;
    let mut out: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).take(MOST).collect();
    if text.chars().nth(MOST).is_some() {
        out.push('…');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;

    #[test]
    fn a_diagnostic_displays_as_one_located_line() {
        let file: Arc<str> = "schedule.csv".into();
        let column: Arc<str> = "Wall".into();
        let diagnostic = Diagnostic::new(Location::cell(&file, 5, Some(&column)), "is not a wall")
            .text("rim\njoist")
            .nearest("rim-jiost", ["slab", "rim-joist"]);
        assert_eq!(
            diagnostic.to_string(),
            "schedule.csv, row 5, column \"Wall\": \"rim joist\" is not a wall; did you mean \"rim-joist\"?"
        );
    }
}
