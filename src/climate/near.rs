//! The places nearest to a point, by great-circle distance; recognizes a wrong sign or order.

use super::error::ClimateError;
use super::library::Library;
use super::listing::Filter;
use super::place::{Climate, Near};
use super::point::Point;
use crate::diag::{Diagnostic, Location};
use crate::units::FOOT;
use std::sync::Arc;

/// Mean radius of the WGS 84 ellipsoid, (2a + b)/3, m.
const RADIUS: f64 = 6_371_008.8;
/// One mile, m.
pub(crate) const MILE: f64 = 5280.0 * FOOT;
/// Beyond this distance a place says little about another, m: 30 mi. Common practice.
pub const FAR: f64 = 30.0 * MILE;
/// Beyond this difference of height a place says little about another, m: 500 ft. Common practice.
pub const MOST_ELEVATION_DIFFERENCE: f64 = 500.0 * FOOT;
/// Lapse rate, K/m: 3.5 °F per 1000 ft, near the 6.5 K/km of the standard atmosphere.
const LAPSE: f64 = 3.5 / 1.8 / (1000.0 * FOOT);
/// A point farther than this from every place, but within [`CLOSE`] of one when a likely slip is undone, is an error, m.
const NOWHERE: f64 = 1000.0 * MILE;
const CLOSE: f64 = 500.0 * MILE;

impl Near {
    /// Whether it is too far away for its figures to say much: more than [`FAR`].
    pub fn is_far(&self) -> bool {
        self.distance > FAR
    }

    /// Whether the heights differ too much for its figures to say much: by more than [`MOST_ELEVATION_DIFFERENCE`].
    pub fn differs_in_elevation(&self) -> bool {
        self.higher.is_some_and(|higher| higher.abs() > MOST_ELEVATION_DIFFERENCE)
    }

    /// How much colder the point is than the place because of elevation alone, K.
    ///
    /// # Source
    /// 3.5 °F per 1000 ft, common practice. Cold air that collects in valleys on clear, calm nights reverses it.
    pub fn colder_by(&self) -> Option<f64> {
        self.higher.map(|higher| higher * LAPSE)
    }
}

/// Distance between two points along a great circle of a sphere, m: the haversine formula, which keeps its digits for points
/// close together.
///
/// # Valid for
/// Latitudes within ±90°. Within 0.6 % of the distance on the ellipsoid.
/// # Example
/// A quarter of the equator, 0°N 0°E to 0°N 90°E: 10 007 557 m.
pub fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    let [north, east] = [b[0] - a[0], b[1] - a[1]].map(f64::to_radians);
    let [half_north, half_east] = [north, east].map(|it| libm::sin(0.5 * it));
    let across = libm::cos(a[0].to_radians()) * libm::cos(b[0].to_radians());
    let square = half_north * half_north + across * half_east * half_east;
    2.0 * RADIUS * libm::asin(libm::sqrt(square.clamp(0.0, 1.0)))
}

/// The distance of two points, m, if it is no more than `most`.
pub(super) fn distance_within(a: [f64; 2], b: [f64; 2], most: f64) -> Option<f64> {
    // A degree of latitude has the same length everywhere, which settles most pairs without trigonometry.
    if (b[0] - a[0]).abs().to_radians() * RADIUS > most {
        return None;
    }
    Some(distance(a, b)).filter(|distance| *distance <= most)
}

impl Library {
    /// The places nearest to a point of those that match, the nearest first, and how many of them give no latitude and
    /// longitude. `elevation` is that of the point, m. It is an error if the point is far from every place but would be near
    /// one with its sign changed or its figures swapped; the error says what may be meant.
    pub fn nearest(
        &self,
        point: &Point,
        filter: &Filter<'_>,
        elevation: Option<f64>,
        count: usize,
        at: &Location,
    ) -> Result<(Vec<Near>, usize), Diagnostic> {
        let nearest_place = |from: [f64; 2]| {
            let all = self.iter().filter_map(|climate| Some(distance(from, position(climate)?)));
            all.fold(f64::INFINITY, f64::min)
        };
        if !point.is_on_earth() || nearest_place(point.position()) > NOWHERE {
            let slip = point.slips().into_iter().find(|(_, meant)| nearest_place(*meant) < CLOSE);
            if let Some((error, [latitude, longitude])) = slip {
                let nearest = Some(format!("{latitude}, {longitude}"));
                return Err(Diagnostic {
                    nearest: nearest.map(Into::into),
                    ..error.at(at).text(&*point.text)
                });
            }
        }
        if !point.is_on_earth() {
            return Err(ClimateError::NotOnEarth.at(at).text(&*point.text));
        }
        let among = self.filter(self.iter().chain(self.stations()).collect(), filter)?;
        let near = among.iter().filter_map(|climate| {
            let distance = distance(point.position(), position(climate)?);
            let higher = elevation.zip(climate.elevation).map(|(point, place)| point - place);
            Some(Near { climate: Arc::clone(climate), distance, higher })
        });
        let mut near: Vec<Near> = near.collect();
        let unplaced = among.len() - near.len();
        near.sort_by(|a, b| a.distance.total_cmp(&b.distance).then_with(|| a.climate.id.cmp(&b.climate.id)));
        near.truncate(count);
        Ok((near, unplaced))
    }
}

fn position(climate: &Climate) -> Option<[f64; 2]> {
    Some([climate.latitude?, climate.longitude?])
}
