//! Finds a place that has no climate of its own: a town, a ZIP or postal code, a point, or a further station. A town, an
//! area or a point gets the figures of a station nearby.

use super::atlas::Town;
use super::design::DesignBy;
use super::error::ClimateError;
use super::library::Library;
use super::listing::Filter;
use super::place::{Borrowed, Climate};
use super::point::Point;
use super::states::StateName;
use super::stations::with_figures;
use super::words::{fold, name, without_station};
use crate::diag::{Diagnostic, Location};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A town within this distance names an area or a point, m.
const NAMED_BY: f64 = 25_000.0;
/// A town within this distance gives a point its elevation, m.
const AS_HIGH_AS: f64 = 10_000.0;
/// A postal area within this distance gives a town its climate zone, m.
const SAME_ZONE: f64 = 25_000.0;
/// A town this many times as large as every other of its name is the one that is meant without a state.
const FAR_LARGER: u32 = 10;
/// Towns that are listed where several have a name.
const MOST_LISTED: usize = 8;

/// What a text may mean, with its words and, if it names a state, the words before it and the state.
pub(super) struct Wanted<'w> {
    pub text: &'w str,
    pub words: &'w [String],
    pub town_and_state: Option<(&'w [String], &'w StateName)>,
    pub at: &'w Location,
}

/// A town, and the states of other towns of its name.
type NamedTown<'a> = (&'a Town, Vec<Arc<str>>);

impl Library {
    /// The climate of a town, a postal area, a point or a further station; `None` if the text is none of these.
    pub(super) fn elsewhere(&self, wanted: &Wanted<'_>) -> Result<Option<Arc<Climate>>, Diagnostic> {
        let text = wanted.text.trim();
        let station = self.further_station(text);
        let area = self.atlas().postal_area(text);
        match (station, area) {
            (Some(station), Some(area)) => {
                return Err(station_or_zip(station, &area.code).at(wanted.at).text(text));
            }
            (Some(station), None) => return Ok(Some(Arc::clone(station))),
            (None, Some(area)) => {
                let town = self.atlas().known_town_near(area.position, NAMED_BY);
                let is_canadian = area.code.starts_with(|first: char| first.is_ascii_alphabetic());
                let code = format!("{} {}", if is_canadian { "postal code" } else { "ZIP" }, area.code);
                let place = Climate {
                    id: code.clone().into(),
                    name: town.map_or_else(|| code.clone(), |town| format!("{code}, {}", town.name)).into(),
                    state: Some(area.state.clone()),
                    zone: area.zone.clone(),
                    elevation: self.elevation_near(area.position),
                    ..Climate::unknown()
                };
                return self.with_station(place, area.position, Vec::new(), wanted).map(Some);
            }
            (None, None) => {}
        }
        if let Ok(point) = Point::parse(text, wanted.at) {
            return self.of_point(&point, wanted).map(Some);
        }
        if let Some(climate) = self.town(wanted)? {
            return Ok(Some(climate));
        }
        Ok(self.station_named(wanted).cloned())
    }

    /// The climate of the town that a text names.
    pub(super) fn town(&self, wanted: &Wanted<'_>) -> Result<Option<Arc<Climate>>, Diagnostic> {
        let Some((town, same_name_in)) = self.the_town(wanted)? else { return Ok(None) };
        let place = Climate {
            id: format!("{}, {}", town.name, town.state).into(),
            name: town.name.clone(),
            state: Some(town.state.clone()),
            zone: self.atlas().zone_near(town.position, SAME_ZONE),
            elevation: town.elevation,
            ..Climate::unknown()
        };
        self.with_station(place, town.position, same_name_in, wanted).map(Some)
    }

    /// Asks for the state of a town that is built in, if a colder town of another state has its name and is not far smaller:
    /// Portland is also in Maine.
    pub(super) fn check_no_colder_namesake(
        &self,
        climate: &Climate,
        words: &[String],
    ) -> Result<(), ClimateError> {
        if climate.whose.is_own() {
            return Ok(());
        }
        let towns = self.atlas().towns_named(words, None);
        let is_own = |town: &&&Town| climate.state.as_ref() == Some(&town.state);
        let Some(own) = towns.iter().find(is_own) else { return Ok(()) };
        let low = |climate: &Climate| climate.low_by(DesignBy::Years(20.0));
        let is_colder = |town: &Town| {
            let there = self.station_for(town.position, town.elevation, Some(&town.state));
            let there = there.and_then(|it| low(&it.station.climate));
            there.zip(low(climate)).is_some_and(|(there, here)| there < here)
        };
        let mut others = towns.iter().filter(|it| !is_own(it));
        let is_doubtful = others.any(|town| own.population / FAR_LARGER < town.population && is_colder(town));
        if is_doubtful { Err(several_towns(&towns)) } else { Ok(()) }
    }

