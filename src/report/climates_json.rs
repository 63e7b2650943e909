//! Climates for other programs: SI values, each with its text in the reader's units.

use super::climates::{far, figure, near_notes};
use super::json::{low, number, place, shown_low, usual};
use super::{REMINDER, json::fill};
use crate::climate::{Climate, Near, Point};
use crate::units::{Dim, Quantity, Rounding, Show, System};
use serde_json::{Map, Value, json};

/// Rises with every change that could break a reader.
const FORMAT: u32 = 1;
const HEIGHTS: Show = Show::new(("ft", 0), ("m", 0), Rounding::Nearest);

/// What was looked for and found.
#[derive(Default)]
pub struct ClimatesFound<'c> {
    /// Climates, with the standard air pressure at each, Pa; in the order of `near` where a point was asked for.
    pub climates: Vec<(&'c Climate, Option<f64>)>,
    /// The point that they are near.
    pub point: Option<&'c Point>,
    /// The elevation of that point, m.
    pub elevation: Option<f64>,
    /// How each lies to that point.
    pub near: &'c [Near],
    /// How many climates give no latitude and longitude and were passed over.
    pub unplaced: usize,
}

/// The JSON of climates, format 1.
pub fn climates_json(found: &ClimatesFound<'_>, system: System) -> String {
    let climates = found.climates.iter().enumerate().map(|(at, (climate, pressure))| {
        let mut out = one(climate, *pressure, system);
        if let Some(near) = found.near.get(at) {
            let mut away = Map::new();
            fill(&mut away, &Quantity::of(near.distance, Dim::LENGTH));
            away.insert("text".into(), json!(far(near.distance, system)));
            out.insert("away".into(), Value::Object(away));
            out.insert("point_higher_by".into(), near.higher.map_or(Value::Null, |it| height(it, system)));
        }
        Value::Object(out)
    });
    let whole = json!({
        "coldsill": env!("CARGO_PKG_VERSION"),
        "format": FORMAT,
        "reminder": REMINDER,
        "near": found.point.map(|it| json!({
            "text": it.text, "latitude": number(it.latitude), "longitude": number(it.longitude),
            "elevation": found.elevation.map(|it| height(it, system)),
        })),
        "climates": climates.collect::<Vec<_>>(),
        "notes": near_notes(found.near, found.unplaced, system),
    });
    format!("{whole:#}\n")
}

fn one(climate: &Climate, pressure: Option<f64>, system: System) -> Map<String, Value> {
    let temperature = |it: Option<f64>| it.map(|it| usual(&Quantity::temperature(it), system));
    let whole = json!({
        "id": climate.id,
        "name": climate.name,
        "state": climate.state,
        "measured_at": climate.measured_at,
        "station": climate.station,
        "zone": climate.zone,
        "latitude": climate.latitude.map(number),
        "longitude": climate.longitude.map(number),
        "elevation": climate.elevation.map(|it| height(it, system)),
        "standard_pressure": pressure.map(|it| pressure_there(it, system)),
        "coastal": climate.coastal,
        "design_low": climate.design_low().map(|low| shown_low(&Quantity::temperature(low), system)),
        "design_low_is": figure(climate.usual_design(), climate),
        "annual_low": climate.annual_low.map(|it| json!({
            "mean": usual(&Quantity::temperature(it.mean), system),
            "deviation": usual(&Quantity::of(it.deviation, Dim::DIFFERENCE), system),
            "winters": number(it.record()),
            "winters_stated": it.winters.is_some(),
        })),
        "lows": climate.lows().iter().map(|it| low(it, system)).collect::<Vec<_>>(),
        "coldest_month": climate.coldest_month_name(),
        "coldest_month_mean": temperature(climate.coldest_month_mean),
        "coldest_month_source": climate.coldest_month_mean.map(|_| &climate.coldest_month_source),
        "source": climate.source,
        "from": climate.whose.words(),
        "at": place(&climate.at, None),
    });
    match whole {
        Value::Object(whole) => whole,
        _ => Map::new(),
    }
}

fn height(metres: f64, system: System) -> Value {
    shown(&Quantity::of(metres, Dim::LENGTH), HEIGHTS, system)
}

fn pressure_there(pascals: f64, system: System) -> Value {
    let show = Show::new(("psi", 1), ("kPa", 1), Rounding::Nearest);
    shown(&Quantity::of(pascals, Dim::PRESSURE), show, system)
}

fn shown(quantity: &Quantity, show: Show, system: System) -> Value {
    let mut out = Map::new();
    fill(&mut out, quantity);
    out.insert("text".into(), json!(show.value(quantity, system)));
    Value::Object(out)
}
