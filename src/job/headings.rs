//! What a job says of its schedule: the file, the sheet in it, and what its own headings stand for.

use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Fields, Kind, Node};
use crate::schedule::{Columns, Meant, Schedule, Term, plain, term_named};

/// The schedule a job names.
#[derive(Debug)]
pub(super) struct ScheduleSaid {
    pub file: String,
    /// A sheet of a workbook, and where it is named.
    pub sheet: Option<(String, Location)>,
}

/// `schedule: file`, or `schedule: { file: x.xlsx, sheet: Plumbing }`; `places:` likewise.
pub(super) fn read_schedule(
    node: &Node,
    what: &'static str,
    problems: &mut Diagnostics,
) -> Option<ScheduleSaid> {
    if !matches!(node.kind, Kind::Map(_)) {
        return Some(ScheduleSaid { file: node.text(what, problems)?.to_owned(), sheet: None });
    }
    let mut fields = Fields::of(node, what, problems)?;
    let file = fields.need("file", problems).and_then(|it| it.text("file", problems)).map(str::to_owned);
    let sheet =
        fields.take("sheet").and_then(|it| Some((it.text("sheet", problems)?.to_owned(), it.place.clone())));
    fields.finish(problems);
    Some(ScheduleSaid { file: file?, sheet })
}

/// The headings of `columns:`.
#[derive(Debug, Default)]
pub(super) struct ColumnsSaid {
    pub names: Columns,
    places: Vec<(String, Location)>,
}

/// `columns: { "VB?": backflow device, "Spec ref": ignore }`: a heading or a fact for each of the schedule's own headings.
pub(super) fn read_columns(node: &Node, vocabulary: &[Term], problems: &mut Diagnostics) -> ColumnsSaid {
    const IGNORE: &str = "ignore";
    let mut said = ColumnsSaid::default();
    for (key, node) in node.map("columns", problems).unwrap_or_default() {
        let Some(word) = node.text("column", problems) else { continue };
        let meant = if word.trim().eq_ignore_ascii_case(IGNORE) {
            Some(Meant::Ignored)
        } else {
            term_named(word, vocabulary).map(Meant::Term)
        };
        match meant {
            None => {
                let names = vocabulary.iter().flat_map(|it| it.aliases.iter().copied()).chain([IGNORE]);
                let problem = node.problem("is not a heading a schedule can have, nor a fact");
                let problem = problem.nearest(word, names);
                let is_near = problem.nearest.is_some();
                let expected = "a heading or a fact that `coldsill facts` lists, or ignore";
                problems.push(if is_near { problem } else { problem.expected(expected) });
            }
            Some(meant) if said.names.add(&key.text, meant) => {
                said.places.push((key.text.clone(), key.place.clone()));
            }
            Some(_) => {
                let what = "is a heading that the job has named already";
                problems.push(Diagnostic::new(key.place.clone(), what).text(&key.text));
            }
        }
    }
    said
}

impl ColumnsSaid {
    /// Tells headings that the schedule does not have.
    pub(super) fn check(&self, schedule: &mut Schedule) {
        for (heading, place) in &self.places {
            let is_it = |it: &str| {
                it.trim().eq_ignore_ascii_case(heading.trim())
                    || !plain(heading).is_empty() && plain(it).starts_with(&plain(heading))
            };
            if !schedule.headings.iter().any(|it| is_it(it)) {
                let problem =
                    Diagnostic::new(place.clone(), "is not a heading of the schedule").text(heading);
                let names = schedule.headings.iter().map(AsRef::as_ref);
                let problem = problem.nearest(heading, names);
                schedule.problems.push(problem);
            }
        }
    }
}
