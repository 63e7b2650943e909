//! Opens a job, a bare schedule, or rules alone.

use super::catalogue::{CATALOGUE, Facts, JOB_VOCABULARY};
use super::world::World;
use crate::diag::Diagnostics;
use crate::input::Files;
use crate::job::{self, Presets, Sources, Words};
use crate::ruleset::RuleFile;

/// Opens a job or a bare schedule. Returns all errors that prevent a review.
pub fn open(sources: &Sources<'_>) -> Result<World, Diagnostics> {
    Ok(World::new(job::load(sources, &words())?))
}

/// Opens a job or a bare schedule to look at what it states, without its climate and its own rules.
pub fn open_to_read(sources: &Sources<'_>) -> Result<World, Diagnostics> {
    Ok(World::new(job::load_schedule_only(sources, &words())?))
}

/// Opens rules alone, without outlets or climate, to look at them and to run their cases.
pub fn open_rules(
    files: &dyn Files,
    base: &[RuleFile<'_>],
    amendments: &[String],
) -> Result<World, Diagnostics> {
    open_rules_with(files, base, amendments, Presets::default())
}

/// Opens rules alone, with a preset.
pub fn open_rules_with(
    files: &dyn Files,
    base: &[RuleFile<'_>],
    amendments: &[String],
    presets: Presets<'_>,
) -> Result<World, Diagnostics> {
    Ok(World::new(job::rules_only_job(files, base, amendments, presets, &words())?))
}

fn words() -> Words<'static> {
    let first_setting = u16::try_from(CATALOGUE.len()).unwrap_or(u16::MAX);
    Words { vocabulary: &JOB_VOCABULARY, facts: &Facts, first_setting }
}
