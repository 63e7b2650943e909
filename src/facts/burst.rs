//! What ice does to a tube it is trapped in: the pressure that bursts it, and how cold that takes.

use super::outlet::stated;
use super::piping::tube_of;
use super::reading::{OrGap, Outlet};
use super::{Answers, Blank, Compute, Def, Kind, Source, computed, toward};
use crate::expr::{Gap, Reading, Slot, Value};
use crate::physics::bursting::{
    Confinement, NoBurst, Temper, barrel_burst, burst_pressure, melting_temperature,
};
use crate::physics::materials;
use crate::schedule::Reads;
use crate::units::{Dim, Measure, Quantity, Rounding};

const PRESSURE: Kind = Kind::Quantity(Measure::Of(Dim::PRESSURE));
const TEMPERATURE: Kind = Kind::Quantity(Measure::Temperature);
/// 0.035 in, the light end of the usual barrel tube, which bursts first, m.
const LIGHT: f64 = 0.035 * 0.0254;

pub(super) static DEFS: &[Def] = &[
    stated(
        "outlet.check_valve",
        "whether a check valve or pressure-reducing valve stands between the main and it",
        &["Check valve", "Pressure-reducing valve", "PRV", "Closed system"],
        Reads::YesNo,
        Blank::Unknown,
        Answers::All,
    ),
    Def {
        name: "burst.confined",
        about: "whether water beside ice has no way back to the main in the design cold spell: between a plug and a \
                closed valve, or behind a check valve",
        source: Source::Computed(Kind::YesNo, confined),
        answers: Answers::Open,
        show: None,
    },
    pressure(
        "burst.barrel_pressure",
        "pressure that bursts the barrel: a crude estimate, 2tS/D, away from threads and joints",
        |outlet, own| barrel_pressure(outlet, own).map(Value::Quantity),
    ),
    pressure(
        "burst.supply_pressure",
        "pressure that bursts the supply; of copper as tested, soft tube counted, hard tube at the upper end",
        |outlet, own| supply_pressure(outlet, own).map(Value::Quantity),
    ),
    temperature(
        "burst.barrel_yields_at",
        "temperature at which ice and water trapped in the barrel reach the pressure that bursts it: upper bound only",
        |outlet, own| yields_at(barrel_pressure(outlet, own), own),
    ),
    temperature(
        "burst.supply_yields_at",
        "temperature at which ice and water trapped in the supply reach the pressure that bursts it: upper bound only",
        |outlet, own| yields_at(supply_pressure(outlet, own), own),
    ),
    Def {
        name: "burst.first",
        about: "which of barrel and supply bursts first where both are shut in",
        source: Source::Computed(Kind::OneOf(&["barrel", "supply"]), first),
        answers: Answers::Open,
        show: None,
    },
];

/// The lower pressure is the safe side.
const fn pressure(name: &'static str, about: &'static str, compute: Compute) -> Def {
    let show = toward(("psi", 0), ("kPa", 0), Rounding::Down);
    Def { show, ..computed(name, about, PRESSURE, compute) }
}

/// The warmer temperature is the safe side.
const fn temperature(name: &'static str, about: &'static str, compute: Compute) -> Def {
    let show = toward(("°F", 0), ("°C", 0), Rounding::Up);
    Def { show, ..computed(name, about, TEMPERATURE, compute) }
}

/// Ice in a bore whose valve is shut, or in a barrel that a hose left on keeps full, shuts water in between the two;
/// ice in the supply only where a check valve lets none back.
fn confined(outlet: &Outlet<'_>, _: Slot) -> Reading {
    let mut gaps = Gap::default();
    let yes = |fact: &str, gaps: &mut Gap| outlet.value(fact).or_gap(gaps) == Some(Value::YesNo(true));
    let closes = outlet.word("outlet.closes").or_gap(&mut gaps);
    let way_out = match closes.as_deref() {
        Some("face") if yes("ice.blocked", &mut gaps) => Confinement::ClosedValve,
        Some("inside")
            if (outlet.value("outlet.self_draining") == Ok(Value::YesNo(false))
                || outlet.value("backflow.drains_with_hose") != Ok(Value::YesNo(true)))
                && yes("ice.hose_on_blocked", &mut gaps) =>
        {
            Confinement::ClosedValve
        }
        _ if yes("ice.blocked", &mut gaps) && yes("outlet.check_valve", &mut gaps) => Confinement::CheckValve,
        _ => Confinement::OpenSupply,
    };
    if way_out.traps() || gaps == Gap::default() { Ok(Value::YesNo(way_out.traps())) } else { Err(gaps) }
}

