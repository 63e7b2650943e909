//! The station that a town, a postal area or a point has its figures from, for other programs.

use super::super::climates::{ELEVATION, far};
use super::values::{LengthJson, QuantityJson};
use crate::climate::{Climate, Near};
use crate::units::{Dim, Quantity, System};
use schemars::JsonSchema;
use serde::Serialize;

/// The station whose figures a place has.
#[derive(Serialize, JsonSchema)]
pub(super) struct BorrowedJson<'c> {
    station: StationJson<'c>,
    /// A station of an older edition nearby with a colder 20-year low; null if there is none.
    colder: Option<StationJson<'c>>,
}

#[derive(Serialize, JsonSchema)]
struct StationJson<'c> {
    /// Its id as a climate.
    id: &'c str,
    name: String,
    /// Year of the edition that its figures are published in.
    edition: Option<u16>,
    #[serde(flatten)]
    near: NearJson,
}

/// How a climate's station lies to a point.
#[derive(Serialize, JsonSchema)]
pub(super) struct NearJson {
    /// Distance from the point, along a great circle.
    away: LengthJson,
    /// How much higher the point lies; negative if it lies lower. Null unless both elevations are stated.
    point_higher_by: Option<LengthJson>,
}

impl NearJson {
    pub(super) fn of(near: &Near, system: System) -> Self {
        let away = Quantity::of(near.distance, Dim::LENGTH);
        Self {
            away: LengthJson(QuantityJson::worded(&away, far(near.distance, system))),
            point_higher_by: near.higher.map(|meters| elevation(meters, system)),
        }
    }
}

impl<'c> BorrowedJson<'c> {
    pub(super) fn of(climate: &'c Climate, system: System) -> Option<Self> {
        let borrowed = climate.borrowed.as_ref()?;
        let station = |near: &'c Near| StationJson {
            id: &near.climate.id,
            name: near.climate.station_name(),
            edition: near.climate.edition,
            near: NearJson::of(near, system),
        };
        Some(Self { station: station(&borrowed.station), colder: borrowed.colder.as_ref().map(station) })
    }
}

/// A height above sea level or above another point.
pub(super) fn elevation(meters: f64, system: System) -> LengthJson {
    LengthJson(QuantityJson::with(&Quantity::of(meters, Dim::LENGTH), ELEVATION, system))
}
