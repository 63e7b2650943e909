//! Climates for other programs.

use super::super::REMINDER;
use super::super::climates::{figure, near_notes};
use super::borrowed::{BorrowedJson, NearJson, elevation};
use super::climate::{AnnualLowJson, LowJson, lows};
use super::values::{
    LengthJson, LocationJson, Number, PressureJson, QuantityJson, TemperatureJson, low_temperature,
    temperature,
};
use super::{PROGRAM, to_text};
use crate::climate::{Climate, Near, Point};
use crate::units::{Dim, Quantity, Rounding, Show, System};
use schemars::JsonSchema;
use serde::Serialize;

/// Version of the format.
const FORMAT: u32 = 2;
const PRESSURE: Show = Show::new(("psi", 1), ("kPa", 1), Rounding::Nearest);

/// What was looked for and found.
#[derive(Default)]
pub struct ClimatesFound<'c> {
    /// Climates, with the standard air pressure at each, Pa; in the order of `near` if a point was asked for.
    pub climates: Vec<(&'c Climate, Option<f64>)>,
    /// The point that they are near.
    pub point: Option<&'c Point>,
    /// The elevation of that point, m.
    pub elevation: Option<f64>,
    /// How each lies to that point.
    pub near: &'c [Near],
    /// How many climates were skipped because they give no latitude and longitude.
    pub unplaced: usize,
}

/// Climates as `coldsill climates --format json` writes them: all, those looked for, one, or those near a point, the
/// nearest
/// first. Values are in SI units, temperatures in kelvin, rounded to seven significant digits; `text` beside a value
/// is the
/// same value in the reader's units. Unknown values are null, never 0 or false. New keys raise `format`.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "Coldsill climates, format 2", extend(
    "if" = { "required": ["near"], "properties": { "near": { "type": "object" } } },
    "then" = { "properties": { "climates": { "items": { "required": ["away", "point_higher_by"] } } } },
    "else" = { "properties": { "climates": { "items": { "not": { "required": ["away"] } } } } },
))]
pub(super) struct ClimatesJson<'c> {
    /// Version of the program.
    coldsill: &'static str,
    /// Version of this format.
    #[schemars(extend("const" = FORMAT))]
    format: u32,
    /// The cautions of every report: it screens and certifies nothing; the adopted code and the authority govern.
    reminder: &'static str,
    /// The point that they are near; null if none was asked for.
    near: Option<PointJson<'c>>,
    climates: Vec<FoundJson<'c>>,
    /// Cautions about the nearest place, in the reader's units.
    notes: Vec<String>,
}

#[derive(Serialize, JsonSchema)]
struct PointJson<'c> {
    /// As it was written.
    text: &'c str,
    /// Degrees north.
    #[schemars(range(min = -90, max = 90))]
    latitude: Number,
    /// Degrees east.
    #[schemars(range(min = -180, max = 180))]
    longitude: Number,
    elevation: Option<LengthJson>,
}

/// One climate.
#[derive(Serialize, JsonSchema)]
struct FoundJson<'c> {
    /// Its name in a job.
    id: &'c str,
    name: &'c str,
    /// State or province, by its postal abbreviation.
    state: Option<&'c str>,
    /// Where it was measured, if the name does not tell.
    measured_at: Option<&'c str>,
    /// Number of its station.
    station: Option<&'c str>,
    /// IECC climate zone.
    zone: Option<&'c str>,
    /// Degrees north.
    #[schemars(range(min = -90, max = 90))]
    latitude: Option<Number>,
    /// Degrees east.
    #[schemars(range(min = -180, max = 180))]
    longitude: Option<Number>,
    /// Above sea level.
    elevation: Option<LengthJson>,
    /// Of the standard atmosphere at that elevation.
    standard_pressure: Option<PressureJson>,
    /// Whether salt water is near enough to matter for metals; null if not stated.
    coastal: Option<bool>,
    /// The outdoor temperature an outlet must survive, unless a job chooses another.
    design_low: Option<TemperatureJson>,
    /// What the design low is: 20-year low, or stated in the file or the job that the climate is from.
    design_low_is: String,
    annual_low: Option<AnnualLowJson>,
    /// Every figure that a design low can be taken from, the mildest kind first.
    lows: Vec<LowJson>,
    /// Its name.
    coldest_month: Option<&'static str>,
    coldest_month_mean: Option<TemperatureJson>,
    /// Where that mean is from.
    coldest_month_source: Option<&'c str>,
    /// Where the figures are published.
    source: &'c str,
    /// Who provides it: built in, or the user.
    from: &'static str,
    at: LocationJson<'c>,
    /// The station that a town, a postal area or a point has its figures from; null for a climate of its own.
    borrowed: Option<BorrowedJson<'c>>,
    #[serde(flatten)]
    near: Option<NearJson>,
}

/// Climates as JSON.
pub fn climates_json(found: &ClimatesFound<'_>, system: System) -> String {
    let climates =
        found.climates.iter().enumerate().map(|(index, (climate, pressure))| {
            FoundJson::of(climate, *pressure, found.near.get(index), system)
        });
    let document = ClimatesJson {
        coldsill: PROGRAM,
        format: FORMAT,
        reminder: REMINDER,
        near: found.point.map(|point| PointJson {
            text: &point.text,
            latitude: Number(point.latitude),
            longitude: Number(point.longitude),
            elevation: found.elevation.map(|meters| elevation(meters, system)),
        }),
        climates: climates.collect(),
        notes: near_notes(found.near, found.unplaced, system),
    };
    to_text(&document)
}

impl<'c> FoundJson<'c> {
    fn of(climate: &'c Climate, pressure: Option<f64>, near: Option<&Near>, system: System) -> Self {
        let kelvin = |value: Option<f64>| value.map(|value| temperature(value, system));
        let pressure = pressure.map(|pascals| Quantity::of(pascals, Dim::PRESSURE));
        Self {
            id: &climate.id,
            name: &climate.name,
            state: climate.state.as_deref(),
            measured_at: climate.measured_at.as_deref(),
            station: climate.station.as_deref(),
            zone: climate.zone.as_deref(),
            latitude: climate.latitude.map(Number),
            longitude: climate.longitude.map(Number),
            elevation: climate.elevation.map(|meters| elevation(meters, system)),
            standard_pressure: pressure.map(|it| PressureJson(QuantityJson::with(&it, PRESSURE, system))),
            coastal: climate.coastal,
            design_low: climate.design_low().map(|low| low_temperature(&Quantity::temperature(low), system)),
            design_low_is: figure(climate.usual_design(), climate),
            annual_low: climate.annual_low.map(|low| AnnualLowJson::of(&low, system)),
            lows: lows(climate, system),
            coldest_month: climate.coldest_month_name(),
            coldest_month_mean: kelvin(climate.coldest_month_mean),
            coldest_month_source: climate.coldest_month_mean.map(|_| &*climate.coldest_month_source),
            source: &climate.source,
            from: climate.whose.words(),
            at: (&climate.location).into(),
            borrowed: BorrowedJson::of(climate, system),
            near: near.map(|near| NearJson::of(near, system)),
        }
    }
}
