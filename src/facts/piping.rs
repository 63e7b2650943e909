//! The supply and how it is joined.

use super::heat::{banded, boundary, target};
use super::reading::{OrGap, Outlet};
use super::section_of::spec;
use super::space::wall;
use super::{Answers, Blank, Def, Kind, Source, slot, toward};
use crate::expr::{Gap, Reading, Slot, Value};
use crate::physics::materials;
use crate::physics::tubes::{Size, Tube, tube, usual_kind};
use crate::schedule::Reads;
use crate::section::{FITTING_LENGTH, Spec, Uncertainty};
use crate::units::{Dim, Measure, Quantity, Rounding};

/// Joints each kind of inlet is made for. A combination inlet takes thread or solder.
const SUITED: &[(&str, &[&str])] = &[
    ("threaded", &["threaded"]),
    ("combination", &["threaded", "soldered"]),
    ("sweat", &["soldered"]),
    ("press", &["pressed"]),
    ("push-fit", &["push-fit"]),
    ("crimp", &["crimped"]),
];

pub(super) static DEFS: &[Def] = &[
    Def {
        name: "inlet.joint_suits",
        about: "whether the joint is one the inlet is made for",
        source: Source::Computed(Kind::YesNo, |outlet, _| {
            let mut gaps = Gap::default();
            let inlet = outlet.word("outlet.inlet").or_gap(&mut gaps);
            let joint = outlet.word("outlet.joint").or_gap(&mut gaps);
            let (inlet, joint) = inlet.zip(joint).ok_or(gaps)?;
            let suited = SUITED
                .iter()
                .find(|(kind, _)| *kind == &*inlet)
                .is_some_and(|(_, joints)| joints.contains(&&*joint));
            Ok(Value::YesNo(suited))
        }),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "supply.depth",
        about: "exterior finished face to the axis of a supply that turns down inside the wall",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::LENGTH)), |outlet, own| {
            Ok(Value::Quantity(Quantity::of(depth(outlet, own)?, Dim::LENGTH)))
        }),
        answers: Answers::Open,
        show: toward(("in", 1), ("mm", 0), Rounding::Down),
    },
    Def {
        name: "supply.insulation_outboard",
        about: "share of the wall's insulation, by resistance, that lies outboard of a supply inside the wall",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::NONE)), |outlet, own| {
            let share = wall(outlet)?.insulation_outboard_of(depth(outlet, own)?);
            let share = share.ok_or_else(|| Gap::absent(own, "the wall has no insulation layer"))?;
            Ok(Value::Quantity(Quantity::of(share, Dim::NONE)))
        }),
        answers: Answers::Open,
        show: toward(("%", 0), ("%", 0), Rounding::Down),
    },
    Def {
        name: "piping.seat_with_copper",
        about: "steady temperature at the seat at the design low, were the supply copper of the same size and run",
        source: Source::Computed(Kind::Quantity(Measure::Temperature), |outlet, own| {
            Ok(banded(seat_with_copper(outlet, own)?, Measure::Temperature))
        }),
        answers: Answers::Open,
        show: toward(("°F", 1), ("°C", 1), Rounding::Down),
    },
    Def {
        name: "piping.copper_would_hold",
        about: "whether the seat surely keeps the margin at the design low with a copper supply, and does not as it is",
        source: Source::Computed(Kind::YesNo, |outlet, own| {
            would_hold(outlet, own, seat_with_copper(outlet, own))
        }),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "piping.seat_without_sleeve",
        about: "steady temperature at the seat at the design low, were the supply bare",
        source: Source::Computed(Kind::Quantity(Measure::Temperature), |outlet, own| {
            Ok(banded(seat_without_sleeve(outlet, own)?, Measure::Temperature))
        }),
        answers: Answers::Open,
        show: toward(("°F", 1), ("°C", 1), Rounding::Down),
    },
    Def {
        name: "piping.bare_would_hold",
        about: "whether the seat surely keeps the margin at the design low with a bare supply, and does not as it is",
        source: Source::Computed(Kind::YesNo, |outlet, own| {
            would_hold(outlet, own, seat_without_sleeve(outlet, own))
        }),
        answers: Answers::Open,
        show: None,
    },
    super::outlet::stated(
        "outlet.heat_cable",
        "whether a heat cable keeps its supply from freezing",
        &["Heat cable", "Heat trace", "Heat tape"],
        Reads::YesNo,
        Blank::Assume(|_| {
            Ok(Some((Value::YesNo(false), "a heat cable that nobody mentions is not counted on")))
        }),
        Answers::All,
    ),
];

