//! Sweating on the room side: indoor humidity, dew and frost on metal in the room's air, wood that touches metal.
//!
//! Two states are computed: the design low and, as indoor humidity falls with the cold if nobody states it, the outdoor
//! temperature between the design low and the room at which most dew forms.

use super::columns::SPACE_BEHIND;
use super::def::{
    Compute, DAY, Def, FactType, HOUR, LENGTH, RATIO, TEMPERATURE, TIME, VOLUME, computed_quantity, facts,
    found,
};
use super::detail::AIR_SEALED;
use super::heat::{boundary, solved};
use super::outlet::{All, Fact, Outlet};
use super::section::spec;
use super::site::{AIR_PRESSURE, DESIGN_LOW};
use super::space::{HEATED, ROOM, ROOM_TEMPERATURE, SHARE, stated_space, wall};
use crate::expr::{Gap, Value, ValueOrGap};
use crate::job::JobFigure;
use crate::physics::iso13788;
use crate::physics::materials::{self, Class};
use crate::physics::moist_air::{saturation, saturation_temperature, vapor_pressure};
use crate::physics::sweating::humidity_cap;
use crate::section::{Boundary, Damp, Gathered, Share, Solved, Sweat};
use crate::spell::Year;
use crate::units::{Dim, Quantity, Rounding};
use std::sync::Arc;

/// kg/m³: frost counts as the water it melts to.
const WATER: f64 = 1000.0;
/// The last row of the table of advised humidities, for above 40 °F outdoors, where the table ends.
const MILD_HUMIDITY: f64 = 0.40;
/// Temperatures the table of advised humidities accepts, K.
const CAP_RANGE: [f64; 2] = [223.15, 323.15];
/// Outdoor temperatures are tried in steps of this, K.
const STEP: f64 = 1.0;

facts! {
    HUMIDITY = found(
        "space.humidity",
        "relative humidity of the air around the inlet at the design low",
        FactType::Quantity(RATIO),
        humidity,
    )
        .job_keys(&["spaces: humidity"])
        .show(("%", 0), ("%", 0), Rounding::Nearest);
    HUMIDITY_ADVISED = computed_quantity(
        "space.humidity_advised",
        "highest humidity advised indoors in the coldest month, so that windows stay dry",
        RATIO,
        humidity_advised,
    )
        .job_keys(&["climate: coldest_month_mean"])
        .show(("%", 0), ("%", 0), Rounding::Down);
    DEW_POINT = computed_quantity(
        "space.dew_point",
        "temperature below which metal in that air gathers dew, or frost below freezing",
        TEMPERATURE,
        |outlet| Ok(Value::Quantity(Quantity::temperature(dew_point(outlet, &boundary(outlet)?)?))),
    )
        .show(("°F", 1), ("°C", 1), Rounding::Up);
    WET_LENGTH = wet_length(
        "sweat.wet_length",
        "length in the room that is below the dew point at the design low",
        |outlet| Ok(number(at_low(outlet)?.gathered.wet_length, Dim::LENGTH)),
    );
    FROST_LENGTH = wet_length(
        "sweat.frost_length",
        "length in the room that gathers frost at the design low",
        |outlet| Ok(number(at_low(outlet)?.gathered.frost_length, Dim::LENGTH)),
    );
    WATER_A_DAY = water(
        "sweat.water_a_day",
        "dew and frost gathered in a day at the design low, as water",
        |outlet| Ok(number(at_low(outlet)?.gathered.rate * DAY / WATER, Dim::VOLUME)),
    );
    MOST_AT = computed_quantity(
        "sweat.most_at",
        "outdoor temperature, from the design low up, at which most dew forms",
        TEMPERATURE,
        most_at,
    )
        .show(("°F", 0), ("°C", 0), Rounding::Nearest);
    MOST_A_DAY = water(
        "sweat.most_a_day",
        "dew, and frost as water, gathered in a day at the temperature at which most dew forms",
        |outlet| Ok(number(at_most(outlet)?.gathered.rate * DAY / WATER, Dim::VOLUME)),
    );
    HOURS_A_YEAR = computed_quantity(
        "sweat.hours_a_year",
        "hours of a model year in which it is below the dew point in the room",
        TIME,
        |outlet| {
            let hours: f64 = rates_of_year(outlet)?.iter().filter(|(_, rate)| *rate > 0.0).map(|it| it.0).sum();
            Ok(number(hours * HOUR, Dim::TIME))
        },
    )
        .job_keys(&["climate"])
        .show(("h", 0), ("h", 0), Rounding::Up);
    WATER_A_YEAR = computed_quantity(
        "sweat.water_a_year",
        "water gathered in a model year, each hour steady, none lost by drying",
        VOLUME,
        |outlet| {
            let held: f64 = rates_of_year(outlet)?.iter().map(|(hours, rate)| hours * HOUR * rate).sum();
            Ok(number(held * given_back(outlet)? / WATER, Dim::VOLUME))
        },
    )
        .job_keys(&["climate"])
        .show(("fl oz", 1), ("mL", 0), Rounding::Nearest);
    LENGTH_IN_WALL = wet_length(
        "sweat.length_in_wall",
        "length inside the wall that is below the dew point of the room at the design low: wet if room air reaches it",
        |outlet| {
            let at = boundary(outlet)?;
            let (point, solved, wall) = (dew_point(outlet, &at), solved(outlet), wall(outlet)).all()?;
            Ok(number(solved.length_colder([0.0, wall.thickness()], &at, point), Dim::LENGTH))
        },
    );
    WOOD_HUMIDITY = computed_quantity(
        "sweat.wood_humidity",
        "monthly mean relative humidity of room air at the metal where it leaves the innermost wood, in the coldest month \
         (ISO 13788); at 100 % it is wet",
        RATIO,
        wood_humidity,
    )
        .job_keys(&["climate: coldest_month_mean"])
        .show(("%", 0), ("%", 0), Rounding::Up);
}

