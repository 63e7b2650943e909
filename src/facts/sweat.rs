//! Sweating on the room side: indoor humidity, dew and frost on what stands in the room's air, wood that touches metal.
//!
//! Two states are looked at. The design low; and, as indoor humidity falls with the cold where nobody states it, the
//! outdoor temperature between the design low and the room at which most dew forms.

use super::heat::boundary;
use super::reading::{Fact, OrGap, Origin, Outlet};
use super::section_of::spec;
use super::site::stated as said;
use super::space::wall;
use super::{Answers, Blank, Compute, Def, Kind, Source, computed, toward};
use crate::expr::{Gap, Reading, Slot, Value};
use crate::physics::iso13788;
use crate::physics::materials::{self, Class};
use crate::physics::moist_air::{saturation, saturation_temperature, vapour_pressure};
use crate::physics::sweating::{RUN_OFF, humidity_cap, time_until_runs};
use crate::schedule::Reads;
use crate::section::{Boundary, Damp, Gathered, Share, Solved, Sweat};
use crate::units::{Dim, Measure, Quantity, Rounding};
use std::sync::Arc;

const RATIO: Kind = Kind::Quantity(Measure::Of(Dim::NONE));
const LENGTH: Kind = Kind::Quantity(Measure::Of(Dim::LENGTH));
const VOLUME: Kind = Kind::Quantity(Measure::Of(Dim::VOLUME));
const TIME: Kind = Kind::Quantity(Measure::Of(Dim::TIME));
const TEMPERATURE: Kind = Kind::Quantity(Measure::Temperature);
const DAY: f64 = 86_400.0;
/// kg/m³: frost is counted as the water it melts to.
const WATER: f64 = 1000.0;
/// Above 40 °F outdoors, where the table of advised humidities ends, its last row is held.
const MILD_HUMIDITY: f64 = 0.40;
/// Temperatures the table of advised humidities takes, K.
const CAP_RANGE: [f64; 2] = [223.15, 323.15];
/// Outdoor temperatures are looked at in steps of this, K.
const STEP: f64 = 1.0;
/// Why there are no figures of a year.
pub(super) const NO_YEAR: &str = "a year takes the mean of the coldest month and one of the 99 % value, the 99.6 % value and the annual low";

