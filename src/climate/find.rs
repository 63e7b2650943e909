//! Which place a person means: by id, by the number of its station, or by name. Never one of two in silence.

use super::library::Library;
use super::place::{Climate, Whose};
use super::states::State;
use super::words::{fold, name, without_station};
use crate::diag::{Diagnostic, Location, nearest};
use std::sync::Arc;

/// Candidates that are named one by one.
const NAMED: usize = 8;
/// The way to a place for a town that is none.
const NO_TOWN: &str =
    "one that `coldsill climates` lists, --state MN those of a state; --near LAT,LON finds the nearest";
/// Words that the longest name of a state has.
const STATE_WORDS: usize = 4;

impl Library {
    /// The climate that a text at a place means: an id, the number of a station, or a name as people write it, with or
    /// without its state. Of several that fit equally well none is taken: the problem names them. Where none fits, the
    /// problem names the nearest.
    pub fn find(&self, text: &str, at: &Location) -> Result<Arc<Climate>, Diagnostic> {
        let wanted = text.trim().to_lowercase();
        if let Some(it) = self.left_out.iter().find(|it| it.id.to_lowercase() == wanted) {
            let problem =
                Diagnostic::new(at.clone(), "is a place of yours that could not be read").text(text);
            return Err(problem.expected(format!("what is wrong with it mended in {}", it.file)));
        }
        if let Some(found) = self.iter().find(|it| it.id.to_lowercase() == wanted) {
            return Ok(found.clone());
        }
        let words = fold(text);
        let mut found = self.by_station(&wanted);
        if found.is_empty() {
            found = self.by_name(&words, |_| true);
        }
        let in_state = self.in_state(&words);
        if let (true, Some((town, state))) = (found.is_empty(), &in_state) {
            found = self.by_name(town, |it| state.holds(it));
        }
        match found.as_slice() {
            [one] => Ok((*one).clone()),
            [] => Err(self.none(text, at, &words, in_state.as_ref())),
            several => Err(ambiguous(text, at, several)),
        }
    }

    /// By its number as published, or without the 0 that lists put behind it.
    fn by_station(&self, number: &str) -> Vec<&Arc<Climate>> {
        let is_meant = |it: &str| it == number || (number.len() == 5 && it.strip_suffix('0') == Some(number));
        self.iter().filter(|it| it.station.as_deref().is_some_and(is_meant)).collect()
    }

    /// Those that fit best; several where they fit equally well.
    fn by_name(&self, words: &[String], may: impl Fn(&Climate) -> bool) -> Vec<&Arc<Climate>> {
        let (full, stem) = (name(words), without_station(words));
        if full.is_empty() {
            return Vec::new();
        }
        let all: Vec<(&Arc<Climate>, Names)> =
            self.iter().filter(|it| may(it)).map(|it| (it, Names::of(it))).collect();
        let of = |fits: &dyn Fn(&Names) -> bool| -> Vec<&Arc<Climate>> {
            all.iter().filter(|(_, names)| fits(names)).map(|(it, _)| *it).collect()
        };
        let tiers: [&dyn Fn(&Names) -> bool; 4] = [
            &|it| it.station_of_city == full,
            &|it| {
                // "Airport" alone is every city's.
                let by_station = it.station == full && !it.station_stem.is_empty();
                it.city == full || it.town_of_id == full || by_station
            },
            &|it| {
                !stem.is_empty()
                    && [&it.city_stem, &it.station_of_city_stem, &it.station_stem].contains(&&stem)
            },
            &|it| it.parts.contains(&full),
        ];
        let mut found = tiers.into_iter().map(of).find(|found| !found.is_empty()).unwrap_or_default();
        // Another station of the city is not passed over because its name says more: chicago-il, chicago-midway-il.
        if let [one] = found.as_slice()
            && let Some(town) = town_of(one)
            && name(&fold(town)) == full
        {
            let head = format!("{town}-");
            let state = one.state.clone();
            found.extend(
                all.iter()
                    .map(|(it, _)| *it)
                    .filter(|it| it.state == state && it.id.starts_with(&head) && town_of(it) != Some(town)),
            );
        }
        found
    }