const fn water(name: &'static str, about: &'static str, compute: Compute) -> Def {
    computed_quantity(name, about, VOLUME, compute).show(("fl oz", 1), ("mL", 0), Rounding::Nearest)
}

const fn wet_length(name: &'static str, about: &'static str, compute: Compute) -> Def {
    computed_quantity(name, about, LENGTH, compute).show(("in", 1), ("mm", 0), Rounding::Up)
}

fn number(si: f64, dim: Dim) -> Value {
    Value::Quantity(Quantity::of(si, dim))
}

/// The humidity advised indoors at an outdoor temperature (K): used and greatest.
fn cap(outlet: &Outlet<'_>, outdoors: f64) -> Result<(f64, f64), Gap> {
    let cap = humidity_cap(outdoors.clamp(CAP_RANGE[0], CAP_RANGE[1])).map_err(|it| outlet.absent(it))?;
    Ok(cap.map_or((MILD_HUMIDITY, MILD_HUMIDITY), |it| (it.used, it.high)))
}

/// What the vapor of the air around the inlet follows.
enum Vapor<'w> {
    /// The relative humidity that the job states of the space.
    Space(&'w JobFigure),
    /// The vapor of the house, which a heated space shares with it: its temperature, K, and its humidity, if stated.
    House { temperature: f64, humidity: Option<&'w JobFigure> },
}

impl Vapor<'_> {
    /// Its pressure, Pa, in air of a temperature (K) at a temperature outdoors (K), which an assumed humidity follows.
    fn pressure(&self, outlet: &Outlet<'_>, temperature: f64, outdoors: f64) -> Result<f64, Gap> {
        let at = |kelvin, humidity| vapor_pressure(kelvin, humidity).map_err(|it| outlet.absent(it));
        match self {
            Self::Space(stated) => at(temperature, stated.value),
            Self::House { temperature: house, humidity } => {
                let humidity = humidity.map_or_else(|| Ok(cap(outlet, outdoors)?.0), |it| Ok(it.value))?;
                Ok(at(*house, humidity)?.min(at(temperature, 1.0)?))
            }
        }
    }
}

/// A wall cavity borders on the heated room. Spaces without heat have the vapor of outdoors more than of the house: nothing
/// is assumed for them.
fn vapor<'w>(outlet: &Outlet<'w>) -> Result<Vapor<'w>, Gap> {
    let space = outlet.word(SPACE_BEHIND)?;
    if let Some(own) = stated_space(outlet, &space).and_then(|it| it.humidity.as_ref()) {
        return Ok(Vapor::Space(own));
    }
    if &*space != "wall cavity" && outlet.yes_no(HEATED) != Ok(true) {
        return Err(outlet.absent("the space behind is not heated, and its humidity is not stated"));
    }
    let house = stated_space(outlet, "heated room");
    Ok(Vapor::House {
        temperature: house_temperature(outlet),
        humidity: house.and_then(|it| it.humidity.as_ref()),
    })
}

