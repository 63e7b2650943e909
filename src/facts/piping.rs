//! The supply and how it is joined.

use super::reading::{OrGap, Outlet};
use super::space::wall;
use super::{Answers, Def, Kind, Source, toward};
use crate::expr::{Gap, Slot, Value};
use crate::physics::materials;
use crate::physics::tubes::{Size, Tube, tube, usual_kind};
use crate::section::FITTING_LENGTH;
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
];

fn depth(outlet: &Outlet<'_>, own: Slot) -> Result<f64, Gap> {
    let mut gaps = Gap::default();
    let space = outlet.word("outlet.space_behind").or_gap(&mut gaps);
    let seat = outlet.number("outlet.seat_depth").or_gap(&mut gaps);
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