/// The seat's band at the design low with the supply of another material: the section solved anew.
fn seat_with_copper(outlet: &Outlet<'_>, own: Slot) -> Result<[f64; 3], Gap> {
    let copper = [(slot("outlet.supply"), Value::Text("copper".into()))];
    let (as_it_is, with) = (outlet.word("outlet.supply")?, outlet.suppose(&copper));
    if &*as_it_is == "copper" {
        return Err(Gap::absent(own, "the supply is copper"));
    }
    seat(outlet, spec(&with, own, None)?, own)
}

/// The seat's band at the design low with the supply bare: the section solved anew without its sleeve.
fn seat_without_sleeve(outlet: &Outlet<'_>, own: Slot) -> Result<[f64; 3], Gap> {
    let mut spec = spec(outlet, own, None)?;
    if spec.supply.sleeve.take().is_none() {
        return Err(Gap::absent(own, "the supply has no insulation"));
    }
    seat(outlet, spec, own)
}

fn seat(outlet: &Outlet<'_>, spec: Spec, own: Slot) -> Result<[f64; 3], Gap> {
    let at = boundary(outlet)?;
    let solved = outlet.world().section(&spec, Uncertainty::Carried);
    Ok(solved.map_err(|it| Gap::absent(own, it.to_string()))?.seat_temperature(&at))
}

/// Whether the whole band so changed keeps what is asked, where the whole band as it is does not.
fn would_hold(outlet: &Outlet<'_>, own: Slot, changed: Result<[f64; 3], Gap>) -> Reading {
    let (wanted, as_it_is, changed) =
        (target(outlet, own)?, seat(outlet, spec(outlet, own, None)?, own)?, changed?);
    Ok(Value::YesNo(as_it_is[0] < wanted && changed[0] >= wanted))
}

fn depth(outlet: &Outlet<'_>, own: Slot) -> Result<f64, Gap> {
    let mut gaps = Gap::default();
    let space = outlet.word("outlet.space_behind").or_gap(&mut gaps);
    let seat = outlet.number("detail.seat_from_wall_face").or_gap(&mut gaps);
    let supply = outlet.word("outlet.supply").or_gap(&mut gaps);
    let nominal = outlet.number("outlet.supply_size").or_gap(&mut gaps);
    let (Some(space), Some(seat), Some(supply), Some(nominal)) = (space, seat, supply, nominal) else {
        return Err(gaps);
    };
    if &*space != "wall cavity" {
        return Err(Gap::absent(own, "the supply does not run inside the wall"));
    }
    Ok(seat + FITTING_LENGTH + tube_of(&supply, nominal, own)?.outside_diameter / 2.0)
}

/// The usual tube of a supply's material and nominal size \[m\].
pub(super) fn tube_of(supply: &str, nominal: f64, own: Slot) -> Result<Tube, Gap> {
    let size = Size::ALL.into_iter().find(|it| (it.inches() * 0.0254 - nominal).abs() < 1e-4);
    let kind = materials::find(supply).and_then(|it| usual_kind(it.key));
    let found = kind.zip(size).map(|(kind, size)| tube(kind, size));
    found.ok_or_else(|| Gap::absent(own, "the table of tubes has no such supply of that nominal size"))
}