/// Temperature of the heated room, as stated or assumed, K.
fn house_temperature(outlet: &Outlet<'_>) -> f64 {
    let stated = stated_space(outlet, "heated room").and_then(|it| it.temperature.as_ref());
    stated.map_or(ROOM, |it| it.value)
}

fn humidity(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let share = |share| Quantity::of(share, Dim::NONE);
    let vapor = vapor(outlet)?;
    let is_room = ["heated room", "wall cavity"].contains(&&*outlet.word(SPACE_BEHIND)?);
    let why = match vapor {
        Vapor::Space(stated) => return Ok(outlet.of_job(Some(stated), share)),
        Vapor::House { humidity: stated @ Some(_), .. } if is_room => return Ok(outlet.of_job(stated, share)),
        Vapor::House { humidity: Some(_), .. } => {
            "the vapor of the heated room, by the humidity that the job states of it; `humidity` of this space under \
             `spaces:` overrides it"
        }
        Vapor::House { humidity: None, .. } => {
            "the vapor of the heated room, whose humidity is what windows tolerate: 40 % from {= 30 °F} outdoors up, 5 \
             points less for every {= 10 Δ°F} colder, 15 % below {= -20 °F} (no published source); `humidity` under \
             `spaces:` overrides it"
        }
    };
    let (temperature, low) = (outlet.number(ROOM_TEMPERATURE), outlet.number(DESIGN_LOW)).all()?;
    let relative = vapor.pressure(outlet, temperature, low)? / saturated(outlet, temperature)?;
    Ok(Fact::assumed(number(relative, Dim::NONE), why))
}

/// What is advised in the heated room, as vapor in the air of the space.
fn humidity_advised(outlet: &Outlet<'_>) -> ValueOrGap {
    let advised = cap(outlet, coldest_month(outlet)?)?.1;
    let of_house = saturated(outlet, house_temperature(outlet))?;
    let of_space = saturated(outlet, outlet.number(ROOM_TEMPERATURE)?)?;
    Ok(number(f64::min(advised * of_house / of_space, 1.0), Dim::NONE))
}

fn saturated(outlet: &Outlet<'_>, kelvin: f64) -> Result<f64, Gap> {
    saturation(kelvin).map_err(|it| outlet.absent(it))
}

/// Mean of the coldest month, K.
fn coldest_month(outlet: &Outlet<'_>) -> Result<f64, Gap> {
    let mean = outlet.world().job().climate.coldest_month_mean;
    mean.ok_or_else(|| outlet.absent("the climate does not give the mean of its coldest month"))
}

/// The model year of the climate.
pub(super) fn year<'w>(outlet: &Outlet<'w>) -> Result<&'w Year, Gap> {
    let needs = "a model year needs the mean of the coldest month and one of the 99 % value, the 99.6 % value and the annual \
                 low";
    outlet.world().year().ok_or_else(|| outlet.absent(needs))
}

/// The air of the space behind at a state. A stated humidity stays the same, an assumed one follows outdoors.
fn air_at(outlet: &Outlet<'_>, at: &Boundary) -> Result<Damp, Gap> {
    let (vapor, share, pressure) =
        (vapor(outlet), outlet.number(SHARE), outlet.number(AIR_PRESSURE)).all()?;
    let temperature = Share(share).temperature(at);
    let vapor_pressure = vapor.pressure(outlet, temperature, at.outdoors)?;
    Ok(Damp { temperature, vapor_pressure, pressure })
}

fn dew_point(outlet: &Outlet<'_>, at: &Boundary) -> Result<f64, Gap> {
    let air = air_at(outlet, at)?;
    saturation_temperature(air.vapor_pressure).map_err(|it| outlet.absent(it))
}

fn sweat_at(outlet: &Outlet<'_>, at: &Boundary) -> Result<Arc<Sweat>, Gap> {
    let (spec, air) = (spec(outlet, None), air_at(outlet, at)).all()?;
    outlet.world().sweat(&spec, at, &air).map_err(|it| outlet.absent(it))
}

/// The outlet as it sweats at the design low.
pub(super) fn at_low(outlet: &Outlet<'_>) -> Result<Arc<Sweat>, Gap> {
    sweat_at(outlet, &boundary(outlet)?)
}

/// The outlet as it sweats at the temperature at which most dew forms.
fn at_most(outlet: &Outlet<'_>) -> Result<Arc<Sweat>, Gap> {
    sweat_at(outlet, &boundary_at_most(outlet)?)
}

