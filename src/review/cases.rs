//! Runs the cases that rules carry.

use super::verdict::{outcome, verdict};
use crate::diag::Location;
use crate::facts::{Facts, World};
use crate::ruleset::{NoOpenCase, Outcome};
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
    let rules = &world.job().rules.rules;
    let cases = rules.iter().flat_map(|rule| rule.cases.iter().map(move |case| (rule, case)));
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
