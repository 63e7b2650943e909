//! Finds the place that a text means: by id, by the number of its station, or by name. Several matches are an error.

use super::atlas::Town;
use super::design::DesignBy;
use super::error::{ClimateError, UnknownClimate};
use super::library::Library;
use super::place::Climate;
use super::states::StateName;
use super::towns::{Wanted, station_or_zip};
use super::words::{fold, name, without_station};
use crate::diag::{Diagnostic, Location, nearest};
use crate::units::{Hedge, hedges};
use std::sync::Arc;

/// Candidates that are listed.
const MOST_LISTED: usize = 8;
/// Words of the longest name of a state.
const STATE_WORDS: usize = 4;

impl Library {
    /// The climate that a text at a location means: an id, the number of a station, or a name as people write it, with or
    /// without its state. If several fit equally well, or none, the error lists them or names the nearest.
    pub fn find(&self, text: &str, at: &Location) -> Result<Arc<Climate>, Diagnostic> {
        let wanted = text.trim().to_lowercase();
        if let Some(skipped) = self.skipped.iter().find(|place| place.id.to_lowercase() == wanted) {
            return Err(ClimateError::SkippedPlace { file: skipped.file.to_string() }.at(at).text(text));
        }
        if let Some(found) = self.iter().find(|climate| climate.id.to_lowercase() == wanted) {
            return Ok(found.clone());
        }
        // "Or" and "ca" may be states.
        if text.contains(['?', '~', '≈']) || hedges(text).iter().any(|(_, hedge)| *hedge == Hedge::Open) {
            let bare = text.trim().trim_end_matches(['?', '~', ' ']).trim_start_matches(['~', ' ']);
            let problem = Diagnostic::new(at.clone(), "is doubtful, not final").text(text);
            let problem = problem.expected("one place, for certain");
            let nearest = (bare != text && self.find(bare, at).is_ok()).then(|| bare.into());
            return Err(Diagnostic { nearest, ..problem });
        }
        let words = fold(text);
        let mut found = self.by_station(&wanted);
        if let (Some(station), Some(area)) = (found.first(), self.atlas().postal_area(&wanted)) {
            return Err(station_or_zip(station, &area.code).at(at).text(text));
        }
        if found.is_empty() {
            found = self.by_name(&words, |_| true);
        }
        let town_and_state = self.split_state(&words);
        if let (true, Some((town, state))) = (found.is_empty(), &town_and_state) {
            found = self.by_name(town, |climate| state.holds(climate));
        }
        if let [one] = found.as_slice() {
            self.check_no_colder_namesake(one, &words).map_err(|error| error.at(at).text(text.trim()))?;
            return Ok((*one).clone());
        }
        let town_and_state = town_and_state.as_ref().map(|(town, state)| (*town, state));
        let wanted = Wanted { text, words: &words, town_and_state, at };
        if !found.is_empty() {
            // Of several stations of one town, the colder one.
            let is_one_town = found.iter().all(|climate| climate.state == found[0].state)
                && self.town(&wanted).is_ok_and(|town| town.is_some());
            let coldest = found.iter().min_by(|a, b| low(a).total_cmp(&low(b)));
            return match coldest {
                Some(coldest) if is_one_town => Ok(Arc::clone(coldest)),
                _ => Err(several_places(&found, at).text(text)),
            };
        }
        let elsewhere = self.elsewhere(&wanted)?;
        elsewhere.ok_or_else(|| self.unknown(&words, town_and_state, text, at))
    }

    /// By the number of a station as published, or without the 0 that lists append.
    fn by_station(&self, number: &str) -> Vec<&Arc<Climate>> {
        let matches = |station: &str| {
            station == number || (number.len() == 5 && station.strip_suffix('0') == Some(number))
        };
        self.iter().filter(|climate| climate.station.as_deref().is_some_and(matches)).collect()
    }

