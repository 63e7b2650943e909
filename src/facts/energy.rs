//! Heat that an outlet carries out of the house.

use super::heat::solved;
use super::reading::{OrGap, Outlet};
use super::{Answers, Def, Kind, Source, toward};
use crate::expr::{Gap, Reading, Slot, Value};
use crate::units::{Dim, Measure, Quantity, Rounding};

/// Hours outdoors below this are the heating season, K: 65 °F, the base of degree days in the trade.
const SEASON: f64 = 291.483_333_333_3;
const HOUR: f64 = 3600.0;

pub(super) static DEFS: &[Def] = &[
    Def {
        name: "energy.point_transmittance",
        about: "point thermal transmittance: heat for each degree between the space behind and outdoors, beyond that of \
                the wall without the outlet (ISO 10211, ISO 14683)",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::CONDUCTANCE)), |outlet, own| {
            let chi = solved(outlet, own)?.point_transmittance;
            Ok(Value::Quantity(Quantity::of(chi, Dim::CONDUCTANCE)))
        }),
        answers: Answers::Open,
        show: toward(("Btu/h·°F", 3), ("W/K", 3), Rounding::Up),
    },
    Def {
        name: "energy.heat_per_season",
        about: "heat it carries out in the hours of a model year that are below 65 °F: within 12 % as a rule and a quarter at worst, as are hours on record",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::ENERGY)), per_season),
        answers: Answers::Open,
        show: toward(("kWh", 0), ("kWh", 0), Rounding::Up),
    },
];

fn per_season(outlet: &Outlet<'_>, own: Slot) -> Reading {
    let mut gaps = Gap::default();
    let solved = solved(outlet, own).or_gap(&mut gaps);
    let room = outlet.number("space.room_temperature").or_gap(&mut gaps);
    let share = outlet.number("space.share").or_gap(&mut gaps);
    let (Some(solved), Some(room), Some(share)) = (solved, room, share) else { return Err(gaps) };
    let year = outlet.world().year().ok_or_else(|| Gap::absent(own, super::sweat::NO_YEAR))?;
    let season = year.bins.iter().filter(|it| it.temperature < SEASON.min(room));
    let degree_seconds: f64 = season.map(|it| it.hours * HOUR * share * (room - it.temperature)).sum();
    Ok(Value::Quantity(Quantity::of(solved.point_transmittance * degree_seconds, Dim::ENERGY)))
}
