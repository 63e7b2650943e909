//! Bursting of a tube in which ice traps water: the pressure that bursts it, and how cold it must get.

use super::backflow::DRAINS_WITH_HOSE;
use super::columns::{BARREL, BARREL_DIAMETER, BARREL_THICKNESS, CLOSES_AT, SELF_DRAINING};
use super::def::{
    Compute, Def, FactType, PRESSURE, TEMPERATURE, computed, computed_quantity, computed_yes_no, facts,
    stated_yes_no,
};
use super::ice::{BLOCKED, HOSE_ON_BLOCKED};
use super::outlet::{All, OrGap, Outlet};
use super::section::supply_tube;
use crate::expr::{Gap, Reading, Value};
use crate::job::Scope;
use crate::physics::bursting::{
    Confinement, NoBurst, Temper, barrel_burst, burst_pressure, melting_temperature,
};
use crate::physics::materials;
use crate::units::{Dim, Quantity, Rounding};

facts! {
    CHECK_VALVE = stated_yes_no(
        "outlet.check_valve",
        "whether a check valve or pressure-reducing valve is between the main and it",
    )
        .headings(&["Check valve", "Pressure-reducing valve", "PRV", "Closed system"])
        .question("Is there a check valve or a pressure-reducing valve upstream of it?")
        .scope(Scope::Use);
    CONFINED = computed_yes_no(
        "burst.confined",
        "whether water next to ice cannot flow back to the main in the design cold spell: between a plug and a closed valve, \
         or behind a check valve",
        confined,
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
        "which of barrel and supply bursts first if both are confined",
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

/// Whether ice traps water: between ice in the tube and a closed valve, or in a barrel that a hose keeps full; in the
/// supply only if a check valve stops flow back.
fn confined(outlet: &Outlet<'_>) -> Reading {
    let mut gaps = Gap::default();
    let yes = |def: &Def, gaps: &mut Gap| outlet.yes_no(def).or_gap(gaps) == Some(true);
    let closes = outlet.word(CLOSES_AT).or_gap(&mut gaps);
    let way_out = match closes.as_deref() {
        Some("face") if yes(BLOCKED, &mut gaps) => Confinement::ClosedValve,
        Some("inside")
            if (outlet.yes_no(SELF_DRAINING) == Ok(false) || outlet.yes_no(DRAINS_WITH_HOSE) != Ok(true))
                && yes(HOSE_ON_BLOCKED, &mut gaps) =>
        {
            Confinement::ClosedValve
        }
        _ if yes(BLOCKED, &mut gaps) && yes(CHECK_VALVE, &mut gaps) => Confinement::CheckValve,
        _ => Confinement::OpenSupply,
    };
    if way_out.traps() || gaps == Gap::default() { Ok(Value::YesNo(way_out.traps())) } else { Err(gaps) }
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

fn yields_at(outlet: &Outlet<'_>, pressure: Result<Quantity, Gap>) -> Reading {
    let pressure = pressure.map_err(|gap| without_pressure(outlet, gap))?;
    let at = |pascals| melting_temperature(pascals).map_err(|error| outlet.absent(error));
    let (warm, cold) = (at(pressure.low)?, at(pressure.high)?);
    Ok(Value::Quantity(Quantity::temperature(at(pressure.is)?).within(cold, warm)))
}

fn first(outlet: &Outlet<'_>) -> Reading {
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