fn boundary_at_most(outlet: &Outlet<'_>) -> Result<Boundary, Gap> {
    let (outdoors, low) = (outlet.number(MOST_AT), boundary(outlet)).all()?;
    Ok(Boundary { outdoors, ..low })
}

/// What gathers at a state, with films as solved and no latent heat.
fn gathers(outlet: &Outlet<'_>, solved: &Solved, at: &Boundary) -> Result<Gathered, Gap> {
    solved.gathers(at, &air_at(outlet, at)?).map_err(|it| outlet.absent(it))
}

fn most_at(outlet: &Outlet<'_>) -> ValueOrGap {
    let (solved, low) = (solved(outlet), boundary(outlet)).all()?;
    let mut best = (low.outdoors, gathers(outlet, &solved, &low)?.dew);
    let mut outdoors = low.outdoors + STEP;
    while outdoors < low.room {
        let dew = gathers(outlet, &solved, &Boundary { outdoors, ..low })?.dew;
        if dew > best.1 {
            best = (outdoors, dew);
        }
        outdoors += STEP;
    }
    Ok(Value::Quantity(Quantity::temperature(best.0)))
}

/// The rate with solved films and latent heat as a share of the rate without, at the temperature at which most dew forms.
/// It is used for the whole year: for three outlets, a winter computed this way came within 10 % of one with every state
/// solved separately.
fn given_back(outlet: &Outlet<'_>) -> Result<f64, Gap> {
    let (at, solved) = (boundary_at_most(outlet), solved(outlet)).all()?;
    let dry = gathers(outlet, &solved, &at)?.rate;
    // If it is dry at that state, the little that gathers at others counts in full.
    Ok(if dry > 0.0 { at_most(outlet)?.gathered.rate / dry } else { 1.0 })
}

/// Hours and rates (kg/s, without latent heat) of the bins of the year that are colder than the room.
fn rates_of_year(outlet: &Outlet<'_>) -> Result<Vec<(f64, f64)>, Gap> {
    let (solved, low) = (solved(outlet), boundary(outlet)).all()?;
    let bins = year(outlet)?.bins.iter().filter(|bin| bin.temperature < low.room);
    let rates = bins.map(|bin| {
        let at = Boundary { outdoors: bin.temperature, ..low };
        Ok((bin.hours, gathers(outlet, &solved, &at)?.rate))
    });
    rates.collect()
}

/// The humidity at wood that room air reaches: the inside face of the innermost layer of wood or wood-based board, if it is
/// the wall's inside or, where the hole is stated not to be sealed, if the metal is colder there than the wood would be
/// without an outlet. Wood that is colder than the metal is no worse for the outlet: air that reaches it is for sealing.
fn wood_humidity(outlet: &Outlet<'_>) -> ValueOrGap {
    let wall = wall(outlet)?;
    let is_wood = |name: &str| {
        let row = materials::all().find(|material| material.name == name);
        row.is_some_and(|material| matches!(material.class, Class::Wood | Class::Sheathing))
    };
    let innermost = wall.layers.iter().rposition(|layer| is_wood(&layer.name));
    let innermost = innermost.ok_or_else(|| outlet.absent("the wall has no layer of wood"))?;
    let is_inside = innermost + 1 == wall.layers.len();
    if !is_inside && outlet.yes_no(AIR_SEALED)? {
        return Err(outlet.absent("no room air reaches the wood"));
    }
    let depth: f64 = wall.layers[..=innermost].iter().map(|layer| layer.thickness).sum();
    let at = Boundary { outdoors: coldest_month(outlet)?, ..boundary(outlet)? };
    let air = air_at(outlet, &at)?;
    let metal = solved(outlet)?.metal_at(depth, &at);
    let metal = metal.ok_or_else(|| outlet.absent("the metal does not reach through the wood"))?;
    if !is_inside && metal >= wall.temperatures(at.outdoors, air.temperature)[innermost + 1] {
        return Err(outlet.absent("the wood is colder than the metal in it: the air seal decides"));
    }
    // Both sides of the ratio use the formula of the standard.
    let relative = air.vapor_pressure / saturated(outlet, air.temperature)?;
    let vapor = relative * iso13788::saturation(air.temperature).map_err(|it| outlet.absent(it))?;
    let humidity = iso13788::surface_humidity(vapor, metal).map_err(|it| outlet.absent(it))?;
    Ok(number(humidity.min(1.0), Dim::NONE))
}