    /// The words before a state or a province, and which it is.
    fn in_state<'w>(&self, words: &'w [String]) -> Option<(&'w [String], Within)> {
        (1..=STATE_WORDS.min(words.len().saturating_sub(1))).rev().find_map(|count| {
            let (town, state) = words.split_at(words.len() - count);
            Some((town, self.within(&state.join(" "))?))
        })
    }

    /// A state of the table, or one that a place says it is in.
    pub(super) fn within(&self, text: &str) -> Option<Within> {
        let known = State::find(text).map(Within::Known);
        known.or_else(|| {
            let wanted = fold(text).concat();
            let own = self.iter().filter_map(|it| it.state.as_ref());
            own.into_iter().find(|it| fold(it).concat() == wanted).map(|it| Within::Own(it.clone()))
        })
    }

    fn none(
        &self,
        text: &str,
        at: &Location,
        words: &[String],
        in_state: Option<&(&[String], Within)>,
    ) -> Diagnostic {
        let has_own = self.iter().any(|it| it.whose.is_own());
        let what = if has_own {
            "is neither a climate that is built in nor one of yours"
        } else {
            "is not a climate that is built in"
        };
        let problem = Diagnostic::new(at.clone(), what).text(text);
        let Some((town, state)) = in_state else {
            return match self.within(text) {
                Some(state) if self.iter().any(|it| state.holds(it)) => problem.expected(format!(
                    "a place; `coldsill climates --state {}` lists those of {}",
                    state.short(),
                    state.name()
                )),
                Some(state) => problem.expected(none_of(&state)),
                None => self.none_like(words, problem),
            };
        };
        match self.nearest_name(town, |it| state.holds(it)) {
            Some(id) => Diagnostic { nearest: Some(id), ..problem },
            None if self.iter().any(|it| state.holds(it)) => {
                problem.expected(format!("one that `coldsill climates --state {}` lists", state.short()))
            }
            None => problem.expected(none_of(state)),
        }
    }

    /// With the nearest name. One that is more than a slip of the finger away may be another town: then also the way to
    /// what is near.
    fn none_like(&self, words: &[String], problem: Diagnostic) -> Diagnostic {
        let nearest = self.nearest_name(words, |_| true);
        let spoken = name(words);
        let is_a_slip =
            nearest.as_ref().and_then(|id| self.iter().find(|it| *it.id == **id)).is_some_and(|it| {
                let Names { city, town_of_id, parts, .. } = Names::of(it);
                let own = [city, town_of_id, name(&fold(&it.id))].into_iter().chain(parts);
                own.into_iter().any(|own| strsim::osa_distance(&own, &spoken) <= 1)
            });
        let problem = Diagnostic { nearest, ..problem };
        if is_a_slip { problem } else { problem.expected(NO_TOWN) }
    }

    /// The id of the place whose name or id is most like the words.
    fn nearest_name(&self, words: &[String], may: impl Fn(&Climate) -> bool) -> Option<String> {
        let spoken = words.join("-");
        let named: Vec<(String, &Arc<str>)> = self
            .iter()
            .filter(|it| may(it))
            .flat_map(|it| {
                let own = [it.id.to_lowercase(), town_of(it).unwrap_or_default().to_owned()];
                let parts = std::iter::once(&*it.name).chain(it.name.split(['-', '/']));
                let names = parts.map(|it| fold(it).join("-")).collect::<Vec<_>>();
                own.into_iter().chain(names).filter(|name| !name.is_empty()).map(|name| (name, &it.id))
            })
            .collect();
        let near = nearest(&spoken, named.iter().map(|(name, _)| name.as_str()))?;
        named.iter().find(|(name, _)| name == near).map(|(_, id)| id.to_string())
    }
}

/// The names a place goes by, as they are compared; empty where it has none such.
struct Names {
    city: String,
    city_stem: String,
    town_of_id: String,
    station: String,
    station_stem: String,
    station_of_city: String,
    station_of_city_stem: String,
    /// Of a name such as Minneapolis-St Paul.
    parts: Vec<String>,
}

impl Names {
    fn of(climate: &Climate) -> Self {
        let city = fold(&climate.name);
        let station = climate.measured_at.as_deref().map(fold).unwrap_or_default();
        let both = if station.is_empty() { Vec::new() } else { [city.clone(), station.clone()].concat() };
        let parts: Vec<&str> = climate.name.split(['-', '/', ',', '(']).collect();
        Self {
            city: name(&city),
            city_stem: without_station(&city),
            town_of_id: town_of(climate).map(|it| name(&fold(it))).unwrap_or_default(),
            station: name(&station),
            station_stem: without_station(&station),
            station_of_city: name(&both),
            station_of_city_stem: without_station(&both),
            parts: if parts.len() > 1 {
                parts.iter().map(|it| name(&fold(it))).collect()
            } else {
                Vec::new()
            },
        }
    }
}

/// The id without its state: `minneapolis` of `minneapolis-mn`.
fn town_of(climate: &Climate) -> Option<&str> {
    let (town, state) = climate.id.rsplit_once('-')?;
    climate.state.as_ref().is_some_and(|it| it.eq_ignore_ascii_case(state)).then_some(town)
}

/// A state that places are looked for in.
#[derive(Clone, Debug)]
pub(super) enum Within {
    Known(&'static State),
    Own(Arc<str>),
}

impl Within {
    pub(super) fn holds(&self, climate: &Climate) -> bool {
        climate.state.as_ref().is_some_and(|own| match self {
            Self::Known(state) => State::find(own) == Some(*state),
            Self::Own(state) => fold(own).concat() == fold(state).concat(),
        })
    }

    fn short(&self) -> &str {
        match self {
            Self::Known(state) => state.code,
            Self::Own(state) => state,
        }
    }

    pub(super) fn name(&self) -> &str {
        match self {
            Self::Known(state) => state.name,
            Self::Own(state) => state,
        }
    }
}

fn none_of(state: &Within) -> String {
    let name = state.name();
    format!(
        "one that `coldsill climates` lists; of {name} there is none, and --near LAT,LON finds the nearest"
    )
}

/// "victoria-bc (Victoria, BC, airport)".
fn candidate(climate: &Climate) -> String {
    let at = climate.measured_at.as_ref().map_or_else(String::new, |it| format!(", {it}"));
    let yours = if climate.whose == Whose::BuiltIn { "" } else { ", yours" };
    format!("{} ({}{at}{yours})", climate.id, climate.name_and_state())
}

fn ambiguous(text: &str, at: &Location, several: &[&Arc<Climate>]) -> Diagnostic {
    let mut named: Vec<String> = several.iter().take(NAMED).map(|it| candidate(it)).collect();
    if several.len() > NAMED {
        named.push(format!("and {} more", several.len() - NAMED));
    }
    let what = format!("is {} places: {}", several.len(), named.join(", "));
    Diagnostic::new(at.clone(), what).text(text).expected("one of their ids")
}
