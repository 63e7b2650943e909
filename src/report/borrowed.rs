//! What a page says where a place has the figures of a station nearby.

use super::climates::{far, height, low_text, relative_height};
use super::words::listed;
use crate::climate::{Borrowed, Climate, DesignBy, FAR, MOST_ELEVATION_DIFFERENCE, Near};
use crate::units::System;
use std::sync::Arc;

/// States of other towns of a name that are listed.
const MOST_STATES: usize = 5;

/// Sentences about the station: which one, then cautions.
pub(super) fn notes(climate: &Climate, system: System) -> Vec<String> {
    let Some(borrowed) = &climate.borrowed else { return Vec::new() };
    let Borrowed { station, colder, same_name_in } = &**borrowed;
    let mut notes = vec![format!("Figures of {}.", of_station(station, system))];
    if station.is_far() {
        notes.push(format!(
            "That is far: beyond {} the lows of one place say little about another. Ask the building department for its winter \
             temperature.",
            far(FAR, system)
        ));
    }
    if let (true, Some(higher)) = (station.differs_in_elevation(), station.higher) {
        let caution =
            if higher > 0.0 { "colder; ask" } else { "milder, or colder in a valley on a calm night; ask" };
        notes.push(format!(
            "The place is more than {} {} than the station and may be {caution} the building department for its winter temperature.",
            height(MOST_ELEVATION_DIFFERENCE, system),
            if higher > 0.0 { "higher" } else { "lower" },
        ));
    }
    if let Some(colder) = colder
        && let Some(low) = colder.climate.low_by(DesignBy::Years(20.0))
    {
        let (low, station) = (low_text(low, system), of_station(colder, system));
        notes.push(format!("Older figures nearby are colder: 20-year low {low} at {station}."));
    }
    if !same_name_in.is_empty() {
        let states: &[Arc<str>] = same_name_in;
        notes.push(format!("Smaller towns of that name: in {}.", listed(states, MOST_STATES)));
    }
    notes
}

/// "St Cloud Rgnl AP, MN (station 726550, edition 2013), 5.2 mi away and 20 ft lower".
fn of_station(near: &Near, system: System) -> String {
    let station = &near.climate;
    let number = station.station.as_ref().map(|number| format!("station {number}"));
    let edition = station.edition.map(|year| format!("edition {year}"));
    let known: Vec<String> = number.into_iter().chain(edition).collect();
    let known = if known.is_empty() { String::new() } else { format!(" ({})", known.join(", ")) };
    let height = near.higher.map_or_else(String::new, |higher| match relative_height(-higher, system) {
        level if level == "level" => " at the same height".into(),
        relative => format!(" and {relative}"),
    });
    format!("{}{known}, {} away{height}", station.station_name(), far(near.distance, system))
}
