//! The climates in the order of a list, and those that somebody looks for.

use super::find::Within;
use super::library::Library;
use super::place::Climate;
use super::states::State;
use super::words::{fold, written_out};
use crate::diag::{Diagnostic, Location};
use std::collections::BTreeSet;
use std::sync::Arc;

/// What is looked for; nothing is all there are.
#[derive(Clone, Copy, Debug, Default)]
pub struct Wanted<'w> {
    /// Words in its id, name, station's name or state.
    pub words: Option<&'w str>,
    /// A state or province.
    pub state: Option<&'w str>,
    /// A climate zone, or the number of one.
    pub zone: Option<&'w str>,
}

impl Library {
    /// The climates that are looked for, by country, state, name and id. None at all is a problem, which says at which
    /// option the last of them is lost.
    pub fn listed(&self, wanted: &Wanted<'_>) -> Result<Vec<&Arc<Climate>>, Diagnostic> {
        let mut found: Vec<&Arc<Climate>> = self.iter().collect();
        if let Some(text) = wanted.state {
            let state = self.state(text)?;
            found.retain(|it| state.holds(it));
            if found.is_empty() {
                let what = format!("is {}, and no place there is listed", state.name());
                let problem = Diagnostic::new(Location::whole("--state"), what).text(text);
                return Err(problem.expected("another state, or --near LAT,LON for the nearest place"));
            }
        }
        if let Some(text) = wanted.zone {
            found = in_zone(found, text)?;
        }
        if let Some(text) = wanted.words {
            let words = fold(text);
            let words = written_out(&words);
            found.retain(|it| {
                let own = haystack(it);
                words.iter().all(|word| own.contains(word))
            });
            if found.is_empty() {
                return Err(Diagnostic::new(Location::whole("--find"), "is in the name of no place listed")
                    .text(text));
            }
        }
        found.sort_by_cached_key(|it| (country_and_state(it), fold(&it.name), it.id.clone()));
        Ok(found)
    }

    fn state(&self, text: &str) -> Result<Within, Diagnostic> {
        self.within(text).ok_or_else(|| {
            let problem = Diagnostic::new(Location::whole("--state"), "is no state or province").text(text);
            let problem = problem.nearest(text, State::spellings());
            if problem.nearest.is_none() { problem.expected("one such as MN or Minnesota") } else { problem }
        })
    }
}

/// All that a place goes by, with abbreviations written out.
fn haystack(climate: &Climate) -> String {
    let state = climate.state.as_deref();
    let texts = [Some(&*climate.id), Some(&*climate.name), climate.measured_at.as_deref(), state];
    let name_of_state = state.and_then(State::find).map(|it| it.name);
    let all = texts.into_iter().chain([name_of_state]).flatten();
    all.map(|text| format!("{} ", written_out(&fold(text)).join(" "))).collect()
}

/// By number alone, or by number and letter.
fn in_zone<'l>(all: Vec<&'l Arc<Climate>>, text: &str) -> Result<Vec<&'l Arc<Climate>>, Diagnostic> {
    let wanted = text.trim().to_uppercase();
    let is_in = |zone: &str| {
        let zone = zone.to_uppercase();
        zone == wanted || zone.trim_end_matches(|c: char| c.is_ascii_alphabetic()) == wanted
    };
    let zones: BTreeSet<String> =
        all.iter().filter_map(|it| it.zone.as_ref()).map(|it| it.to_string()).collect();
    let found: Vec<&Arc<Climate>> =
        all.into_iter().filter(|it| it.zone.as_deref().is_some_and(is_in)).collect();
    if found.is_empty() {
        let zones: Vec<String> = zones.into_iter().collect();
        let problem =
            Diagnostic::new(Location::whole("--zone"), "is a zone that no place listed is in").text(text);
        return Err(if zones.is_empty() {
            problem
        } else {
            problem.expected(format!("one of {}", zones.join(", ")))
        });
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
