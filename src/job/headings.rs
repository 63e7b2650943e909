//! The files a job names, and what the schedule's own headings mean.

use super::Vocabulary;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Fields, Key, Kind, Node};
use crate::schedule::{Columns, Meant, Schedule, plain, term_named};

/// A file that a job names.
#[derive(Debug)]
pub(super) struct NamedFile {
    pub file: String,
    /// The sheet of a workbook, and where it is named.
    pub sheet: Option<(String, Location)>,
}

/// `schedule: file`, or `schedule: { file: x.xlsx, sheet: Plumbing }`; `places:` likewise.
pub(super) fn read_file(node: &Node, what: &'static str, errors: &mut Diagnostics) -> Option<NamedFile> {
    if !matches!(node.kind, Kind::Map(_)) {
        return Some(NamedFile { file: node.text(what, errors)?.to_owned(), sheet: None });
    }
    let mut fields = Fields::of(node, what, errors)?;
    let file = fields.required_text("file", errors).map(str::to_owned);
    let sheet = fields.optional("sheet");
    let sheet = sheet.and_then(|node| Some((node.text("sheet", errors)?.to_owned(), node.location.clone())));
    fields.finish(errors);
    Some(NamedFile { file: file?, sheet })
}

/// The headings of `columns:`.
#[derive(Debug, Default)]
pub(super) struct ColumnNames {
    pub names: Columns,
    places: Vec<(String, Location)>,
}

/// `columns: { "VB?": backflow device, "Spec ref": ignore }`: a heading or a fact for each of the schedule's own headings.
pub(super) fn read_columns(
    entries: &[(Key, Node)],
    vocabulary: &Vocabulary,
    errors: &mut Diagnostics,
) -> ColumnNames {
    const IGNORE: &str = "ignore";
    let mut columns = ColumnNames::default();
    for (key, node) in entries {
        let Some(word) = node.text("column", errors) else { continue };
        let meant = if word.trim().eq_ignore_ascii_case(IGNORE) {
            Some(Meant::Ignored)
        } else {
            term_named(word, vocabulary).map(Meant::Term)
        };
        match meant {
            None => {
                let error = node.problem("is not a heading a schedule can have, nor a fact");
                let error = error.nearest(word, vocabulary.headings().chain([IGNORE]));
                let is_near = error.nearest.is_some();
                let expected = "a heading or a fact that `coldsill facts` lists, or ignore";
                errors.push(if is_near { error } else { error.expected(expected) });
            }
            Some(meant) if columns.names.add(&key.text, meant) => {
                columns.places.push((key.text.clone(), key.location.clone()));
            }
            Some(_) => {
                let error =
                    Diagnostic::new(key.location.clone(), "is a heading that the job has already named");
                errors.push(error.text(&key.text));
            }
        }
    }
    columns
}

impl ColumnNames {
    /// Reports headings that the schedule does not have.
    pub(super) fn check(&self, schedule: &mut Schedule) {
        for (heading, location) in &self.places {
            let is_it = |it: &str| {
                it.trim().eq_ignore_ascii_case(heading.trim())
                    || !plain(heading).is_empty() && plain(it).starts_with(&plain(heading))
            };
            if !schedule.headings.iter().any(|it| is_it(it)) {
                let problem =
                    Diagnostic::new(location.clone(), "is not a heading of the schedule").text(heading);
                let names = schedule.headings.iter().map(AsRef::as_ref);
                let problem = problem.nearest(heading, names);
                schedule.problems.push(problem);
            }
        }
    }
}
