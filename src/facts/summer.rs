//! Summer: dew on a bare cold supply in a space that outdoor air fills.

use super::columns::{SPACE_BEHIND, SUPPLY_INSULATION};
use super::def::{FactType, TEMPERATURE, computed_yes_no, facts, found};
use super::outlet::{All, Fact, Origin, Outlet};
use super::space::HEATED;
use super::sweat::year;
use crate::expr::{Gap, Value, ValueOrGap};
use crate::physics::water::ICE_POINT;
use crate::units::{Quantity, Rounding};

/// Dew points in °F that 1 % of the hours of a year exceed, by climate zone: of the cities that stand for the zone, rounded
/// (ASHRAE Fundamentals, climatic design conditions, dehumidification 1 %; from memory).
const HUMID: [(&str, f64); 6] =
    [("1A", 78.0), ("2A", 77.0), ("3A", 74.0), ("4A", 74.0), ("5A", 72.0), ("6A", 70.0)];
/// 6 °F, as a difference: mean of a year's water from the main above that of its air (Burch and Christensen, 2007; from
/// memory). Water of a well has the mean of the air.
const MAIN_ABOVE_AIR: f64 = 6.0 / 1.8;
/// Scatter of both figures, K: 5 °F.
const SCATTER: f64 = 5.0 / 1.8;
/// Spaces that outdoor air fills.
const OPEN_TO_OUTDOORS: [&str; 3] = ["crawlspace", "garage", "unheated basement"];

facts! {
    DEW_POINT = found(
        "site.summer_dew_point",
        "dew point of outdoor air in humid summer weather: exceeded in 1 % of the hours of a year",
        FactType::Quantity(TEMPERATURE),
        dew_point,
    )
        .job_keys(&["climate: summer_dew_point"])
        .show(("°F", 0), ("°C", 0), Rounding::Nearest);
    WATER = found(
        "site.supply_water",
        "temperature of the water supply as humid weather begins",
        FactType::Quantity(TEMPERATURE),
        water,
    )
        .job_keys(&["climate: supply_water"])
        .show(("°F", 0), ("°C", 0), Rounding::Nearest);
    SWEATS = computed_yes_no(
        "sweat.supply_in_summer",
        "whether a bare supply in a space that outdoor air fills is below the dew point in summer",
        sweats,
    );
}

/// A temperature with the scatter of an estimate.
fn estimate(kelvin: f64) -> Value {
    Value::Quantity(Quantity::temperature(kelvin).within(kelvin - SCATTER, kelvin + SCATTER))
}

fn stated(outlet: &Outlet<'_>, kelvin: f64) -> Fact {
    let source = outlet.world().job().climate.source.clone();
    Fact { value: Ok(Value::Quantity(Quantity::temperature(kelvin))), origin: Origin::Published(source) }
}

fn dew_point(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let climate = &outlet.world().job().climate;
    if let Some(kelvin) = climate.summer_dew_point {
        return Ok(stated(outlet, kelvin));
    }
    let humid = HUMID.iter().find(|(zone, _)| climate.zone.as_deref() == Some(*zone));
    let (_, fahrenheit) = humid.ok_or_else(|| outlet.absent("known for climate zones 1A to 6A only"))?;
    Ok(Fact::assumed(
        estimate((fahrenheit - 32.0) / 1.8 + ICE_POINT),
        "of the cities that stand for its climate zone, within {= 5 Δ°F}; `summer_dew_point` in the climate overrides it",
    ))
}

fn water(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    if let Some(kelvin) = outlet.world().job().climate.supply_water {
        return Ok(stated(outlet, kelvin));
    }
    let year = year(outlet)?;
    Ok(Fact::assumed(
        estimate(year.mean + MAIN_ABOVE_AIR),
        "estimated: {= 6 Δ°F} above the mean of a model year, from the main; a well is colder, within {= 5 Δ°F}; \
         `supply_water` in the climate overrides it",
    ))
}

/// By best estimates.
fn sweats(outlet: &Outlet<'_>) -> ValueOrGap {
    let (space, heated, insulation) =
        (outlet.word(SPACE_BEHIND), outlet.yes_no(HEATED), outlet.number(SUPPLY_INSULATION)).all()?;
    if heated || insulation > 0.0 || !OPEN_TO_OUTDOORS.contains(&&*space) {
        return Ok(Value::YesNo(false));
    }
    let (dew_point, water) = (outlet.number(DEW_POINT), outlet.number(WATER)).all()?;
    Ok(Value::YesNo(water < dew_point))
}
