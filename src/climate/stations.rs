//! Chooses the station whose figures stand for a point that is not at a station.

use super::atlas::{Atlas, Site, Town};
use super::library::Library;
use super::near::distance_within;
use super::place::{Borrowed, Climate, Near};
use super::states::State;
use std::sync::Arc;

/// A difference of height counts as a distance, m for m: 100 m as 10 km. It is a choice, not a law: leaving each of the
/// stations out in turn, twice or half as much predicts them as well.
const HEIGHT_AS_DISTANCE: f64 = 100.0;
/// Stations up to this many times as far as the nearest one are compared, and this much farther, m.
const AS_NEAR: f64 = 1.5;
const NEARLY: f64 = 15_000.0;
/// Most stations compared.
const COMPARED: usize = 5;
/// A station this much colder than the middle one of those compared is not plausible for the point, K.
const IMPLAUSIBLE: f64 = 5.0;
/// A station on the water stands for points on its own shore: within this distance, and below this height, m.
const SHORE: f64 = 15_000.0;
const SHORE_HEIGHT: f64 = 60.0;
/// Editions from this one on are not mixed with older ones, which rest on older, colder years.
const RECENT: u16 = 2013;
/// An older edition's station is shown if its 20-year low is this much colder, K.
const SHOWN_IF_COLDER: f64 = 2.0;
/// A larger town within this distance names a point before the nearest one does, m.
const CLOSE_BY: f64 = 10_000.0;
/// Beyond this distance no station says anything about a point, m.
const NO_STATION: f64 = 300_000.0;

impl Library {
    /// The station for a point: of those about as near as the nearest, in distance and height, the one with the coldest
    /// 20-year low that is still plausible; one of the same country before another. `None` if there is no station within
    /// 300 km.
    pub(super) fn station_for(
        &self,
        position: [f64; 2],
        elevation: Option<f64>,
        state: Option<&str>,
    ) -> Option<Borrowed> {
        let own = self.iter().map(|climate| (climate, Site::Land));
        let more = self.atlas().stations.iter().map(|(climate, site)| (climate, *site));
        let mut near: Vec<(f64, f64, Near)> = own
            .chain(more)
            .filter_map(|(climate, site)| {
                let station = [climate.latitude?, climate.longitude?];
                let distance = distance_within(position, station, NO_STATION)?;
                let low = climate.annual_low?.low(20.0)?;
                let higher = elevation.zip(climate.elevation).map(|(point, station)| point - station);
                let is_own_site = distance < SHORE
                    && (site != Site::Marine || elevation.is_none_or(|meters| meters < SHORE_HEIGHT));
                let rank = distance.hypot(HEIGHT_AS_DISTANCE * higher.unwrap_or_default());
                (site == Site::Land || is_own_site)
                    .then(|| (rank, low, Near { climate: Arc::clone(climate), distance, higher }))
            })
            .collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.2.climate.id.cmp(&b.2.climate.id)));
        let least = near.first()?.0;
        near.retain(|(rank, ..)| *rank <= (AS_NEAR * least).max(least + NEARLY));
        near.truncate(COMPARED);
        let country = |state: Option<&str>| Some(State::find(state?)?.country);
        let is_home = |near: &Near| country(near.climate.state.as_deref()) == country(state);
        if near.iter().any(|(.., near)| is_home(near)) {
            near.retain(|(.., near)| is_home(near));
        }
        let mut lows: Vec<f64> = near.iter().map(|(_, low, _)| *low).collect();
        lows.sort_by(f64::total_cmp);
        let middle = 0.5 * (lows[(lows.len() - 1) / 2] + lows[lows.len() / 2]);
        near.retain(|(_, low, _)| *low >= middle - IMPLAUSIBLE);
        let (recent, older): (Vec<_>, Vec<_>) =
            near.into_iter().partition(|(.., near)| near.climate.edition.is_none_or(|year| year >= RECENT));
        match (coldest(&recent), coldest(&older)) {
            (Some((low, station)), older) => {
                let colder = older.filter(|(other, _)| *other <= low - SHOWN_IF_COLDER);
                Some(Borrowed { station, colder: colder.map(|(_, near)| near), same_name_in: Vec::new() })
            }
            (None, older) => {
                older.map(|(_, station)| Borrowed { station, colder: None, same_name_in: Vec::new() })
            }
        }
    }
}

/// The coldest, the nearest of several equally cold.
fn coldest(near: &[(f64, f64, Near)]) -> Option<(f64, Near)> {
    let by_low = near.iter().min_by(|a, b| a.1.total_cmp(&b.1).then_with(|| a.0.total_cmp(&b.0)));
    by_low.map(|(_, low, near)| (*low, near.clone()))
}

impl Atlas {
    /// The town nearest to a point within a distance, m.
    pub(super) fn town_near(&self, position: [f64; 2], within: f64) -> Option<&Town> {
        let near = self
            .towns
            .iter()
            .filter_map(|town| Some((distance_within(position, town.position, within)?, town)));
        near.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, town)| town)
    }

    /// The town that people would name for a point: the largest close by, otherwise the nearest within a distance, m.
    pub(super) fn known_town_near(&self, position: [f64; 2], within: f64) -> Option<&Town> {
        let is_close = |town: &&Town| distance_within(position, town.position, CLOSE_BY).is_some();
        let close = self.towns.iter().filter(is_close);
        close.max_by_key(|town| town.population).or_else(|| self.town_near(position, within))
    }

    /// The climate zone at a point: that of the nearest postal area with one.
    pub(super) fn zone_near(&self, position: [f64; 2], within: f64) -> Option<Arc<str>> {
        let near = self.postal.iter().filter_map(|area| {
            Some((distance_within(position, area.position, within)?, area.zone.as_ref()?))
        });
        near.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, zone)| Arc::clone(zone))
    }
}

/// A place with the figures of a station.
pub(super) fn with_figures(borrowed: Borrowed, place: Climate) -> Climate {
    let station = &borrowed.station.climate;
    Climate {
        measured_at: Some(station.station_name().into()),
        station: station.station.clone(),
        zone: place.zone.or_else(|| station.zone.clone()),
        elevation: place.elevation.or(station.elevation),
        heating_996: station.heating_996,
        heating_990: station.heating_990,
        annual_low: station.annual_low.map(|low| super::AnnualLow { is_elsewhere: true, ..low }),
        coldest_recorded: station.coldest_recorded,
        coldest_month: station.coldest_month,
        coldest_month_mean: station.coldest_month_mean,
        summer_dew_point: place.summer_dew_point.or(station.summer_dew_point),
        supply_water: place.supply_water.or(station.supply_water),
        coldest_month_within: station.coldest_month_within,
        coldest_month_source: station.coldest_month_source.clone(),
        source: station.source.clone(),
        edition: station.edition,
        location: station.location.clone(),
        whose: station.whose,
        borrowed: Some(Arc::new(borrowed)),
        ..place
    }
}