    /// Those whose name fits best; several if they fit equally well.
    fn by_name(&self, words: &[String], may: impl Fn(&Climate) -> bool) -> Vec<&Arc<Climate>> {
        let (full, stem) = (name(words), without_station(words));
        let all: Vec<(&Arc<Climate>, Names)> =
            self.iter().filter(|climate| may(climate)).map(|climate| (climate, names(climate))).collect();
        let fitting = |tier: usize| -> Vec<&Arc<Climate>> {
            let wanted = if tier == STEMS { &stem } else { &full };
            let fits = |names: &Names| !wanted.is_empty() && names[tier].contains(wanted);
            all.iter().filter(|(_, names)| fits(names)).map(|(climate, _)| *climate).collect()
        };
        let mut found = (0..TIERS).map(fitting).find(|found| !found.is_empty()).unwrap_or_default();
        // Include other stations of the city, whose names say more: chicago-il, chicago-midway-il.
        if let [one] = found.as_slice()
            && let Some(town) = town_of(one)
            && name(&fold(town)) == full
        {
            let (head, state) = (format!("{town}-"), one.state.clone());
            let others = all.iter().map(|(climate, _)| *climate);
            found.extend(others.filter(|other| {
                other.state == state && other.id.starts_with(&head) && town_of(other) != Some(town)
            }));
        }
        found
    }

    /// The words before a state or a province, and the state.
    fn split_state<'w>(&self, words: &'w [String]) -> Option<(&'w [String], StateName)> {
        (1..=STATE_WORDS.min(words.len().saturating_sub(1))).rev().find_map(|count| {
            let (town, state) = words.split_at(words.len() - count);
            Some((town, self.state_named(&state.join(" "))?))
        })
    }

    /// A state of the table, or one that a place states.
    pub(super) fn state_named(&self, text: &str) -> Option<StateName> {
        StateName::find(text, self.iter().filter_map(|climate| climate.state.as_ref()))
    }

    fn unknown(
        &self,
        words: &[String],
        town_and_state: Option<(&[String], &StateName)>,
        text: &str,
        at: &Location,
    ) -> Diagnostic {
        let (nearest, expected) = match (town_and_state, self.state_named(text)) {
            (Some((town, state)), _) => {
                let nearest = self.nearest_name(town, |climate| state.holds(climate));
                let nearest = nearest.or_else(|| self.nearest_town(town, Some(state)));
                let expected = nearest.is_none().then(|| self.places_of(state, true));
                (nearest, expected)
            }
            (None, Some(state)) => (None, Some(self.places_of(&state, false))),
            (None, None) => {
                // A name that is more than a typing error away may be another town.
                let known = self.nearest_name(words, |_| true);
                let is_typo = known.as_ref().is_some_and(|id| self.is_typo(words, id));
                let nearest = known.or_else(|| self.nearest_town(words, None));
                (nearest, (!is_typo).then_some(UnknownClimate::Anywhere))
            }
        };
        let has_own = self.iter().any(|climate| climate.whose.is_own());
        Diagnostic {
            nearest: nearest.map(Into::into),
            ..ClimateError::UnknownClimate { has_own, expected }.at(at).text(text)
        }
    }

    /// The way to the places of a state, for a town of it or for the state alone.
    fn places_of(&self, state: &StateName, is_town: bool) -> UnknownClimate {
        let StateName { code, name } = state.clone();
        match (self.iter().any(|climate| state.holds(climate)), is_town) {
            (false, _) => UnknownClimate::EmptyState { name },
            (true, true) => UnknownClimate::TownOfState { code },
            (true, false) => UnknownClimate::State { code, name },
        }
    }

    /// Whether the words are one letter away from a name of the place with this id.
    fn is_typo(&self, words: &[String], id: &str) -> bool {
        let typed = name(words);
        self.iter().find(|climate| *climate.id == *id).is_some_and(|climate| {
            let names = names(climate).into_iter().flatten().chain([name(&fold(&climate.id))]);
            names.into_iter().any(|name| strsim::osa_distance(&name, &typed) <= 1)
        })
    }

    /// The town whose name is most like the words, with its state.
    fn nearest_town(&self, words: &[String], state: Option<&StateName>) -> Option<String> {
        let in_state = |town: &&Town| state.is_none_or(|state| *state.code == *town.state);
        let towns: Vec<&Town> = self.atlas().towns.iter().filter(in_state).collect();
        let near = nearest(&name(words), towns.iter().map(|town| &*town.key))?;
        let same = towns.iter().filter(|town| town.key == near);
        same.max_by_key(|town| town.population).map(|town| format!("{}, {}", town.name, town.state))
    }

    /// The id of the place whose name or id is most like the words.
    fn nearest_name(&self, words: &[String], may: impl Fn(&Climate) -> bool) -> Option<String> {
        let mut names: Vec<(String, &Arc<str>)> = Vec::new();
        for climate in self.iter().filter(|climate| may(climate)) {
            let parts = std::iter::once(&*climate.name).chain(climate.name.split(['-', '/']));
            let ids = [climate.id.to_lowercase(), town_of(climate).unwrap_or_default().to_owned()];
            let own = ids.into_iter().chain(parts.map(|part| fold(part).join("-")));
            names.extend(own.filter(|name| !name.is_empty()).map(|name| (name, &climate.id)));
        }
        let typed = words.join("-");
        let near = nearest(&typed, names.iter().map(|(name, _)| name.as_str()))?;
        names.iter().find(|(name, _)| name == near).map(|(_, id)| id.to_string())
    }
}

