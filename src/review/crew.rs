//! Who goes where by when in a cold spell: the work at each location, the soonest deadline first.

use super::{ColdSpell, InSpell, Spotted};
use crate::expr::Value;
use crate::facts::Followed;
use crate::facts::columns::INSIDE_STOP;
use std::collections::BTreeMap;
use std::sync::Arc;

/// 0 °C, K.
const FREEZING: f64 = 273.15;

/// What a crew does at an outlet, the most urgent first. A hose comes off in any case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CrewStep {
    /// It may already be frozen: check for flow, then shut off and drain.
    CheckFlow,
    /// The schedule does not state enough to compute when it freezes, or is in doubt.
    NotComputed,
    /// Shut the inside stop and drain the line.
    DrainAtStop,
    /// Look for an inside stop; the schedule does not state one.
    FindStop,
    /// No stop: shut and drain the branch.
    DrainBranch,
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

/// Marks, each with how many outlets; `None` if a row does not state it.
pub type CountedMarks = Vec<(Arc<str>, Option<f64>)>;

/// The work at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct CrewLine {
    /// The deadline, s from the start of the spell: the soonest that ice may form in an outlet there, for water is drained
    /// before it is ice; at its start if that cannot be computed; for a hose, the first frost.
    pub by: f64,
    /// Whether an outlet there freezes at the best estimates, or cannot be computed.
    pub is_likely: bool,
    /// Where.
    pub place: CrewPlace,
    /// What to do, each with the marks it is for and how many there are here; `None` if a row does not state it.
    pub work: BTreeMap<CrewStep, CountedMarks>,
}

/// The list.
#[derive(Clone, Debug, PartialEq)]
pub struct CrewList {
    /// When hoses are off, s from the start of the spell: the first frost. `None` if it never freezes outdoors.
    pub hoses_off: Option<f64>,
    /// The places with something to do: the soonest deadline first, those where only hoses come off last.
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
            for (place, quantity) in places(outlet) {
                let new = || CrewLine { by, is_likely: false, place: place.clone(), work: BTreeMap::new() };
                let line = lines.entry(place.clone()).or_insert_with(new);
                line.by = line.by.min(by);
                line.is_likely |= is_likely(outlet);
                let marks = line.work.entry(step).or_default();
                match marks.iter_mut().find(|(mark, _)| *mark == outlet.mark) {
                    Some((_, sum)) => *sum = sum.zip(quantity).map(|(a, b)| a + b),
                    None => marks.push((outlet.mark.clone(), quantity)),
                }
            }
        }
        let mut lines: Vec<CrewLine> = lines.into_values().collect();
        let step = |line: &CrewLine| line.work.keys().next().copied();
        let is_last = |line: &CrewLine| step(line) == Some(CrewStep::HoseOff);
        lines.sort_by(|a, b| {
            is_last(a).cmp(&is_last(b)).then(a.by.total_cmp(&b.by)).then_with(|| step(a).cmp(&step(b)))
        });
        CrewList { hoses_off, lines }
    }
}

/// Where outlets are, with how many there.
fn places(outlet: &InSpell) -> Vec<(CrewPlace, Option<f64>)> {
    let located =
        outlet.locations.iter().map(|(name, quantity)| (CrewPlace::Location(name.clone()), *quantity));
    let mut places: Vec<(CrewPlace, Option<f64>)> = located.collect();
    if !outlet.unplaced.is_empty() {
        let (rows, quantities): (Vec<Spotted>, Vec<Option<f64>>) = outlet.unplaced.iter().copied().unzip();
        places.push((CrewPlace::Rows(rows), quantities.into_iter().sum()));
    }
    places
}

/// When ice forms at the soonest in an outlet at risk, s; 0 if that cannot be computed. `None` for one in which none forms.
fn deadline(outlet: &InSpell) -> Option<f64> {
    let soonest = |followed: &Followed| {
        let courses = followed.courses.iter();
        courses.filter_map(|course| course.first_ice.or(course.blocked.map(|it| it.0))).reduce(f64::min)
    };
    if !outlet.is_at_risk() {
        return None;
    }
    match &outlet.course {
        Ok(followed) if !outlet.may_be_blocked() => soonest(followed),
        Ok(followed) => Some(soonest(followed).unwrap_or(0.0)),
        Err(_) => Some(0.0),
    }
}

/// Whether ice blocks it at the best estimates, or nobody can tell.
fn is_likely(outlet: &InSpell) -> bool {
    if outlet.doubt().is_some() {
        return true;
    }
    let [_, estimate, _] = match &outlet.course {
        Ok(followed) => &followed.courses,
        Err(_) => return true,
    };
    estimate.blocked.is_some()
}

fn step(outlet: &InSpell) -> CrewStep {
    let value = |name: &str| outlet.facts.iter().find(|it| &*it.name == name)?.value.as_ref().ok();
    if outlet.closes_below_grade() {
        return CrewStep::ShutBelowGrade;
    }
    match (deadline(outlet), value(INSIDE_STOP.name)) {
        _ if !outlet.is_at_risk() => CrewStep::HoseOff,
        _ if !outlet.may_be_blocked() || outlet.course.is_err() => CrewStep::NotComputed,
        (Some(0.0), _) => CrewStep::CheckFlow,
        (_, Some(Value::YesNo(true))) => CrewStep::DrainAtStop,
        (_, Some(Value::YesNo(false))) => CrewStep::DrainBranch,
        _ => CrewStep::FindStop,
    }
}
