//! Bursting of a tube in which ice traps water: the pressure that bursts it, and how cold it must get.

use super::backflow::{DRAINS_WITH_HOSE, HOSE_LEFT_ON, LETS_BARREL_DRAIN};
use super::columns::{BARREL, BARREL_DIAMETER, BARREL_THICKNESS, CLOSES_AT, SELF_DRAINING};
use super::def::{
    Compute, Def, FactType, PRESSURE, TEMPERATURE, computed, computed_quantity, facts, stated_yes_no,
};
use super::ice::{BLOCKED, HOSE_ON_BLOCKED};
use super::outlet::{All, OrGap, Outlet};
use super::section::supply_tube;
use crate::expr::{Gap, Value, ValueOrGap};
use crate::job::Scope;
use crate::physics::bursting::{NoBurst, Temper, barrel_burst, burst_pressure, melting_temperature};
use crate::physics::materials;
use crate::units::{Dim, Quantity, Rounding};

facts! {
    CHECK_VALVE = stated_yes_no(
        "outlet.check_valve",
        "whether a check valve, or a stop without a drain that is shut in winter, is in the branch to it",
    )
        .headings(&["Check valve", "Branch check valve", "Check valve in branch"])
        .question("Is there a check valve, or a stop without a drain, in the branch to it?")
        .scope(Scope::Use);
    SHUT_IN = computed(
        "burst.shut_in",
        "what ice of the design cold spell shuts water in: a barrel that stays full, between ice and the closed seat; a supply \
         with a check valve in its branch",
        FactType::OneOf(&[BARREL_FULL, SUPPLY_SHUT, BOTH, NOTHING]),
        shut_in,
    );
    BARREL_PRESSURE = pressure(
        "burst.barrel_pressure",
        "pressure that bursts the barrel: a rough estimate, 2tS/D, away from threads and joints",
        |outlet| barrel_pressure(outlet).map(Value::Quantity),
    );
    SUPPLY_PRESSURE = pressure(
        "burst.supply_pressure",
        "pressure that bursts the supply; of copper as tested: soft tube used, hard tube at the upper end",
        |outlet| supply_pressure(outlet).map(Value::Quantity),
    );
    BARREL_YIELDS_AT = temperature(
        "burst.barrel_yields_at",
        "temperature at which ice and water trapped in the barrel reach its burst pressure: an upper bound",
        |outlet| yields_at(outlet, barrel_pressure(outlet)),
    );
    SUPPLY_YIELDS_AT = temperature(
        "burst.supply_yields_at",
        "temperature at which ice and water trapped in the supply reach its burst pressure: an upper bound",
        |outlet| yields_at(outlet, supply_pressure(outlet)),
    );
    FIRST = computed(
        "burst.first",
        "which of barrel and supply bursts first if both are full and shut",
        FactType::OneOf(&["barrel", "supply"]),
        first,
    );
}

/// The lower pressure is the safe side.
const fn pressure(name: &'static str, about: &'static str, compute: Compute) -> Def {
    computed_quantity(name, about, PRESSURE, compute).show(("psi", 0), ("kPa", 0), Rounding::Down)
}

/// The warmer temperature is the safe side.
const fn temperature(name: &'static str, about: &'static str, compute: Compute) -> Def {
    computed_quantity(name, about, TEMPERATURE, compute).show(("°F", 0), ("°C", 0), Rounding::Up)
}

const BARREL_FULL: &str = "barrel";
const SUPPLY_SHUT: &str = "supply";
const BOTH: &str = "barrel and supply";
const NOTHING: &str = "nothing";

