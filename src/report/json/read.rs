//! What was understood of a schedule, for other programs.

use super::super::words::value;
use super::facts::{FactsJson, facts};
use super::values::{AsideJson, DiagnosticJson, LocationJson, NoteJson, UnusedJson, all};
use super::{PROGRAM, write};
use crate::review::{Blank, Column, InCommon, ReadOutlet, Understood};
use crate::units::{System, figures};
use schemars::JsonSchema;
use serde::{Serialize, Serializer};
use std::io;
use std::sync::Arc;

/// Version of the format.
const FORMAT: u32 = 2;

/// What `coldsill read --format json` prints: what each outlet states, cell by cell, before any review. Values are in
/// SI
/// units; `text` is in the reader's units.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "What Coldsill read from a schedule, format 2")]
pub(super) struct ReadJson<'r> {
    /// Version of the program.
    coldsill: &'static str,
    /// Version of this format.
    #[schemars(extend("const" = FORMAT))]
    format: u32,
    /// The job file; null for a bare schedule.
    job: Option<&'r str>,
    /// The schedule's file, as the user named it.
    schedule: &'r str,
    /// The row of headings, as a spreadsheet numbers it; null for a schedule that is a list.
    #[schemars(range(min = 1))]
    heading_row: Option<u32>,
    /// How a text table is written, if not with commas, in UTF-8 and with decimal points.
    written: &'r [&'static str],
    /// How the schedule was read: the sheet used, hidden rows, what dittos and references to other rows mean.
    notes: Vec<NoteJson<'r>>,
    /// Columns that were understood.
    columns: Vec<ColumnJson<'r>>,
    /// One entry for each row that is an outlet, or for each of its places.
    #[schemars(with = "Vec<OutletJson<'r>>", length(min = 1))]
    outlets: OutletsJson<'r>,
    /// What is not stated.
    blanks: Vec<BlankJson<'r>>,
    /// What is not used: columns that are not understood, rows that are no outlets.
    unused: Vec<UnusedJson<'r>>,
    /// Rows that are not outdoor outlets, each with the reason.
    aside: Vec<AsideJson<'r>>,
    /// Cells and headings that could not be read.
    problems: Vec<DiagnosticJson<'r>>,
}

#[derive(Serialize, JsonSchema)]
struct ColumnJson<'r> {
    file: &'r str,
    /// The heading as written.
    column: &'r str,
    /// Headings of the facts read from it.
    #[schemars(length(min = 1))]
    says: &'r [Arc<str>],
    /// In how many outlets it is filled in.
    #[schemars(range(min = 1))]
    rows: usize,
}

#[derive(Serialize, JsonSchema)]
struct OutletJson<'r> {
    /// The mark, or the row if it has none.
    mark: &'r str,
    at: LocationJson<'r>,
    /// What is stated, by name. Blank facts are not listed.
    facts: FactsJson<'r>,
}

/// A fact that some outlets do not state.
#[derive(Serialize, JsonSchema)]
#[schemars(extend("oneOf" = [
    { "properties": { "taken_as": { "type": "null" }, "why": { "type": "null" } } },
    { "properties": { "taken_as": { "type": "string" }, "why": { "type": "string" } } },
]))]
struct BlankJson<'r> {
    fact: &'r str,
    heading: &'r str,
    /// What a review assumes; null if a rule that needs it asks.
    taken_as: Option<String>,
    /// Why.
    why: Option<String>,
    /// Marks of the outlets, each once.
    #[schemars(length(min = 1))]
    marks: &'r [Arc<str>],
    /// How many outlets.
    #[schemars(range(min = 1))]
    rows: usize,
}

/// Outlets, each made when it is written.
struct OutletsJson<'r>(&'r Understood<'r>, System);

impl Serialize for OutletsJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_seq(self.0.outlets().map(|outlet| OwnOutlet(outlet, self.1)))
    }
}

struct OwnOutlet(ReadOutlet, System);

impl Serialize for OwnOutlet {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let Self(outlet, system) = self;
        let stated = outlet.facts.iter().map(|stated| &stated.fact);
        let outlet =
            OutletJson { mark: &outlet.mark, at: (&outlet.location).into(), facts: facts(stated, *system) };
        outlet.serialize(to)
    }
}

/// Writes what was understood as JSON.
pub fn read_json(understood: &Understood<'_>, system: System, out: &mut dyn io::Write) -> io::Result<()> {
    let InCommon { columns, blanks } = understood.in_common();
    let document = ReadJson {
        coldsill: PROGRAM,
        format: FORMAT,
        job: understood.job.as_deref(),
        schedule: &understood.schedule,
        heading_row: understood.heading,
        written: understood.written,
        notes: all(understood.notes),
        columns: all(&columns),
        outlets: OutletsJson(understood, system),
        blanks: blanks.iter().map(|blank| BlankJson::of(blank, system)).collect(),
        unused: all(understood.unused),
        aside: all(understood.aside),
        problems: all(understood.problems),
    };
    write(&document, out)
}

impl<'r> From<&'r Column> for ColumnJson<'r> {
    fn from(column: &'r Column) -> Self {
        Self { file: &column.file, column: &column.text, says: &column.says, rows: column.rows }
    }
}

impl<'r> BlankJson<'r> {
    fn of(blank: &'r Blank, system: System) -> Self {
        Self {
            fact: &blank.fact.name,
            heading: &blank.fact.heading,
            taken_as: blank.taken.as_ref().map(|_| value(&blank.fact, system)),
            why: blank.taken.as_ref().map(|why| figures(why, system)),
            marks: &blank.marks,
            rows: blank.rows,
        }
    }
}
