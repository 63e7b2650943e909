//! What a person brings to a review.

use super::rules::Presets;
use crate::climate::Library;
use crate::input::Files;
use crate::ruleset::RuleFile;

/// What a person brings.
#[derive(Clone, Copy)]
pub struct Sources<'r> {
    /// Reads files.
    pub files: &'r dyn Files,
    /// A schedule or a job file.
    pub source: &'r str,
    /// The sheet of the schedule, if it is a workbook; overrides the job's.
    pub sheet: Option<&'r str>,
    /// A climate that overrides the job's.
    pub climate: Option<&'r str>,
    /// A choice of design low that overrides the job's.
    pub design_low: Option<&'r str>,
    /// Files of answers, newer than the job's own; the last is the newest.
    pub answers: &'r [String],
    /// Amendments after the job's own.
    pub rules: &'r [String],
    /// The base rule sets.
    pub base_rules: &'r [RuleFile<'r>],
    /// All presets, and the one that overrides the job's.
    pub presets: Presets<'r>,
    /// All climates.
    pub climates: &'r Library,
}
