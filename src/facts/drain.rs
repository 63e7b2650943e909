//! What stays in the barrel after it closes.

use super::reading::{OrGap, Outlet};
use super::{Answers, Def, Kind, Source, slot, toward};
use crate::expr::{Gap, Slot, Value};
use crate::physics::drainage::{
    Barrel, CONTACT_ANGLE, ClosedTop, Kept, Vent, capillary_bore, closed_top, free_to_swell, water_kept,
};
use crate::physics::water::ICE_POINT;
use crate::units::{Dim, Measure, Quantity, Rounding};

pub(super) static DEFS: &[Def] = &[
    Def {
        name: "drain.water_kept",
        about: "water left in the barrel after it closes, at its slope, with the outlet open to air",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::VOLUME)), |outlet, own| {
            Ok(Value::Quantity(Quantity::of(kept(outlet, own, |it| it.volume)?, Dim::VOLUME)))
        }),
        answers: Answers::Open,
        show: toward(("fl oz", 2), ("mL", 0), Rounding::Up),
    },
    Def {
        name: "drain.deepest_water",
        about: "depth of that water at its deepest",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::LENGTH)), |outlet, own| {
            Ok(Value::Quantity(Quantity::of(kept(outlet, own, |it| it.deepest)?, Dim::LENGTH)))
        }),
        answers: Answers::Open,
        show: toward(("in", 2), ("mm", 1), Rounding::Up),
    },
    Def {
        name: "drain.share_when_frozen",
        about: "share of the space between barrel and stem that it fills once frozen",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::NONE)), |outlet, own| {
            Ok(Value::Quantity(Quantity::of(kept(outlet, own, |it| it.share_frozen)?, Dim::NONE)))
        }),
        answers: Answers::Open,
        show: toward(("%", 0), ("%", 0), Rounding::Up),
    },
    Def {
        name: "drain.free_to_swell",
        about: "whether that water, its surface free along the barrel, has room to freeze at its deepest",
        source: Source::Computed(Kind::YesNo, |outlet, own| {
            let free = free_to_swell(&barrel(outlet)?, CONTACT_ANGLE);
            free.map(Value::YesNo).map_err(|refusal| Gap::absent(own, refusal.to_string()))
        }),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "drain.bore",
        about: "bore of the barrel",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::LENGTH)), |outlet, _| {
            Ok(Value::Quantity(Quantity::of(bore(outlet)?, Dim::LENGTH)))
        }),
        answers: Answers::Open,
        show: toward(("in", 2), ("mm", 1), Rounding::Down),
    },
    Def {
        name: "drain.without_air",
        about: "what a full barrel does where no air gets in behind the water (hose left on, breaker stuck), by its bore",
        source: Source::Computed(Kind::OneOf(&[FULL, MAY, EMPTIES]), |outlet, own| {
            let refused = |refusal: crate::physics::Refusal| Gap::absent(own, refusal.to_string());
            let bore = bore(outlet)?;
            if bore < capillary_bore(ICE_POINT).map_err(refused)? {
                return Ok(Value::Text(FULL.into()));
            }
            Ok(Value::Text(match closed_top(bore).map_err(refused)? {
                ClosedTop::StaysFull => FULL.into(),
                ClosedTop::MayStay => MAY.into(),
                ClosedTop::Empties => EMPTIES.into(),
            }))
        }),
        answers: Answers::Open,
        show: None,
    },
];

const FULL: &str = "stays full";
const MAY: &str = "may stay full";
const EMPTIES: &str = "empties";

fn kept(outlet: &Outlet<'_>, own: Slot, part: fn(Kept) -> f64) -> Result<f64, Gap> {
    water_kept(&barrel(outlet)?, CONTACT_ANGLE)
        .map(part)
        .map_err(|refusal| Gap::absent(own, refusal.to_string()))
}

fn barrel(outlet: &Outlet<'_>) -> Result<Barrel, Gap> {
    let mut gaps = Gap::default();
    let length = outlet.number("outlet.seat_depth").or_gap(&mut gaps);
    let bore = bore(outlet).or_gap(&mut gaps);
    let stem = outlet.number("outlet.stem_diameter").or_gap(&mut gaps);
    let slope = outlet.number("outlet.slope").or_gap(&mut gaps);
    let (Some(length), Some(bore), Some(stem), Some(slope)) = (length, bore, stem, slope) else {
        return Err(gaps);
    };
    Ok(Barrel { bore, stem, length, slope, vent: Vent::Open })
}

fn bore(outlet: &Outlet<'_>) -> Result<f64, Gap> {
    let mut gaps = Gap::default();
    let diameter = outlet.number("outlet.barrel_diameter").or_gap(&mut gaps);
    let thickness = outlet.number("outlet.barrel_thickness").or_gap(&mut gaps);
    let stem = outlet.number("outlet.stem_diameter").or_gap(&mut gaps);
    let (Some(diameter), Some(thickness), Some(stem)) = (diameter, thickness, stem) else { return Err(gaps) };
    let bore = diameter - 2.0 * thickness;
    let why = "diameter and thickness of the barrel leave no room around the stem";
    if bore > stem { Ok(bore) } else { Err(Gap::absent(slot("drain.bore"), why)) }
}
