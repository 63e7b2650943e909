//! What stays in the barrel after it closes.

use super::reading::{OrGap, Outlet};
use super::{Answers, Def, Kind, Source, toward};
use crate::expr::{Gap, Slot, Value};
use crate::physics::drainage::{Barrel, CONTACT_ANGLE, Kept, Vent, water_kept};
use crate::units::{Dim, Measure, Quantity, Rounding};

pub(super) static DEFS: &[Def] = &[
    Def {
        name: "drain.water_kept",
        about: "water left in the barrel after it closes, at its slope, with the outlet open to air",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::VOLUME)), |outlet, own| {
            Ok(Value::Quantity(Quantity::of(kept(outlet, own)?.volume, Dim::VOLUME)))
        }),
        answers: Answers::Open,
        show: toward(("fl oz", 2), ("mL", 0), Rounding::Up),
    },
    Def {
        name: "drain.deepest_water",
        about: "depth of that water at its deepest",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::LENGTH)), |outlet, own| {
            Ok(Value::Quantity(Quantity::of(kept(outlet, own)?.deepest, Dim::LENGTH)))
        }),
        answers: Answers::Open,
        show: toward(("in", 2), ("mm", 1), Rounding::Up),
    },
    Def {
        name: "drain.share_when_frozen",
        about: "share of the space between barrel and stem that it fills once frozen",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::NONE)), |outlet, own| {
            Ok(Value::Quantity(Quantity::of(kept(outlet, own)?.share_frozen, Dim::NONE)))
        }),
        answers: Answers::Open,
        show: toward(("%", 0), ("%", 0), Rounding::Up),
    },
];

fn kept(outlet: &Outlet<'_>, own: Slot) -> Result<Kept, Gap> {
    let mut gaps = Gap::default();
    let length = outlet.number("outlet.seat_depth").or_gap(&mut gaps);
    let diameter = outlet.number("outlet.barrel_diameter").or_gap(&mut gaps);
    let thickness = outlet.number("outlet.barrel_thickness").or_gap(&mut gaps);
    let stem = outlet.number("outlet.stem_diameter").or_gap(&mut gaps);
    let slope = outlet.number("outlet.slope").or_gap(&mut gaps);
    let (Some(length), Some(diameter), Some(thickness), Some(stem), Some(slope)) =
        (length, diameter, thickness, stem, slope)
    else {
        return Err(gaps);
    };
    let barrel = Barrel { bore: diameter - 2.0 * thickness, stem, length, slope, vent: Vent::Open };
    water_kept(&barrel, CONTACT_ANGLE).map_err(|refusal| Gap::absent(own, refusal.to_string()))
}