/// Names of a place as they are compared, from the most specific: city with station; city or station; the same without
/// generic words of stations; parts of a name such as Minneapolis-St Paul.
type Names = [Vec<String>; TIERS];
const TIERS: usize = 4;
/// The tier of names without generic words of stations.
const STEMS: usize = 2;

fn names(climate: &Climate) -> Names {
    let city = fold(&climate.name);
    let station = climate.measured_at.as_deref().map(fold).unwrap_or_default();
    let both = if station.is_empty() { Vec::new() } else { [city.clone(), station.clone()].concat() };
    let stems = [&city, &both, &station].map(|words| without_station(words));
    let mut whole = vec![name(&city)];
    whole.extend(town_of(climate).map(|town| name(&fold(town))));
    // "Airport" alone is a station of every city.
    whole.extend((!stems[2].is_empty()).then(|| name(&station)));
    let parts: Vec<&str> = climate.name.split(['-', '/', ',', '(']).collect();
    let parts = parts.iter().filter(|_| parts.len() > 1).map(|part| name(&fold(part))).collect();
    [vec![name(&both)], whole, stems.into(), parts]
}

/// The 20-year low to compare places by, K; unknown ones last.
fn low(climate: &Climate) -> f64 {
    climate.low_by(DesignBy::Years(20.0)).unwrap_or(f64::INFINITY)
}

/// The id without its state: `minneapolis` of `minneapolis-mn`.
fn town_of(climate: &Climate) -> Option<&str> {
    let (town, state) = climate.id.rsplit_once('-')?;
    climate.state.as_ref().is_some_and(|own| own.eq_ignore_ascii_case(state)).then_some(town)
}

fn several_places(several: &[&Arc<Climate>], at: &Location) -> Diagnostic {
    // "victoria-bc (Victoria, BC, airport)".
    let mut places: Vec<String> = several
        .iter()
        .take(MOST_LISTED)
        .map(|climate| {
            let at = climate.measured_at.as_ref().map_or_else(String::new, |at| format!(", {at}"));
            let yours = if climate.whose.is_own() { ", yours" } else { "" };
            format!("{} ({}{at}{yours})", climate.id, climate.name_and_state())
        })
        .collect();
    if several.len() > MOST_LISTED {
        places.push(format!("and {} more", several.len() - MOST_LISTED));
    }
    ClimateError::SeveralPlaces { count: several.len(), places: places.join(", ") }.at(at)
}
