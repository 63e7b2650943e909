//! Reads a review back from the JSON that this program writes: the parts that a later review is compared with.

use crate::diag::{Diagnostic, Location};
use serde::de::{Deserialize, DeserializeOwned, Deserializer, Error as _};
use serde_json::error::Category;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Version of the JSON form of a review.
pub const REVIEW_FORMAT: u32 = 5;

/// A review as it was written.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct Previous {
    /// Version of the program that wrote it.
    pub coldsill: Arc<str>,
    #[serde(deserialize_with = "review_format")]
    /// Checked when it is read.
    pub format: (),
    /// Name of the job.
    pub job: Option<Arc<str>>,
    /// The schedule's file.
    pub schedule: Arc<str>,
    /// The climate and the design low.
    pub climate: PreviousClimate,
    /// The adopted code.
    pub code: Option<PreviousCode>,
    /// What the authority has set.
    pub authority: BTreeMap<Arc<str>, Option<PreviousFact>>,
    /// Bases that can require a revision.
    pub revise_on: Vec<Arc<str>>,
    /// The preset in force.
    pub preset: Option<Arc<str>>,
    /// Names of the amendments in force.
    pub amendments: Vec<Arc<str>>,
    /// What they changed.
    pub amended: PreviousAmended,
    /// Rules that they dropped.
    pub dropped: Vec<PreviousDropped>,
    /// The rules in force.
    pub rules: Vec<PreviousRule>,
    /// Each distinct set of findings with its rows.
    pub findings: Vec<PreviousFindings>,
}

/// The climate of a review.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct PreviousClimate {
    /// Its id; `None` for a climate that the job describes.
    pub id: Option<Arc<str>>,
    /// Its name.
    pub name: Arc<str>,
    /// The outdoor temperature an outlet must survive.
    pub design_low: Option<PreviousFact>,
    /// What the design low is.
    pub design_low_is: Arc<str>,
    /// Where the figures are published.
    pub source: Arc<str>,
}

/// The adopted code of a review.
#[derive(Clone, Debug, PartialEq, Eq, serde::Deserialize)]
pub struct PreviousCode {
    /// Its name.
    pub name: Arc<str>,
    /// Its edition.
    pub edition: Option<Arc<str>>,
}

/// Changes of the rules.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct PreviousAmended {
    /// Changes of settings; the last one of a setting is in force.
    pub settings: Vec<PreviousSetting>,
    /// Changes of parts of rules; the last one of a part is in force.
    pub rules: Vec<PreviousRuleChange>,
}

/// A change of a setting.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct PreviousSetting {
    /// Its name.
    pub setting: Arc<str>,
    /// As it was written before.
    pub was: Arc<str>,
    /// As it is written now.
    pub is: Arc<str>,
}

/// A change of a part of a rule.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct PreviousRuleChange {
    /// The rule's id.
    pub rule: Option<Arc<str>>,
    /// The part of the rule.
    pub part: Option<Arc<str>>,
    /// As it is written now.
    pub is: Arc<str>,
}

/// A rule that was not applied.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct PreviousDropped {
    /// The rule's id.
    pub rule: Arc<str>,
    /// The amendment that dropped it.
    pub by: Arc<str>,
}

/// A rule in force.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct PreviousRule {
    /// Its id.
    pub rule: Arc<str>,
    /// Its number, such as `Freezing 2`.
    pub number: Arc<str>,
    /// The problem in one line.
    pub title: Arc<str>,
    /// Its basis.
    pub basis: Arc<str>,
}

/// What a review found, for all rows alike.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct PreviousFindings {
    /// The rows, in the order of the schedule.
    pub rows: Vec<PreviousRow>,
    /// Facts by name.
    pub facts: BTreeMap<Arc<str>, PreviousFact>,
    /// What the rules say, in the order of the rules. Rules that do not apply are not listed.
    pub comments: Vec<PreviousComment>,
}