    fn of_point(&self, point: &Point, wanted: &Wanted<'_>) -> Result<Arc<Climate>, Diagnostic> {
        // Reports a wrong sign or order.
        self.nearest(point, &Filter::default(), None, 1, wanted.at)?;
        let town = self.atlas().known_town_near(point.position(), NAMED_BY);
        let place = Climate {
            id: wanted.text.trim().into(),
            name: town
                .map_or_else(|| point.text.to_string(), |town| format!("{} near {}", point.text, town.name))
                .into(),
            state: town.map(|town| town.state.clone()),
            zone: self.atlas().zone_near(point.position(), SAME_ZONE),
            elevation: self.elevation_near(point.position()),
            ..Climate::unknown()
        };
        self.with_station(place, point.position(), Vec::new(), wanted)
    }

    fn with_station(
        &self,
        place: Climate,
        position: [f64; 2],
        same_name_in: Vec<Arc<str>>,
        wanted: &Wanted<'_>,
    ) -> Result<Arc<Climate>, Diagnostic> {
        let [latitude, longitude] = position.map(Some);
        let place = Climate { latitude, longitude, ..place };
        match self.station_for(position, place.elevation, place.state.as_deref()) {
            Some(borrowed) => Ok(Arc::new(with_figures(Borrowed { same_name_in, ..borrowed }, place))),
            None => Err(ClimateError::NoStation.at(wanted.at).text(wanted.text.trim())),
        }
    }

    /// A further station by its number, or without the 0 that lists append.
    fn further_station(&self, number: &str) -> Option<&Arc<Climate>> {
        let matches = |id: &str| id == number || (number.len() == 5 && id.strip_suffix('0') == Some(number));
        self.stations().find(|station| matches(&station.id))
    }

    /// The further station of a name, if only one has it.
    fn station_named(&self, wanted: &Wanted<'_>) -> Option<&Arc<Climate>> {
        let (words, state) = match wanted.town_and_state {
            Some((words, state)) => (words, Some(state)),
            None => (wanted.words, None),
        };
        let [full, stem] = [name(words), without_station(words)];
        let mut found = self.stations().filter(|station| {
            let own = fold(&station.name);
            state.is_none_or(|state| state.holds(station))
                && (name(&own) == full || !stem.is_empty() && without_station(&own) == stem)
        });
        let first = found.next()?;
        found.next().is_none().then_some(first)
    }

    /// The elevation of the town nearest to a point, if one is near enough, m.
    fn elevation_near(&self, position: [f64; 2]) -> Option<f64> {
        self.atlas().town_near(position, AS_HIGH_AS)?.elevation
    }

    /// The town that a text names, and the states of other towns of the name: the only one, the one that is far larger
    /// than the others, or the largest if all have one station.
    fn the_town(&self, wanted: &Wanted<'_>) -> Result<Option<NamedTown<'_>>, Diagnostic> {
        let in_state = |(words, state)| self.atlas().towns_named(words, Some(state));
        let mut found = wanted.town_and_state.map(in_state).unwrap_or_default();
        // A state's name alone is a question, whatever towns are called so.
        if found.is_empty() && self.state_named(wanted.text).is_none() {
            found = self.atlas().towns_named(wanted.words, None);
        }
        let [first, others @ ..] = found.as_slice() else { return Ok(None) };
        let station = |town: &Town| {
            let borrowed = self.station_for(town.position, town.elevation, Some(&town.state))?;
            Some(borrowed.station.climate.id.clone())
        };
        let is_far_larger =
            |town: &&Town| town.state != first.state && first.population / FAR_LARGER >= town.population;
        if others.iter().all(is_far_larger) {
            let states: BTreeSet<Arc<str>> = others.iter().map(|town| town.state.clone()).collect();
            return Ok(Some((first, states.into_iter().collect())));
        }
        if others.iter().all(|town| town.state == first.state && station(town) == station(first)) {
            return Ok(Some((first, Vec::new())));
        }
        Err(several_towns(&found).at(wanted.at).text(wanted.text.trim()))
    }
}

/// The error for five digits that are the number of a station and a ZIP code.
pub(super) fn station_or_zip(station: &Climate, zip: &str) -> ClimateError {
    let number = station.station.as_deref().unwrap_or_default();
    let station = format!("station {number} ({})", station.name_and_state());
    ClimateError::StationOrZip { zip: zip.to_owned(), station }
}

/// The error that lists towns of one name, the largest first.
fn several_towns(found: &[&Town]) -> ClimateError {
    let is_one_state = found.iter().all(|town| town.state == found[0].state);
    let mut towns: Vec<String> = found
        .iter()
        .take(MOST_LISTED)
        .map(|town| {
            let [latitude, longitude] = town.position;
            let place = if is_one_state { format!(" at {latitude}, {longitude}") } else { String::new() };
            format!("{}, {}{place}", town.name, town.state)
        })
        .collect();
    if found.len() > MOST_LISTED {
        towns.push(format!("and {} more", found.len() - MOST_LISTED));
    }
    ClimateError::SeveralTowns { count: found.len(), towns: towns.join("; "), is_one_state }
}