/// What ice shuts water in. Ice forms from the face inward and pushes water back through an open supply. A check valve or
/// pressure regulator at the house leaves it the plumbing of the house: 24 in of 1/2 in type L copper hold 92 mL; as ice
/// they hold 916.72/999.84 of that mass, so 7.6 mL are pushed into some 200 L of water, with a bulk modulus of 2.1 GPa
/// 80 kPa or 12 psi if the plumbing were rigid.
fn shut_in(outlet: &Outlet<'_>) -> ValueOrGap {
    let text = |word: &'static str| Ok(Value::Text(word.into()));
    let closes = outlet.word(CLOSES_AT)?;
    if &*closes == "inside" && stays_full(outlet) && outlet.yes_no(HOSE_ON_BLOCKED)? {
        return text(BARREL_FULL);
    }
    let mut gaps = Gap::default();
    let facts = [CHECK_VALVE, BLOCKED].map(|def| outlet.yes_no(def).or_gap(&mut gaps));
    match facts {
        _ if facts.contains(&Some(false)) => text(NOTHING),
        [Some(_), Some(_)] if &*closes == "face" => text(BOTH),
        [Some(_), Some(_)] => text(SUPPLY_SHUT),
        _ => Err(gaps),
    }
}

/// Whether a barrel that closes inside is known to stay full in winter.
fn stays_full(outlet: &Outlet<'_>) -> bool {
    let is = |def, answer| outlet.yes_no(def) == Ok(answer);
    let is_drained = is(SELF_DRAINING, true);
    let is_held = !is_drained && is(LETS_BARREL_DRAIN, false);
    is(SELF_DRAINING, false) || is_held || (is(HOSE_LEFT_ON, true) && !is(DRAINS_WITH_HOSE, true))
}

fn barrel_pressure(outlet: &Outlet<'_>) -> Result<Quantity, Gap> {
    let (metal, diameter, thickness) =
        (outlet.word(BARREL), outlet.number(BARREL_DIAMETER), outlet.quantity(BARREL_THICKNESS)).all()?;
    let key = materials::find(&metal).map_or("", |material| material.key);
    let bursts =
        |wall| barrel_burst(key, diameter, wall).map(|it| it.pressure).map_err(|no| gap(outlet, &no));
    // The thinnest tube bursts first.
    let [low, high] = [bursts(thickness.low)?, bursts(thickness.high)?];
    Ok(Quantity::of(low, Dim::PRESSURE).within(low, high))
}

fn supply_pressure(outlet: &Outlet<'_>) -> Result<Quantity, Gap> {
    let tube = supply_tube(outlet)?;
    let bursts = |temper| burst_pressure(&tube, temper).map(|it| it.pressure).map_err(|no| gap(outlet, &no));
    // A schedule does not say whether copper is hard or soft, and a brazed joint softens hard tube.
    let (soft, hard) = (bursts(Temper::Annealed)?, bursts(Temper::Drawn)?);
    Ok(Quantity::of(soft, Dim::PRESSURE).within(soft, hard))
}

fn gap(outlet: &Outlet<'_>, no: &NoBurst) -> Gap {
    match no {
        NoBurst::NoFigure(why) => outlet.absent(why),
        NoBurst::Refused(error) => outlet.absent(error),
    }
}

/// A gap that does not repeat why there is no pressure: the pressure itself says it.
fn without_pressure(outlet: &Outlet<'_>, gap: Gap) -> Gap {
    if gap.missing.is_empty() { outlet.absent("there is no burst pressure to go by") } else { gap }
}

fn yields_at(outlet: &Outlet<'_>, pressure: Result<Quantity, Gap>) -> ValueOrGap {
    let pressure = pressure.map_err(|gap| without_pressure(outlet, gap))?;
    let at = |pascals| melting_temperature(pascals).map_err(|error| outlet.absent(error));
    let (warm, cold) = (at(pressure.low)?, at(pressure.high)?);
    Ok(Value::Quantity(Quantity::temperature(at(pressure.is)?).within(cold, warm)))
}

fn first(outlet: &Outlet<'_>) -> ValueOrGap {
    let both = (barrel_pressure(outlet), supply_pressure(outlet)).all();
    let (barrel, supply) = both.map_err(|gap| without_pressure(outlet, gap))?;
    if barrel.high < supply.low {
        Ok(Value::Text("barrel".into()))
    } else if supply.high < barrel.low {
        Ok(Value::Text("supply".into()))
    } else {
        Err(outlet.absent("either may be first: their ranges overlap"))
    }
}
