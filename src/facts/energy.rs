//! Heat that an outlet carries out of the house.

use super::def::{HOUR, computed_quantity, facts};
use super::heat::solved;
use super::outlet::{All, Outlet};
use super::space::{ROOM_TEMPERATURE, SHARE};
use super::sweat::year;
use crate::expr::{Value, ValueOrGap};
use crate::units::{Dim, Measure, Quantity, Rounding};

/// The heating season is the hours outdoors below this, K: 65 °F, the base of degree days in the trade.
const SEASON: f64 = 291.483_333_333_3;

facts! {
    POINT_TRANSMITTANCE = computed_quantity(
        "energy.point_transmittance",
        "point thermal transmittance: heat per degree between the space behind and outdoors, in addition to that of the wall \
         without the faucet (ISO 10211, ISO 14683)",
        Measure::Of(Dim::CONDUCTANCE),
        |outlet| Ok(Value::Quantity(Quantity::of(solved(outlet)?.point_transmittance, Dim::CONDUCTANCE))),
    )
        .show(("Btu/h·°F", 3), ("W/K", 3), Rounding::Up);
    HEAT_PER_SEASON = computed_quantity(
        "energy.heat_per_season",
        "heat it carries out in the hours of a model year below 65 °F: usually within 12 % and at worst within a quarter of \
         what hours on record give",
        Measure::Of(Dim::ENERGY),
        heat_per_season,
    )
        .job_keys(&["climate"])
        .show(("kWh", 0), ("kWh", 0), Rounding::Up);
}

fn heat_per_season(outlet: &Outlet<'_>) -> ValueOrGap {
    let (solved, room, share) =
        (solved(outlet), outlet.number(ROOM_TEMPERATURE), outlet.number(SHARE)).all()?;
    let season = year(outlet)?.bins.iter().filter(|bin| bin.temperature < SEASON.min(room));
    let degree_seconds: f64 = season.map(|bin| bin.hours * HOUR * share * (room - bin.temperature)).sum();
    Ok(Value::Quantity(Quantity::of(solved.point_transmittance * degree_seconds, Dim::ENERGY)))
}