fn barrel_pressure(outlet: &Outlet<'_>, own: Slot) -> Result<Quantity, Gap> {
    let mut gaps = Gap::default();
    let metal = outlet.word("outlet.barrel").or_gap(&mut gaps);
    let diameter = outlet.number("outlet.barrel_diameter").or_gap(&mut gaps);
    let thickness = outlet.number("outlet.barrel_thickness").or_gap(&mut gaps);
    let (Some(metal), Some(diameter), Some(thickness)) = (metal, diameter, thickness) else {
        return Err(gaps);
    };
    let key = materials::find(&metal).map_or("", |it| it.key);
    let bursts = |wall| barrel_burst(key, diameter, wall).map(|it| it.pressure).map_err(|no| gap(&no, own));
    let stated = bursts(thickness)?;
    // A thickness nobody states is the heavy end, which is the adverse one for heat and not for bursting.
    let low = if outlet.is_assumed("outlet.barrel_thickness") { bursts(LIGHT)?.min(stated) } else { stated };
    Ok(Quantity::of(low, Dim::PRESSURE).within(low, stated))
}

fn supply_pressure(outlet: &Outlet<'_>, own: Slot) -> Result<Quantity, Gap> {
    let mut gaps = Gap::default();
    let supply = outlet.word("outlet.supply").or_gap(&mut gaps);
    let nominal = outlet.number("outlet.supply_size").or_gap(&mut gaps);
    let (Some(supply), Some(nominal)) = (supply, nominal) else { return Err(gaps) };
    let tube = tube_of(&supply, nominal, own)?;
    let bursts = |temper| burst_pressure(&tube, temper).map(|it| it.pressure).map_err(|no| gap(&no, own));
    // Whether copper is hard or soft is not on a schedule, and a brazed joint softens hard tube.
    let (soft, hard) = (bursts(Temper::Annealed)?, bursts(Temper::Drawn)?);
    Ok(Quantity::of(soft, Dim::PRESSURE).within(soft, hard))
}

fn gap(no: &NoBurst, own: Slot) -> Gap {
    match no {
        NoBurst::NoFigure(why) => Gap::absent(own, *why),
        NoBurst::Refused(refusal) => Gap::absent(own, refusal.to_string()),
    }
}

/// The pressure says why it has none; what goes by it need not say so again.
fn without_figure(gap: Gap, own: Slot) -> Gap {
    if gap.missing.is_empty() { Gap::absent(own, "there is no burst pressure to go by") } else { gap }
}

fn yields_at(pressure: Result<Quantity, Gap>, own: Slot) -> Reading {
    let pressure = pressure.map_err(|gap| without_figure(gap, own))?;
    let at = |pascals| melting_temperature(pascals).map_err(|it| Gap::absent(own, it.to_string()));
    let (warm, cold) = (at(pressure.low)?, at(pressure.high)?);
    Ok(Value::Quantity(Quantity::temperature(at(pressure.is)?).within(cold, warm)))
}

fn first(outlet: &Outlet<'_>, own: Slot) -> Reading {
    let mut gaps = Gap::default();
    let barrel = barrel_pressure(outlet, own).or_gap(&mut gaps);
    let supply = supply_pressure(outlet, own).or_gap(&mut gaps);
    let (barrel, supply) = barrel.zip(supply).ok_or_else(|| without_figure(gaps, own))?;
    if barrel.high < supply.low {
        Ok(Value::Text("barrel".into()))
    } else if supply.high < barrel.low {
        Ok(Value::Text("supply".into()))
    } else {
        Err(Gap::absent(own, "either may be the first: their spreads overlap"))
    }
}
