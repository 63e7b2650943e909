//! Runs the cases that rules carry.

use super::verdict::{outcome, verdict};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::facts::{Facts, World};
use crate::ruleset::{NoOpenCase, Outcome, Rule};
use std::sync::Arc;

/// How a case came out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CaseResult {
    /// The rule.
    pub rule: Arc<str>,
    /// The case.
    pub case: Arc<str>,
    /// What it wants.
    pub wanted: Outcome,
    /// What the rule said.
    pub found: Outcome,
    /// Where the case stands.
    pub location: Location,
}

/// Runs every case of every rule in force. A case is an outlet of which only the given facts are known, at the world's
/// climate; answers are not supposed, so that an open case is *clarify*.
pub fn try_cases(world: &World) -> Vec<CaseResult> {
    try_cases_of(world, &|_| true)
}

/// The failed cases of rules that a person brings, as problems of their files. A rule that an amendment has changed since is
/// not what its cases test.
pub(super) fn failed_cases(world: &World) -> Diagnostics {
    let rules = &world.job().rules;
    let is_own = |rule: &Rule| rules.brought.contains(&rule.location.file) && rule.changes.is_empty();
    let mut failed = Diagnostics::new();
    if !rules.rules.iter().any(is_own) {
        return failed;
    }
    let alone = World::new(world.job().rules_alone());
    for it in try_cases_of(&alone, &is_own).into_iter().filter(|it| it.found != it.wanted) {
        let what = format!("is a case of {} that gives \"{}\"", it.rule, it.found.word());
        let wanted = format!("\"{}\": `coldsill rules try` shows all cases", it.wanted.word());
        failed.push(Diagnostic::new(it.location, what).text(&*it.case).expected(wanted));
    }
    failed
}

fn try_cases_of(world: &World, is_meant: &dyn Fn(&Rule) -> bool) -> Vec<CaseResult> {
    let rules = world.job().rules.rules.iter().filter(|rule| is_meant(rule));
    let cases = rules.flat_map(|rule| rule.cases.iter().map(move |case| (rule, case)));
    let run = cases.map(|(rule, case)| CaseResult {
        rule: rule.id.clone(),
        case: case.name.clone(),
        wanted: case.gives,
        found: outcome(rule, &world.outlet_of(&case.given)),
        location: case.location.clone(),
    });
    run.collect()
}

/// Rules that can be left open and have no case that shows it.
pub fn lacking_cases(world: &World) -> Vec<NoOpenCase> {
    world
        .job()
        .rules
        .without_open_case(&Facts, &|rule, given| verdict(rule, &world.outlet_of(given)).is_err())
}