/// A row of the schedule.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct PreviousRow {
    /// Its mark, or `row 7`.
    pub mark: Arc<str>,
    /// How many.
    pub quantity: Option<f64>,
    /// Its location in the building.
    pub location: Option<Arc<str>>,
    /// Where it stands.
    pub at: PreviousAt,
    /// Facts of this row alone.
    pub facts: BTreeMap<Arc<str>, PreviousFact>,
}

/// Where a row stands.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct PreviousAt {
    /// The file.
    pub file: Arc<str>,
    /// The sheet, if it is another than the one the schedule is mainly on.
    pub sheet: Option<Arc<str>>,
    /// The row, as a spreadsheet numbers it.
    pub row: Option<u32>,
}

/// What a rule says of an outlet.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct PreviousComment {
    /// The rule's id.
    pub rule: Arc<str>,
    /// The rule's number.
    pub number: Arc<str>,
    /// The word of its outcome.
    pub outcome: Arc<str>,
    /// The comment in the reader's units.
    pub text: Arc<str>,
    /// Facts that the rule reads or its wording names.
    pub facts: Vec<Arc<str>>,
    /// Settings and tables it reads, and facts whose value here is the span of the plausible answers.
    pub values: BTreeMap<Arc<str>, PreviousFact>,
}

/// A value as it was written.
#[derive(Clone, Debug, serde::Deserialize)]
pub struct PreviousFact {
    /// The value: a number in SI units, a word, yes or no, words; null if unknown.
    pub value: serde_json::Value,
    /// Lowest possible value.
    pub low: Option<f64>,
    /// Highest possible value.
    pub high: Option<f64>,
    /// The value in the reader's units.
    pub text: Arc<str>,
    /// Where it is from: stated, assumed, computed and so on; `None` of a figure by itself.
    pub from: Option<Arc<str>>,
}

impl PreviousFact {
    /// Whether both are one value, whatever its units and its source.
    pub fn is_same_value(&self, other: &Self) -> bool {
        (&self.value, self.low, self.high) == (&other.value, other.low, other.high)
    }
}

impl PreviousFindings {
    /// A fact of one of its rows.
    pub fn fact<'p>(&'p self, row: &'p PreviousRow, name: &str) -> Option<&'p PreviousFact> {
        row.facts.get(name).or_else(|| self.facts.get(name))
    }
}

/// Reads a review that `coldsill review --format json` wrote. Another file, or one of another format, is an error.
pub fn read_previous(file: &str, bytes: &[u8]) -> Result<Previous, Diagnostic> {
    read_json(file, bytes, "a review that `coldsill review --format json` wrote")
}

/// Reads a file of one of the JSON forms of this program.
pub(crate) fn read_json<T: DeserializeOwned>(
    file: &str,
    bytes: &[u8],
    expected: &str,
) -> Result<T, Diagnostic> {
    serde_json::from_slice(bytes).map_err(|error| {
        let line_column = |number: usize| u32::try_from(number).unwrap_or(u32::MAX).max(1);
        let at = Location::line(&file.into(), line_column(error.line()), line_column(error.column()));
        let text = error.to_string();
        // The location says where.
        let why = text.rsplit_once(" at line ").map_or(&*text, |(why, _)| why);
        let message = match error.classify() {
            Category::Data if why.starts_with(OTHER_FORMAT) => why.to_owned(),
            Category::Data => format!("is not the expected JSON: {why}"),
            Category::Syntax | Category::Eof | Category::Io => format!("is not JSON: {why}"),
        };
        Diagnostic::new(at, message).expected(expected)
    })
}

const OTHER_FORMAT: &str = "is of format ";

/// Reads the number of the format, which must be this one.
pub(crate) fn check_format<'de, D: Deserializer<'de>>(deserializer: D, format: u32) -> Result<(), D::Error> {
    let found = u32::deserialize(deserializer)?;
    if found == format {
        return Ok(());
    }
    Err(D::Error::custom(format!("{OTHER_FORMAT}{found}; this version of the program reads format {format}")))
}

fn review_format<'de, D: Deserializer<'de>>(deserializer: D) -> Result<(), D::Error> {
    check_format(deserializer, REVIEW_FORMAT)
}