pub(super) static DEFS: &[Def] = &[
    Def {
        name: "outlet.air_sealed",
        about: "whether the hole around it is sealed against room air",
        source: Source::Stated {
            headings: &["Air sealed", "Air sealing", "Air seal", "Penetration sealed"],
            reads: Reads::YesNo,
            blank: Blank::Unknown,
        },
        answers: Answers::All,
        show: None,
    },
    Def {
        show: toward(("%", 0), ("%", 0), Rounding::Nearest),
        ..def(
            "space.humidity",
            "relative humidity of the air around the inlet at the design low",
            Source::Found(RATIO, humidity),
        )
    },
    Def {
        show: toward(("%", 0), ("%", 0), Rounding::Down),
        ..def(
            "space.humidity_advised",
            "the most that is advised indoors in the coldest month, so that windows stay dry",
            Source::Computed(RATIO, |outlet, own| {
                let mean = coldest_month(outlet, own)?;
                Ok(number(cap(mean, own)?.1, Dim::NONE))
            }),
        )
    },
    Def {
        show: toward(("°F", 1), ("°C", 1), Rounding::Up),
        ..def(
            "space.dew_point",
            "temperature below which metal in that air gathers dew, or frost below freezing",
            Source::Computed(TEMPERATURE, |outlet, own| {
                let air = air_at(outlet, &boundary(outlet)?, own)?;
                let point = saturation_temperature(air.vapour_pressure).map_err(|it| refused(own, it))?;
                Ok(Value::Quantity(Quantity::temperature(point)))
            }),
        )
    },
    Def {
        show: toward(("in", 1), ("mm", 0), Rounding::Up),
        ..def(
            "sweat.wet_length",
            "length in the room that is below the dew point at the design low",
            Source::Computed(LENGTH, |outlet, own| {
                Ok(number(at_low(outlet, own)?.gathered.wet_length, Dim::LENGTH))
            }),
        )
    },
    Def {
        show: toward(("in", 1), ("mm", 0), Rounding::Up),
        ..def(
            "sweat.frost_length",
            "length in the room that gathers frost at the design low",
            Source::Computed(LENGTH, |outlet, own| {
                Ok(number(at_low(outlet, own)?.gathered.frost_length, Dim::LENGTH))
            }),
        )
    },
    water(
        "sweat.water_a_day",
        "dew and frost gathered in a day at the design low, as water",
        |outlet, own| Ok(number(at_low(outlet, own)?.gathered.rate * DAY / WATER, Dim::VOLUME)),
    ),
    Def {
        show: toward(("°F", 0), ("°C", 0), Rounding::Nearest),
        ..def(
            "sweat.most_at",
            "outdoor temperature, from the design low up, at which most dew forms",
            Source::Computed(TEMPERATURE, most_at),
        )
    },
    water(
        "sweat.most_a_day",
        "dew, and frost as water, gathered in a day where most dew forms",
        |outlet, own| Ok(number(at_most(outlet, own)?.gathered.rate * DAY / WATER, Dim::VOLUME)),
    ),
    Def {
        show: toward(("h", 0), ("h", 0), Rounding::Down),
        ..def(
            "sweat.drips_after",
            "time where it sweats most until its wettest part drips: 250 g/m², the figure for the underside of a level surface \
             (BS 5250, from memory; none was found for a tube)",
            Source::Computed(TIME, |outlet, own| {
                let time = drips_after(outlet, own)?;
                Ok(number(time.ok_or_else(|| Gap::absent(own, "no dew forms on it"))?, Dim::TIME))
            }),
        )
    },
    def(
        "sweat.drips",
        "whether it drips within the days a cold spell is held, where it sweats most",
        Source::Computed(Kind::YesNo, |outlet, own| {
            let time = drips_after(outlet, own)?;
            let days = outlet.number("site.spell_days")?;
            Ok(Value::YesNo(time.is_some_and(|time| time <= days)))
        }),
    ),
    Def {
        show: toward(("h", 0), ("h", 0), Rounding::Up),
        ..def(
            "sweat.hours_a_year",
            "hours of a model year in which it is below the dew point in the room",
            Source::Computed(TIME, |outlet, own| {
                let hours = year(outlet, own)?.iter().filter(|it| it.1 > 0.0).map(|it| it.0).sum::<f64>();
                Ok(number(hours * 3600.0, Dim::TIME))
            }),
        )
    },
    Def {
        show: toward(("fl oz", 1), ("mL", 0), Rounding::Up),
        ..water(
            "sweat.water_a_year",
            "water gathered in a model year, each hour taken as steady, none lost by drying",
            |outlet, own| {
                let held = year(outlet, own)?.iter().map(|it| it.0 * 3600.0 * it.1).sum::<f64>();
                Ok(number(held * given_back(outlet, own)? / WATER, Dim::VOLUME))
            },
        )
    },
    Def {
        show: toward(("in", 1), ("mm", 0), Rounding::Up),
        ..def(
            "sweat.length_in_wall",
            "length inside the wall that is below the dew point of the room at the design low: wet where room air gets at it",
            Source::Computed(LENGTH, |outlet, own| {
                let at = boundary(outlet)?;
                let air = air_at(outlet, &at, own)?;
                let point = saturation_temperature(air.vapour_pressure).map_err(|it| refused(own, it))?;
                let (solved, wall) = (super::heat::solved(outlet, own)?, wall(outlet)?);
                Ok(number(solved.length_colder([0.0, wall.thickness()], &at, point), Dim::LENGTH))
            }),
        )
    },
    Def {
        show: toward(("%", 0), ("%", 0), Rounding::Up),
        ..def(
            "sweat.wood_humidity",
            "monthly-mean relative humidity of room air at the metal where it leaves the innermost wood, in the coldest month \
             (ISO 13788); above 100 % it is wet",
            Source::Computed(RATIO, wood_humidity),
        )
    },
];

const fn def(name: &'static str, about: &'static str, source: Source) -> Def {
    Def { name, about, source, answers: Answers::Open, show: None }
}

const fn water(name: &'static str, about: &'static str, compute: Compute) -> Def {
    let show = toward(("fl oz", 2), ("mL", 1), Rounding::Up);
    Def { show, ..computed(name, about, VOLUME, compute) }
}

fn number(si: f64, dim: Dim) -> Value {
    Value::Quantity(Quantity::of(si, dim))
}

fn refused(own: Slot, why: impl std::fmt::Display) -> Gap {
    Gap::absent(own, why.to_string())
}

