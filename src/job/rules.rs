//! The rules of a job: the base, a preset, the job's own amendments and those of the command line.

use super::Code;
use super::files::{beside, parse};
use super::vocabulary::Words;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Files, Kind, Node};
use crate::ruleset::{self, Basis, CodeFile, Level, RuleFile, RuleSource, Rules, Shipped};
use std::sync::Arc;

/// The amendments shipped with the program: presets and codes, and those chosen.
#[derive(Clone, Copy, Debug, Default)]
pub struct Presets<'r> {
    /// Amendments by the name of the preset.
    pub all: &'r [RuleFile<'r>],
    /// The one that the command line names, in place of the job's.
    pub chosen: Option<&'r str>,
    /// The files of codes.
    pub codes: &'r [CodeFile],
    /// The code that the command line states, in place of the job's.
    pub code: Option<&'r str>,
}

impl Presets<'_> {
    /// The adopted code: of the command line, otherwise of the job.
    pub(super) fn adopted(&self, of_job: Option<Code>, problems: &mut Diagnostics) -> Option<Code> {
        problems.extend(self.code.and_then(|text| Code::doubt(text, &Location::whole("--code"))));
        self.code.map(|text| Code::parse(text, None)).or(of_job)
    }
}

/// What the rules of a job are made of.
pub(super) struct Wanted<'r> {
    pub base: &'r [RuleFile<'r>],
    pub presets: Presets<'r>,
    pub preset_of_job: Option<&'r Node>,
    /// The adopted code.
    pub code: Option<&'r Code>,
    /// What people bring.
    pub brought: &'r [RuleSource],
}

/// Reads the rule files of a job and of the command line, and the amendments written in the job.
pub(super) fn bring(
    files: &dyn Files,
    job: &str,
    of_job: &[Node],
    of_command_line: &[String],
    problems: &mut Diagnostics,
) -> Vec<RuleSource> {
    let mut brought: Vec<RuleSource> = Vec::new();
    let mut file = |path: &str, level: Level, problems: &mut Diagnostics| {
        let node = parse(files, path).map_err(|problem| problems.push(problem)).ok()?;
        brought.push(RuleSource { node, level, default_name: None });
        Some(())
    };
    for node in of_job.iter().filter(|it| !matches!(it.kind, Kind::Map(_))) {
        if let Some(path) = node.text("rule file", problems) {
            file(&beside(job, path), Level::Job, problems);
        }
    }
    for path in of_command_line {
        file(path, Level::Company, problems);
    }
    let written = of_job.iter().filter(|it| matches!(it.kind, Kind::Map(_)));
    for (index, node) in written.enumerate() {
        let name = if index == 0 { "this job".into() } else { format!("this job ({})", index + 1) };
        brought.push(RuleSource { node: node.clone(), level: Level::Job, default_name: Some(name.into()) });
    }
    brought
}

/// The rules in force.
pub(super) fn rules_of(wanted: &Wanted<'_>, words: &Words<'_>, problems: &mut Diagnostics) -> Option<Rules> {
    let preset = preset(wanted, problems);
    let code = wanted.code.and_then(|code| {
        let file = wanted.presets.codes.iter().find(|it| it.is_named(&code.name))?;
        Some((file, code.year()))
    });
    let shipped = Shipped { base: wanted.base, code, preset: preset.map(|it| (it.name, it)) };
    let rules = ruleset::load_layers(&shipped, wanted.brought, words.facts, words.first_setting);
    let mut rules = rules.map_err(|found| problems.extend(found)).ok()?;
    if wanted.code.is_none() {
        rules.refer_to_model_codes();
    }
    Some(rules)
}

/// The preset of the command line, or else of the job.
fn preset<'r>(wanted: &Wanted<'r>, problems: &mut Diagnostics) -> Option<RuleFile<'r>> {
    let (name, location) = match (wanted.presets.chosen, wanted.preset_of_job) {
        (Some(name), _) => (name, Location::whole("--preset")),
        (None, Some(node)) => (node.text("preset", problems)?, node.location.clone()),
        (None, None) => return None,
    };
    let names = || wanted.presets.all.iter().map(|it| it.name);
    let found = wanted.presets.all.iter().find(|it| it.name.eq_ignore_ascii_case(name.trim()));
    if found.is_none() {
        let problem = Diagnostic::new(location, "is not a preset").text(name);
        problems.push(problem.expected(names().collect::<Vec<_>>().join(" or ")).nearest(name, names()));
    }
    found.copied()
}

/// Which bases may ask for a revision, and who says so: the preset of the command line, else the job's own key, else the
/// last amendment or preset that sets them; otherwise every basis.
pub(super) fn revise_on(
    rules: &Rules,
    of_job: Option<Vec<Basis>>,
    preset_is_chosen: bool,
) -> (Vec<Basis>, Option<Arc<str>>) {
    let preset = rules
        .preset
        .as_ref()
        .and_then(|it| Some((it.revise_on.clone()?, format!("preset {}", it.name).into())));
    let job = of_job.map(|bases| (bases, "the job".into()));
    let amendment = rules.revise_on.as_ref().map(|it| match it.by.level {
        Level::Preset => (it.bases.clone(), format!("preset {}", it.by.name).into()),
        _ => (it.bases.clone(), it.by.name.clone()),
    });
    let said = preset.filter(|_| preset_is_chosen).or(job).or(amendment);
    match said {
        Some((bases, by)) => (bases, Some(by)),
        None => (Basis::WORDS.iter().map(|(_, basis)| *basis).collect(), None),
    }
}
