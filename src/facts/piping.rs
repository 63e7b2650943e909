//! The supply and how it is joined.

use super::assumed::no;
use super::columns::{INLET, INLET_LENGTH, JOINT, SPACE_BEHIND, SUPPLY};
use super::def::{LENGTH, RATIO, TEMPERATURE, computed_quantity, computed_yes_no, facts, stated_yes_no};
use super::detail::SEAT_FROM_WALL_FACE;
use super::heat::{banded, boundary, target};
use super::outlet::{All, Outlet};
use super::section::{spec, supply_tube};
use super::space::wall;
use crate::expr::{Gap, Value, ValueOrGap};
use crate::job::Scope;
use crate::section::{Spec, Uncertainty};
use crate::units::{Dim, Quantity, Rounding};

/// Joints that each kind of inlet is made for. A combination inlet accepts thread or solder.
const SUITED: &[(&str, &[&str])] = &[
    ("threaded", &["threaded"]),
    ("combination", &["threaded", "soldered"]),
    ("sweat", &["soldered"]),
    ("press", &["pressed"]),
    ("push-fit", &["push-fit"]),
    ("crimp", &["crimped"]),
];

facts! {
    JOINT_SUITS = computed_yes_no("inlet.joint_suits", "whether the joint is one the inlet is made for", |outlet| {
        let (inlet, joint) = (outlet.word(INLET), outlet.word(JOINT)).all()?;
        let suited = SUITED.iter().find(|(kind, _)| *kind == &*inlet);
        let suits = suited.is_some_and(|(_, joints)| joints.contains(&&*joint));
        if !suits && &*inlet == "combination" {
            return Err(outlet.absent("a combination inlet takes thread or solder; the product data say what else"));
        }
        Ok(Value::YesNo(suits))
    })
        .label("answer as to whether the joint suits");
    DEPTH = computed_quantity(
        "supply.depth",
        "exterior finished face to the axis of a supply that turns down inside the wall",
        LENGTH,
        |outlet| Ok(Value::Quantity(Quantity::of(depth(outlet)?, Dim::LENGTH))),
    )
        .show(("in", 1), ("mm", 0), Rounding::Down);
    INSULATION_OUTBOARD = computed_quantity(
        "supply.insulation_outboard",
        "share of the wall's insulation, by resistance, on the cold side of a supply inside the wall",
        RATIO,
        |outlet| {
            let share = wall(outlet)?.insulation_outboard_of(depth(outlet)?);
            let share = share.ok_or_else(|| outlet.absent("the wall has no insulation layer"))?;
            Ok(Value::Quantity(Quantity::of(share, Dim::NONE)))
        },
    )
        .label("insulation on the cold side")
        .show(("%", 0), ("%", 0), Rounding::Down);
    SEAT_WITH_COPPER = computed_quantity(
        "piping.seat_with_copper",
        "steady temperature at the seat at the design low with a copper supply of the same size and run",
        TEMPERATURE,
        |outlet| Ok(banded(seat(outlet, &with_copper(outlet)?, Uncertainty::Carried)?, TEMPERATURE)),
    )
        .show(("°F", 1), ("°C", 1), Rounding::Down);
    COPPER_WOULD_HOLD = computed_yes_no(
        "piping.copper_would_hold",
        "whether the seat certainly keeps the margin at the design low with a copper supply, and does not as stated",
        |outlet| would_hold(outlet, with_copper(outlet)),
    );
    SEAT_WITHOUT_SLEEVE = computed_quantity(
        "piping.seat_without_sleeve",
        "steady temperature at the seat at the design low with a bare supply",
        TEMPERATURE,
        |outlet| Ok(banded(seat(outlet, &without_sleeve(outlet)?, Uncertainty::Carried)?, TEMPERATURE)),
    )
        .show(("°F", 1), ("°C", 1), Rounding::Down);
    BARE_WOULD_HOLD = computed_yes_no(
        "piping.bare_would_hold",
        "whether the seat certainly keeps the margin at the design low with a bare supply, and does not as stated",
        |outlet| would_hold(outlet, without_sleeve(outlet)),
    );
    HEAT_CABLE = stated_yes_no("outlet.heat_cable", "whether a heat cable keeps its supply from freezing")
        .headings(&["Heat cable", "Heat trace", "Heat tape"])
        .question("Does a heat cable keep its supply from freezing?")
        .scope(Scope::Use)
        .assume(|_| no("a heat cable counts only if the schedule shows it"));
}

/// The section with a copper supply.
fn with_copper(outlet: &Outlet<'_>) -> Result<Spec, Gap> {
    if &*outlet.word(SUPPLY)? == "copper" {
        return Err(outlet.absent("the supply is copper"));
    }
    spec(&outlet.suppose(&[(outlet.slot(SUPPLY), Value::Text("copper".into()))]), None)
}

/// The section with a bare supply.
fn without_sleeve(outlet: &Outlet<'_>) -> Result<Spec, Gap> {
    let mut spec = spec(outlet, None)?;
    if spec.supply.sleeve.take().is_none() {
        return Err(outlet.absent("the supply has no insulation"));
    }
    Ok(spec)
}

/// The seat's band at the design low with a section, solved again.
fn seat(outlet: &Outlet<'_>, spec: &Spec, uncertainty: Uncertainty) -> Result<[f64; 3], Gap> {
    let at = boundary(outlet)?;
    let solved = outlet.world().section(spec, uncertainty);
    Ok(solved.map_err(|it| outlet.absent(it))?.seat_temperature(&at))
}

/// Whether the whole band of a changed section reaches the target, and the whole band as stated does not.
fn would_hold(outlet: &Outlet<'_>, changed: Result<Spec, Gap>) -> ValueOrGap {
    let as_stated = seat(outlet, &spec(outlet, None)?, Uncertainty::Carried);
    let (target, [low, ..], changed) = (target(outlet)?, as_stated?, changed?);
    // The cold end is no warmer than the best estimate, which mostly tells by itself.
    let holds = |uncertainty| Ok(seat(outlet, &changed, uncertainty)?[0] >= target);
    let would = low < target && holds(Uncertainty::LeftOut)? && holds(Uncertainty::Carried)?;
    Ok(Value::YesNo(would))
}

fn depth(outlet: &Outlet<'_>) -> Result<f64, Gap> {
    let inlet = (outlet.number(SEAT_FROM_WALL_FACE), outlet.number(INLET_LENGTH)).all();
    let (space, (seat, fitting), tube) = (outlet.word(SPACE_BEHIND), inlet, supply_tube(outlet)).all()?;
    if &*space != "wall cavity" {
        return Err(outlet.absent("the supply does not run inside the wall"));
    }
    Ok(seat + fitting + tube.outside_diameter / 2.0)
}