/// What is advised indoors at an outdoor temperature (K): used and greatest.
fn cap(outdoors: f64, own: Slot) -> Result<(f64, f64), Gap> {
    let cap = humidity_cap(outdoors.clamp(CAP_RANGE[0], CAP_RANGE[1])).map_err(|it| refused(own, it))?;
    Ok(cap.map_or((MILD_HUMIDITY, MILD_HUMIDITY), |it| (it.used, it.high)))
}

/// A stated humidity goes before any rule. A wall cavity borders on the heated room. Spaces without heat have the vapour of
/// outdoors more than of the house: nothing is assumed there.
fn humidity(outlet: &Outlet<'_>, own: Slot) -> Fact {
    let unknown = |gap: Gap| Fact { value: Err(gap), origin: Origin::Unknown };
    let space = match outlet.word("outlet.space_behind") {
        Ok(space) => space,
        Err(gap) => return unknown(gap),
    };
    let room = if &*space == "wall cavity" { "heated room" } else { &*space };
    let stated = outlet.world().job().spaces.get(room).and_then(|it| it.humidity.as_ref());
    if stated.is_some() {
        return said(own, stated, |it| Quantity::of(it, Dim::NONE));
    }
    let heated = &*space == "wall cavity" || outlet.value("space.heated") == Ok(Value::YesNo(true));
    if !heated {
        let why = "the space behind is not heated, and nobody says how humid it is";
        return unknown(Gap::absent(own, why));
    }
    match outlet.number("site.design_low").and_then(|low| cap(low, own)) {
        Ok((used, _)) => Fact::assumed(
            number(used, Dim::NONE),
            "what windows bear: 40 % from {= 30 °F} outdoors up, 5 points less for every {= 10 Δ°F} colder, 15 % below {= -20 °F} \
             (common practice, no source); `humidity` under `spaces:` overrides it",
        ),
        Err(gap) => unknown(gap),
    }
}

/// Mean of the coldest month, K.
fn coldest_month(outlet: &Outlet<'_>, own: Slot) -> Result<f64, Gap> {
    let mean = outlet.world().job().climate.coldest_month_mean;
    mean.ok_or_else(|| Gap::absent(own, "the climate does not give the mean of its coldest month"))
}

/// The air of the space behind at a state: a stated humidity is held, an assumed one follows outdoors.
fn air_at(outlet: &Outlet<'_>, at: &Boundary, own: Slot) -> Result<Damp, Gap> {
    let mut gaps = Gap::default();
    let humidity = outlet.number("space.humidity").or_gap(&mut gaps);
    let share = outlet.number("space.share").or_gap(&mut gaps);
    let pressure = outlet.number("site.air_pressure").or_gap(&mut gaps);
    let (Some(stated), Some(share), Some(pressure)) = (humidity, share, pressure) else { return Err(gaps) };
    let humidity = if outlet.is_assumed("space.humidity") { cap(at.outdoors, own)?.0 } else { stated };
    let temperature = Share(share).temperature(at);
    let vapour_pressure = vapour_pressure(temperature, humidity).map_err(|it| refused(own, it))?;
    Ok(Damp { temperature, vapour_pressure, pressure })
}

fn sweat_at(outlet: &Outlet<'_>, at: &Boundary, own: Slot) -> Result<Arc<Sweat>, Gap> {
    let (spec, air) = (spec(outlet, own, None)?, air_at(outlet, at, own)?);
    outlet.world().sweat(&spec, at, &air).map_err(|it| refused(own, it))
}

/// The outlet as it sweats at the design low.
pub(super) fn at_low(outlet: &Outlet<'_>, own: Slot) -> Result<Arc<Sweat>, Gap> {
    sweat_at(outlet, &boundary(outlet)?, own)
}

fn at_most(outlet: &Outlet<'_>, own: Slot) -> Result<Arc<Sweat>, Gap> {
    let outdoors = outlet.number("sweat.most_at")?;
    sweat_at(outlet, &Boundary { outdoors, ..boundary(outlet)? }, own)
}

/// With films held and no latent heat: what gathers at an outdoor temperature.
fn held(outlet: &Outlet<'_>, solved: &Solved, at: &Boundary, own: Slot) -> Result<Gathered, Gap> {
    solved.gathers(at, &air_at(outlet, at, own)?).map_err(|it| refused(own, it))
}

