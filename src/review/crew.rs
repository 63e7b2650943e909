//! Who goes where by when in a cold spell: the work at each location, the soonest deadline first.

use super::{ColdSpell, InSpell, Spotted};
use crate::expr::Value;
use crate::facts::columns::{CLOSES_AT, INSIDE_STOP};
use std::collections::BTreeMap;
use std::sync::Arc;

/// 0 °C, K.
const FREEZING: f64 = 273.15;

/// What a crew does at an outlet, the most urgent first. A hose comes off in any case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CrewStep {
    /// It may already be frozen: check for flow, then shut off and drain.
    CheckFlow,
    /// Shut the inside stop and drain the line.
    DrainAtStop,
    /// Look for an inside stop; the schedule does not state one.
    FindStop,
    /// No stop: shut and drain the branch.
    DrainBranch,
    /// The same at a plain hose bibb, which may drip if that is not possible.
    DrainBranchOrDrip,
    /// Shut a valve below grade fully, so that it drains.
    ShutBelowGrade,
    /// Nothing but the hose.
    HoseOff,
}

/// The rows of one line of the list.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CrewPlace {
    /// A location.
    Location(Arc<str>),
    /// Rows of one mark without a location.
    Rows(Vec<Spotted>),
}

/// The work at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct CrewLine {
    /// The deadline, s from the start of the spell: the soonest that ice may block an outlet there, at its start if that
    /// cannot be computed; for a hose, the first frost.
    pub by: f64,
    /// Where.
    pub place: CrewPlace,
    /// What to do, each with the marks it is for.
    pub work: BTreeMap<CrewStep, Vec<Arc<str>>>,
}

/// The list.
#[derive(Clone, Debug, PartialEq)]
pub struct CrewList {
    /// When hoses are off, s from the start of the spell: the first frost. `None` if it never freezes outdoors.
    pub hoses_off: Option<f64>,
    /// The places with something to do, the soonest deadline first.
    pub lines: Vec<CrewLine>,
}

impl ColdSpell {
    /// The crew list: every place of the schedule with something to do, once.
    pub fn crew(&self) -> CrewList {
        let hoses_off = self.spell.first_below(FREEZING);
        let mut lines: BTreeMap<CrewPlace, CrewLine> = BTreeMap::new();
        for outlet in &self.outlets {
            let step = step(outlet);
            let Some(by) = deadline(outlet).or(hoses_off) else { continue };
            for place in places(outlet) {
                let new = || CrewLine { by, place: place.clone(), work: BTreeMap::new() };
                let line = lines.entry(place.clone()).or_insert_with(new);
                line.by = line.by.min(by);
                let marks = line.work.entry(step).or_default();
                if !marks.contains(&outlet.mark) {
                    marks.push(outlet.mark.clone());
                }
            }
        }
        let mut lines: Vec<CrewLine> = lines.into_values().collect();
        lines.sort_by(|a, b| a.by.total_cmp(&b.by));
        CrewList { hoses_off, lines }
    }
}

fn places(outlet: &InSpell) -> Vec<CrewPlace> {
    let rows = Some(&outlet.unplaced).filter(|rows| !rows.is_empty()).cloned();
    outlet.locations.iter().cloned().map(CrewPlace::Location).chain(rows.map(CrewPlace::Rows)).collect()
}

/// When an outlet at risk is blocked at the soonest, s; 0 if that cannot be computed. `None` for one not at risk.
fn deadline(outlet: &InSpell) -> Option<f64> {
    outlet.is_at_risk().then(|| {
        let courses = outlet.course.as_ref().map(|it| it.courses.iter().filter_map(|course| course.blocked));
        courses.ok().and_then(|blocked| blocked.map(|it| it.0).reduce(f64::min)).unwrap_or(0.0)
    })
}

fn step(outlet: &InSpell) -> CrewStep {
    let value = |name: &str| outlet.facts.iter().find(|it| &*it.name == name)?.value.as_ref().ok();
    if outlet.closes_below_grade() {
        return CrewStep::ShutBelowGrade;
    }
    match (deadline(outlet), value(INSIDE_STOP.name)) {
        (None, _) => CrewStep::HoseOff,
        (Some(0.0), _) if outlet.course.is_ok() => CrewStep::CheckFlow,
        (_, Some(Value::YesNo(true))) => CrewStep::DrainAtStop,
        (_, Some(Value::YesNo(false))) => match value(CLOSES_AT.name) {
            Some(Value::Text(closes)) if &**closes == "face" => CrewStep::DrainBranchOrDrip,
            _ => CrewStep::DrainBranch,
        },
        _ => CrewStep::FindStop,
    }
}
