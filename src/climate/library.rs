//! The climates there are: those built in, and a person's own beside them or in their place.

use super::own::LeftOut;
use super::place::{Climate, Whose, read_library_file};
use crate::diag::{Diagnostic, Diagnostics, quote};
use crate::input::{text, yaml};
use std::sync::Arc;

/// Climates in the order of their files; no two have one id.
#[derive(Clone, Debug, Default)]
pub struct Library {
    climates: Vec<Arc<Climate>>,
    /// Of a person's own, places that cannot be had.
    pub(super) left_out: Vec<LeftOut>,
}

impl Library {
    /// Reads library files, given as name and bytes. All problems of all files come at once.
    pub fn read<'f>(files: impl IntoIterator<Item = (&'f str, &'f [u8])>) -> Result<Self, Diagnostics> {
        let mut problems = Diagnostics::new();
        let mut climates: Vec<Arc<Climate>> = Vec::new();
        for (name, bytes) in files {
            let before = problems.len();
            match text::decode(name, bytes).and_then(|it| yaml::parse(name, it)) {
                Ok(node) => {
                    for climate in read_library_file(&node, &mut problems) {
                        if climates.iter().any(|it| it.id == climate.id) {
                            problems.push(taken(&climate));
                        } else {
                            climates.push(Arc::new(climate));
                        }
                    }
                }
                Err(problem) => problems.push(problem),
            }
            quote(&mut problems[before..], name, &String::from_utf8_lossy(bytes));
        }
        if problems.is_empty() { Ok(Self { climates, left_out: Vec::new() }) } else { Err(problems) }
    }

    /// The same with a person's own: each beside those there are, or in place of one built in that has its id. Two of a
    /// person's own with one id are a problem, unless they say the same. What is wrong with any is a problem.
    #[must_use]
    pub fn with_own(&self, own: Vec<Result<Climate, LeftOut>>, problems: &mut Diagnostics) -> Self {
        problems.extend(own.iter().filter_map(|it| it.as_ref().err()).flat_map(|it| it.problems.clone()));
        self.with_readable_own(own, problems)
    }

    /// The same, and a place with a problem is left out: it is not found, and [`Library::left_out`] tells it.
    #[must_use]
    pub fn with_readable_own(&self, own: Vec<Result<Climate, LeftOut>>, problems: &mut Diagnostics) -> Self {
        let mut all = self.climates.clone();
        let mut left_out = self.left_out.clone();
        for read in own {
            let mut climate = match read {
                Ok(climate) => climate,
                Err(it) => {
                    left_out.push(it);
                    continue;
                }
            };
            let Some(other) = all.iter_mut().find(|it| it.id.to_lowercase() == climate.id.to_lowercase())
            else {
                all.push(Arc::new(climate));
                continue;
            };
            if other.whose == Whose::BuiltIn {
                climate.whose = Whose::InPlaceOfBuiltIn;
                *other = Arc::new(climate);
            } else if !other.says_the_same_as(&climate) {
                let expected = format!("an id of its own: a place of {} has this one", other.at.file);
                problems.push(taken(&climate).expected(expected));
            }
        }
        Self { climates: all, left_out }
    }

    /// What is wrong with the places that were left out.
    pub fn left_out(&self) -> impl Iterator<Item = &Diagnostic> {
        self.left_out.iter().flat_map(|it| &it.problems)
    }

    /// All climates.
    pub fn iter(&self) -> impl Iterator<Item = &Arc<Climate>> {
        self.climates.iter()
    }
}

fn taken(climate: &Climate) -> Diagnostic {
    Diagnostic::new(climate.at.clone(), "is an id that another place has").text(&*climate.id)
}