/// Published for building surfaces: what falls from the underside of a level one. Frost stays until it melts.
fn drips_after(outlet: &Outlet<'_>, own: Slot) -> Result<Option<f64>, Gap> {
    let most = at_most(outlet, own)?.gathered.most_dew;
    let figure = RUN_OFF.iter().find(|it| it.what.starts_with("drips"));
    let figure = figure.ok_or_else(|| Gap::absent(own, "no figure for dripping is published"))?;
    time_until_runs(most, figure).map_err(|it| refused(own, it))
}

fn most_at(outlet: &Outlet<'_>, own: Slot) -> Reading {
    let (solved, low) = (super::heat::solved(outlet, own)?, boundary(outlet)?);
    let mut best = (low.outdoors, held(outlet, &solved, &low, own)?.dew);
    let mut outdoors = low.outdoors + STEP;
    while outdoors < low.room {
        let dew = held(outlet, &solved, &Boundary { outdoors, ..low }, own)?.dew;
        if dew > best.1 {
            best = (outdoors, dew);
        }
        outdoors += STEP;
    }
    Ok(Value::Quantity(Quantity::temperature(best.0)))
}

/// What is left of the rate with films held and no latent heat, where it sweats most. It serves the whole year: on three
/// outlets a winter so reckoned came within 10 % of one with every state solved for itself.
fn given_back(outlet: &Outlet<'_>, own: Slot) -> Result<f64, Gap> {
    let at = Boundary { outdoors: outlet.number("sweat.most_at")?, ..boundary(outlet)? };
    let dry = held(outlet, &*super::heat::solved(outlet, own)?, &at, own)?.rate;
    // Where it is dry at that state, what little gathers at others is counted in full.
    Ok(if dry > 0.0 { at_most(outlet, own)?.gathered.rate / dry } else { 1.0 })
}

/// Hours and rates (kg/s, films held, no latent heat) of the year's bins that are colder than the room.
fn year(outlet: &Outlet<'_>, own: Slot) -> Result<Vec<(f64, f64)>, Gap> {
    let (solved, low) = (super::heat::solved(outlet, own)?, boundary(outlet)?);
    let year = outlet.world().year().ok_or_else(|| Gap::absent(own, NO_YEAR))?;
    let bins = year.bins.iter().filter(|it| it.temperature < low.room);
    let rates = bins.map(|bin| {
        let at = Boundary { outdoors: bin.temperature, ..low };
        Ok((bin.hours, held(outlet, &solved, &at, own)?.rate))
    });
    rates.collect()
}

/// Wood that room air reaches: the inner face of the innermost layer of wood or wood-based board, where it is the wall's
/// inside or the hole is said not to be sealed.
fn wood_humidity(outlet: &Outlet<'_>, own: Slot) -> Reading {
    let wall = wall(outlet)?;
    let is_wood = |name: &str| {
        let row = materials::all().find(|it| it.name == name);
        row.is_some_and(|it| matches!(it.class, Class::Wood | Class::Sheathing))
    };
    let innermost = wall.layers.iter().rposition(|it| is_wood(&it.name));
    let innermost = innermost.ok_or_else(|| Gap::absent(own, "the wall has no layer of wood"))?;
    if innermost + 1 < wall.layers.len() {
        match outlet.value("outlet.air_sealed") {
            Ok(Value::YesNo(false)) => {}
            Ok(_) => return Err(Gap::absent(own, "no room air reaches the wood")),
            Err(gap) => return Err(gap),
        }
    }
    let depth: f64 = wall.layers[..=innermost].iter().map(|it| it.thickness).sum();
    let at = Boundary { outdoors: coldest_month(outlet, own)?, ..boundary(outlet)? };
    let air = air_at(outlet, &at, own)?;
    let metal = super::heat::solved(outlet, own)?.metal_at(depth, &at);
    let metal = metal.ok_or_else(|| Gap::absent(own, "the metal does not reach through the wood"))?;
    // The standard's own formula on both sides of the ratio.
    let relative = air.vapour_pressure / saturation(air.temperature).map_err(|it| refused(own, it))?;
    let vapour = relative * iso13788::saturation(air.temperature).map_err(|it| refused(own, it))?;
    let humidity = iso13788::surface_humidity(vapour, metal).map_err(|it| refused(own, it))?;
    Ok(number(humidity, Dim::NONE))
}
