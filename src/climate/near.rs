//! The places nearest to a point: great-circle distances, and a slip of a sign or of the order told.

use super::library::Library;
use super::listing::Wanted;
use super::place::Climate;
use super::point::Point;
use crate::diag::{Diagnostic, Location};
use crate::units::FOOT;
use std::sync::Arc;

/// Mean radius of the WGS 84 ellipsoid, (2a + b)/3, m.
const RADIUS: f64 = 6_371_008.8;
/// One mile, m.
pub(crate) const MILE: f64 = 5280.0 * FOOT;
/// Beyond this a place says little of another, m: 30 mi. Common practice.
pub const FAR: f64 = 30.0 * MILE;
/// Beyond this difference of height a place says little of another, m: 500 ft. Common practice.
pub const HEIGHT: f64 = 500.0 * FOOT;
/// Colder with height, K/m: 3.5 °F per 1000 ft, near the 6.5 K/km of the standard atmosphere.
const LAPSE: f64 = 3.5 / 1.8 / (1000.0 * FOOT);
/// A point farther than this from every place, with one within [`CLOSE`] when a slip is undone, is taken for a slip, m.
const NOWHERE: f64 = 1000.0 * MILE;
const CLOSE: f64 = 500.0 * MILE;

/// A place as it lies to a point.
#[derive(Clone, Debug, PartialEq)]
pub struct Near {
    /// The place.
    pub climate: Arc<Climate>,
    /// Along a great circle, m.
    pub distance: f64,
    /// How much higher the point lies than the place, m; `None` where either height is not stated.
    pub higher: Option<f64>,
}

impl Near {
    /// Whether it lies so far off that its figures say little: more than [`FAR`].
    pub fn is_far(&self) -> bool {
        self.distance > FAR
    }

    /// Whether the heights differ by so much that its figures say little: more than [`HEIGHT`].
    pub fn has_other_height(&self) -> bool {
        self.higher.is_some_and(|it| it.abs() > HEIGHT)
    }

    /// How much colder than the place the point is by its height alone, K.
    ///
    /// # Source
    /// 3.5 °F per 1000 ft, common practice. Cold air that pools in valleys on clear, calm nights reverses it.
    pub fn colder_by(&self) -> Option<f64> {
        self.higher.map(|it| it * LAPSE)
    }
}

/// Distance of two points along a great circle of a sphere, m: the haversine formula, which keeps its digits for points
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

impl Library {
    /// The places nearest to a point of those wanted, the nearest first, and how many of them give no latitude and longitude. `elevation` is that of
    /// the point, m. A point far from every place that would be near one with its sign changed or its figures exchanged is
    /// a problem, with what may be meant; so is one that is nowhere on the earth.
    pub fn nearest(
        &self,
        point: &Point,
        wanted: &Wanted<'_>,
        elevation: Option<f64>,
        count: usize,
        at: &Location,
    ) -> Result<(Vec<Near>, usize), Diagnostic> {
        let least = |it: [f64; 2]| {
            let all = self.iter().filter_map(|climate| Some(distance(it, position(climate)?)));
            all.fold(f64::INFINITY, f64::min)
        };
        let off = if point.is_on_earth() { least(point.position()) } else { f64::INFINITY };
        if off > NOWHERE {
            let slip = point.slips().into_iter().find(|(_, it)| least(*it) < CLOSE);
            if let Some((what, [latitude, longitude])) = slip {
                let problem = Diagnostic::new(at.clone(), what).text(&*point.text);
                return Err(Diagnostic { nearest: Some(format!("{latitude}, {longitude}")), ..problem });
            }
        }
        if !point.is_on_earth() {
            let problem = Diagnostic::new(at.clone(), "lies nowhere on the earth").text(&*point.text);
            return Err(problem.expected("a latitude of -90 to 90 and a longitude of -180 to 180"));
        }
        let among = self.listed(wanted)?;
        let mut all: Vec<Near> = among
            .iter()
            .filter_map(|climate| {
                let distance = distance(point.position(), position(climate)?);
                let higher = elevation.zip(climate.elevation).map(|(point, place)| point - place);
                Some(Near { climate: Arc::clone(climate), distance, higher })
            })
            .collect();
        let unplaced = among.len() - all.len();
        all.sort_by(|a, b| a.distance.total_cmp(&b.distance).then_with(|| a.climate.id.cmp(&b.climate.id)));
        all.truncate(count);
        Ok((all, unplaced))
    }
}

fn position(climate: &Climate) -> Option<[f64; 2]> {
    Some([climate.latitude?, climate.longitude?])
}
