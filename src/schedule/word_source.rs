//! A text with words, and where it is.

use super::description::Description;
use super::text::Plain;
use super::types::{Cell, Row};
use super::vocabulary::{Subject, Term};
use crate::diag::Location;
use std::sync::Arc;

/// What a cell of words is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Role {
    /// The name of a kind, read already: what it says of where the outlet closes is only compared.
    Name,
    /// A description.
    Description,
    /// A note: its numbers may belong to something else.
    Note,
    /// A numbered note that the row cites.
    Cited,
    /// A finish or a handle, which is kept as it is written: nothing else is read from it.
    Trim,
    /// Words of another row, for what this one does not say itself.
    Inherited,
    /// A cell of another column with more than its fact, and what may be read from it.
    Mixed(&'static [Subject]),
}

/// A parsed text and its location.
pub(super) struct Source {
    pub text: Arc<str>,
    pub location: Location,
    pub description: Arc<Description>,
    pub role: Role,
}

impl Source {
    pub(super) fn may_state(&self, term: &Term) -> bool {
        let Role::Mixed(allowed) = self.role else { return true };
        allowed.is_empty() || term.subject.is_some_and(|subject| allowed.contains(&subject))
    }
}

/// A text of a row that a person wrote in words.
pub(super) struct Words<'r> {
    /// What it is about.
    pub subject: Subject,
    /// As it is written, and spelled plainly.
    pub text: &'r str,
    pub plain: Plain,
    pub location: &'r Location,
}

/// The texts of a row that a person wrote in words.
pub(super) fn own_words<'r>(row: &'r Row, sources: &'r [Source], vocabulary: &[Term]) -> Vec<Words<'r>> {
    let words = |subject, text: &'r str, location| Words { subject, text, plain: Plain::of(text), location };
    // Of a cell that names the kind only the kind is left in the row.
    let kinds = sources.iter().filter(|it| matches!(it.role, Role::Name | Role::Mixed([])));
    let kinds = kinds.map(|it| words(Subject::Kind, &it.text, &it.location));
    let own = row.cells.iter().filter_map(|cell| {
        const READ: [Subject; 5] =
            [Subject::Description, Subject::Location, Subject::Notes, Subject::Finish, Subject::Handle];
        let subject = vocabulary[cell.term].subject.filter(|it| READ.contains(it))?;
        Some(words(subject, &cell.text, &cell.location))
    });
    kinds.chain(own).collect()
}

/// A column and the words that contradict it, for people.
pub(super) fn contradicted(heading: &str, column: &Cell, words: &str, location: &Location) -> String {
    format!("{heading}: {}, {}", quoted(&column.text, &column.location), quoted(words, location))
}

/// Words with the column they are in.
pub(super) fn quoted(words: &str, location: &Location) -> String {
    match location.heading() {
        Some(column) => format!("\"{words}\" under {column}"),
        None => format!("\"{words}\" in {location}"),
    }
}
