//! Water that stays in the barrel after it closes.

use super::columns::{BARREL_DIAMETER, BARREL_THICKNESS, SEAT_DEPTH, SLOPE, STEM_DIAMETER};
use super::def::{LENGTH, RATIO, VOLUME, computed_quantity, computed_yes_no, facts};
use super::outlet::{All, Outlet};
use crate::expr::{Gap, Value, ValueOrGap};
use crate::physics::drainage::{Barrel, CONTACT_ANGLE, Kept, Vent, free_to_swell, water_kept};
use crate::units::{Dim, Quantity, Rounding};

facts! {
    WATER_KEPT = computed_quantity(
        "drain.water_kept",
        "water left in the barrel after it closes, at its slope, with the faucet open to air",
        VOLUME,
        |outlet| kept(outlet, Dim::VOLUME, |it| it.volume),
    )
        .show(("fl oz", 1), ("mL", 0), Rounding::Up);
    DEEPEST_WATER = computed_quantity(
        "drain.deepest_water",
        "depth of that water at its deepest",
        LENGTH,
        |outlet| kept(outlet, Dim::LENGTH, |it| it.deepest),
    )
        .show(("in", 2), ("mm", 1), Rounding::Up);
    SHARE_WHEN_FROZEN = computed_quantity(
        "drain.share_when_frozen",
        "share of the space between barrel and stem that it fills when frozen",
        RATIO,
        |outlet| kept(outlet, Dim::NONE, |it| it.share_frozen),
    )
        .show(("%", 0), ("%", 0), Rounding::Up);
    FREE_TO_SWELL = computed_yes_no(
        "drain.free_to_swell",
        "whether that water, its surface free along the barrel, has room to freeze at its deepest",
        |outlet| {
            let free = free_to_swell(&barrel(outlet)?, CONTACT_ANGLE);
            free.map(Value::YesNo).map_err(|error| outlet.absent(error))
        },
    );
}

fn kept(outlet: &Outlet<'_>, dim: Dim, part: fn(Kept) -> f64) -> ValueOrGap {
    let kept = water_kept(&barrel(outlet)?, CONTACT_ANGLE).map_err(|error| outlet.absent(error))?;
    Ok(Value::Quantity(Quantity::of(part(kept), dim)))
}

fn barrel(outlet: &Outlet<'_>) -> Result<Barrel, Gap> {
    let (length, bore, stem, slope) =
        (outlet.number(SEAT_DEPTH), bore(outlet), outlet.number(STEM_DIAMETER), outlet.number(SLOPE))
            .all()?;
    Ok(Barrel { bore, stem, length, slope, vent: Vent::Open })
}

fn bore(outlet: &Outlet<'_>) -> Result<f64, Gap> {
    let (diameter, thickness, stem) =
        (outlet.number(BARREL_DIAMETER), outlet.number(BARREL_THICKNESS), outlet.number(STEM_DIAMETER))
            .all()?;
    let bore = diameter - 2.0 * thickness;
    let why = "diameter and thickness of the barrel leave no room around the stem";
    if bore > stem { Ok(bore) } else { Err(outlet.absent(why)) }
}
