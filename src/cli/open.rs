//! Opens a schedule, a job or rules for a command, with the rules in force.

use crate::climates;
use crate::disk::Disk;
use crate::options::{InForce, Source};
use coldsill::climate::Library;
use coldsill::diag::Diagnostics;
use coldsill::facts::{self, Presets, Sources, World};
use coldsill::input::Files;
use coldsill::shipped;

/// The options of a command that opens a schedule or a job.
pub struct Asked<'o> {
    /// The schedule or the job.
    pub source: &'o str,
    /// The sheet of a workbook.
    pub sheet: Option<&'o str>,
    /// A climate by name.
    pub climate: Option<&'o str>,
    /// The design low.
    pub design_low: Option<&'o str>,
    /// A sheet of questions with responses.
    pub answers: &'o [String],
    /// The rules in force.
    pub in_force: &'o InForce,
}

impl Asked<'_> {
    /// Opens it with the rules and presets of the program.
    pub fn open(&self, files: &dyn Files, climates: &Library) -> Result<World, Diagnostics> {
        self.with_sources(files, climates, facts::open)
    }

    /// Opens it in another way.
    pub fn with_sources<T>(
        &self,
        files: &dyn Files,
        climates: &Library,
        open: impl FnOnce(&Sources<'_>) -> Result<T, Diagnostics>,
    ) -> Result<T, Diagnostics> {
        let InForce { rules, preset, code } = self.in_force;
        open(&Sources {
            files,
            source: self.source,
            sheet: self.sheet,
            climate: self.climate,
            design_low: self.design_low,
            answers: self.answers,
            rules,
            base_rules: &shipped::rules(),
            presets: Presets {
                all: &shipped::presets(),
                chosen: preset.as_deref(),
                codes: &shipped::codes()?,
                code: code.as_deref(),
            },
            climates,
        })
    }
}

/// Opens a schedule or a job. Also returns the errors of the user's own climates, which are skipped.
pub fn open(source: &Source, disk: &Disk) -> Result<(World, Diagnostics), Diagnostics> {
    open_after(source, None, disk)
}

/// As [`open`], after a previous review, whose responses are carried over.
pub fn open_after(
    source: &Source,
    previous: Option<&str>,
    disk: &Disk,
) -> Result<(World, Diagnostics), Diagnostics> {
    let answers: Vec<String> =
        previous.into_iter().map(Into::into).chain(source.answers.iter().cloned()).collect();
    let library = climates::library(&source.climates, disk)?;
    let skipped: Diagnostics = library.skipped().cloned().collect();
    let asked = Asked {
        source: &source.source,
        sheet: source.sheet.as_deref(),
        climate: source.climate.as_deref(),
        design_low: source.design_low.as_deref(),
        answers: &answers,
        in_force: &source.in_force,
    };
    match asked.open(disk, &library) {
        Ok(world) => Ok((world, skipped)),
        Err(problems) => Err(problems.into_iter().chain(skipped).collect()),
    }
}

/// The base rules, without a job.
pub fn base_rules(disk: &Disk) -> Result<World, Diagnostics> {
    rules_with(&[], None, None, disk)
}

/// The rules with these amendments, preset and code, without a job.
pub fn rules_with(
    amendments: &[String],
    preset: Option<&str>,
    code: Option<&str>,
    disk: &Disk,
) -> Result<World, Diagnostics> {
    let (presets, codes) = (shipped::presets(), shipped::codes()?);
    let presets = Presets { all: &presets, chosen: preset, codes: &codes, code };
    facts::open_rules_with(disk, &shipped::rules(), amendments, presets)
}
