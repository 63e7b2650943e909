//! An outlet in a cold spell: its rows and places, its course, and whether it is at risk.

use super::cold_spell::order;
use super::{Absence, Shown};
use crate::diag::Location;
use crate::expr::Value;
use crate::facts::Followed;
use crate::facts::columns::{CLOSES_AT, DESCRIPTION_DISAGREES};
use crate::schedule::Spotted;
use std::sync::Arc;

/// Rows of one mark that are alike, in the spell.
#[derive(Clone, Debug)]
pub struct InSpell {
    /// The mark, or `row 7`.
    pub mark: Arc<str>,
    /// The rows: all of the schedule, all of a list of places, or all of one in the job.
    pub rows: Vec<Spotted>,
    /// Where they stand.
    pub places: Vec<Location>,
    /// How many in all; `None` if a row does not state it.
    pub quantity: Option<f64>,
    /// Where they are, each once, with how many there; `None` if a row does not state it.
    pub locations: Vec<(Arc<str>, Option<f64>)>,
    /// Rows that state no location, each with its quantity.
    pub unplaced: Vec<(Spotted, Option<f64>)>,
    /// Every fact that was read.
    pub facts: Arc<Vec<Shown>>,
    /// What is not known, as it was taken at its worst.
    pub at_worst: Vec<Shown>,
    /// What happens, or why it cannot be followed.
    pub course: Result<Followed, Absence>,
}

impl InSpell {
    /// Whether ice blocks the bore somewhere in the band, or nobody can tell. One that closes below grade is judged by
    /// its bury depth, in the review.
    pub fn is_at_risk(&self) -> bool {
        !self.closes_below_grade() && (self.doubt().is_some() || self.may_be_blocked())
    }

    /// Whether ice blocks the bore somewhere in the band, or it cannot be followed.
    pub fn may_be_blocked(&self) -> bool {
        let is_blocked = |it: &Followed| it.courses.iter().any(|it| it.blocked.is_some());
        self.course.as_ref().map_or(true, is_blocked)
    }

    /// What leaves its row in doubt: words that contradict it, or put it on hold. What is only of metals does not freeze.
    pub fn doubt(&self) -> Option<&Arc<str>> {
        const OF_METALS: [&str; 5] = ["Fasteners:", "Flange:", "Metal:", "Finish:", "Handle:"];
        let said = self.facts.iter().find(|it| &*it.name == DESCRIPTION_DISAGREES.name)?;
        let Ok(Value::Text(text)) = &said.value else { return None };
        let is_of_metals = |it: &str| OF_METALS.iter().any(|label| it.starts_with(label));
        (!text.split("; ").all(is_of_metals)).then_some(text)
    }

    /// Whether it closes below grade, where the section does not reach.
    pub fn closes_below_grade(&self) -> bool {
        let closes = self.facts.iter().find(|it| &*it.name == CLOSES_AT.name);
        closes.is_some_and(|it| it.value == Ok(Value::Text("below grade".into())))
    }

    /// The names of where they are, each once.
    pub fn location_names(&self) -> Vec<Arc<str>> {
        self.locations.iter().map(|(name, _)| name.clone()).collect()
    }

    pub(super) fn order(&self) -> [f64; 5] {
        self.course.as_ref().map_or([f64::INFINITY; 5], order)
    }
}
