//! A text with words, and where it is.

use super::description::Description;
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
    /// Words of another row, for what this one does not say itself.
    Inherited,
    /// A cell of another column with more than its fact, and what may be read from it.
    Mixed(&'static [Subject]),
}

/// A parsed text and its location.
pub(super) struct Source {
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

/// Words with the column they are in.
pub(super) fn quoted(words: &str, location: &Location) -> String {
    match location.heading() {
        Some(column) => format!("\"{words}\" under {column}"),
        None => format!("\"{words}\" in {location}"),
    }
}
