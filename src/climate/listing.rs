//! The climates in the order of a list, and those that match a filter.

use super::error::ClimateError;
use super::library::Library;
use super::place::Climate;
use super::states::{State, StateName};
use super::words::{expand, fold};
use crate::diag::{Diagnostic, Location, nearest};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Which climates to list; all by default.
#[derive(Clone, Copy, Debug, Default)]
pub struct Filter<'w> {
    /// Words in its id, name, station's name or state.
    pub words: Option<&'w str>,
    /// A state or province.
    pub state: Option<&'w str>,
    /// A climate zone, or the number of one.
    pub zone: Option<&'w str>,
}

impl Filter<'_> {
    fn is_set(&self) -> bool {
        self.words.is_some() || self.state.is_some() || self.zone.is_some()
    }
}

impl Library {
    /// The climates that match, and further stations if anything is asked for, by country, state, name and id. If none does, the error is at the option that excludes the
    /// last of them.
    pub fn list(&self, filter: &Filter<'_>) -> Result<Vec<&Arc<Climate>>, Diagnostic> {
        let all = self.iter().chain(self.stations().filter(|_| filter.is_set()));
        self.filter(all.collect(), filter)
    }

    /// Those that match.
    pub(super) fn filter<'l>(
        &self,
        mut found: Vec<&'l Arc<Climate>>,
        filter: &Filter<'_>,
    ) -> Result<Vec<&'l Arc<Climate>>, Diagnostic> {
        if let Some(text) = filter.state {
            let state = self.state_named(text).ok_or_else(|| unknown_state(text))?;
            found.retain(|climate| state.holds(climate));
            if found.is_empty() {
                return Err(empty_state(&state, text));
            }
        }
        if let Some(text) = filter.zone {
            found = in_zone(found, text)?;
        }
        if let Some(text) = filter.words {
            let words = fold(text);
            let words = expand(&words);
            found.retain(|climate| {
                let names = all_names(climate);
                words.iter().all(|word| names.contains(word))
            });
            if found.is_empty() {
                return Err(ClimateError::NoMatch.at(&Location::whole("--find")).text(text));
            }
        }
        found.sort_by_cached_key(|climate| {
            (country_and_state(climate), fold(&climate.name), climate.id.clone())
        });
        Ok(found)
    }
}

fn unknown_state(text: &str) -> Diagnostic {
    let nearest = nearest(text, State::spellings()).map(str::to_owned);
    let error = ClimateError::UnknownState { has_nearest: nearest.is_some() };
    Diagnostic { nearest: nearest.map(Into::into), ..error.at(&Location::whole("--state")).text(text) }
}

fn empty_state(state: &StateName, text: &str) -> Diagnostic {
    let error = ClimateError::EmptyState { name: state.name.clone() };
    error.at(&Location::whole("--state")).text(text)
}

/// All names of a place, with abbreviations expanded.
fn all_names(climate: &Climate) -> String {
    let state = climate.state.as_deref();
    let names = [Some(&*climate.id), Some(&*climate.name), climate.measured_at.as_deref(), state];
    let state_name = state.and_then(State::find).map(|state| state.name);
    let all = names.into_iter().chain([state_name]).flatten();
    all.map(|text| format!("{} ", expand(&fold(text)).join(" "))).collect()
}

/// Those of a zone, by number alone, or by number and letter.
fn in_zone<'l>(all: Vec<&'l Arc<Climate>>, text: &str) -> Result<Vec<&'l Arc<Climate>>, Diagnostic> {
    let wanted = text.trim().to_uppercase();
    let is_wanted = |zone: &str| {
        let zone = zone.to_uppercase();
        zone == wanted || zone.trim_end_matches(|c: char| c.is_ascii_alphabetic()) == wanted
    };
    let zones: BTreeSet<&str> = all.iter().filter_map(|climate| climate.zone.as_deref()).collect();
    let found: Vec<_> =
        all.iter().copied().filter(|climate| climate.zone.as_deref().is_some_and(is_wanted)).collect();
    if found.is_empty() {
        let zones: Vec<&str> = zones.into_iter().collect();
        let zones = if zones.is_empty() { String::new() } else { format!("one of {}", zones.join(", ")) };
        return Err(ClimateError::EmptyZone { zones }.at(&Location::whole("--zone")).text(text));
    }
    Ok(found)
}

/// Places in no known state come last.
fn country_and_state(climate: &Climate) -> (bool, &str, &str) {
    match climate.state.as_deref().and_then(State::find) {
        Some(state) => (false, state.country, state.name),
        None => (true, "", climate.state.as_deref().unwrap_or_default()),
    }
}
