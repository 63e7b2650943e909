//! From an outlet's facts to the section that is solved.

use super::piping::tube_of;
use super::reading::{OrGap, Origin, Outlet};
use super::slot;
use super::space::wall;
use super::words::METALS;
use crate::expr::{Gap, Slot, Value};
use crate::physics::Spread;
use crate::physics::air_film::ASHRAE_WIND_WINTER;
use crate::physics::materials::{self, Material};
use crate::section::{
    Barrel, Behind, Bore, FITTING_LENGTH, Inlet, Layer, Micro, Ranged, Sleeve, Spec, Stem, Supply,
};

/// Exterior film, W/m²K: used 34.0, the handbook's winter film at 6.7 m/s (ASHRAE Fundamentals, ch. 26; from memory),
/// on wall and metal alike. Small metal parts in that wind reach 60; on a calm night, when record lows come,
/// convection and radiation leave about 10. The wind film bounds the calm night from the cold side except for
/// radiation to a clear sky, which is left out.
pub const OUTDOOR_FILM: Spread = Spread::new(10.0, ASHRAE_WIND_WINTER.coefficient, 60.0);
/// Metal surfaces without a row of their own: bright to tarnished.
const METAL_SURFACE: Spread = Spread::new(0.05, 0.4, 0.6);
/// Thickness of a gasket under the flange, m (1/8 in; common practice, no source).
const GASKET: f64 = 0.125 * 0.0254;
/// Foam sleeve on the supply, W/mK (`pipe-insulation-polyethylene`).
pub(super) const SLEEVE: &str = "pipe-insulation-polyethylene";
/// A foam cover over the head, m²K/W: about 3/4 in of polystyrene (common practice, no source).
const COVER: f64 = 0.5;
/// The light ends of what is assumed at its heavy end, m.
const THINNEST_BARREL: f64 = 0.035 * 0.0254;
const THINNEST_STEM: f64 = 0.25 * 0.0254;

/// The section of an outlet, with its seat where it is or at a depth from the wall's own face \[m\]. The gap names
/// everything that is missing;
/// `own` is the fact asked for.
pub(super) fn spec(outlet: &Outlet<'_>, own: Slot, depth: Option<f64>) -> Result<Spec, Gap> {
    let mut gaps = Gap::default();
    let closes = outlet.word("outlet.closes").or_gap(&mut gaps);
    if closes.as_deref() == Some("below grade") {
        return Err(Gap::absent(own, "it closes below grade, where this section does not reach"));
    }
    let seat = depth.map_or_else(|| outlet.number("detail.seat_from_wall_face"), Ok).or_gap(&mut gaps);
    // An outlet that closes inside is taken as drained unless somebody says it does not drain.
    let drains = said(outlet, "outlet.self_draining", &mut gaps).unwrap_or(true);
    let gasket = if said(outlet, "outlet.gasket", &mut gaps) == Some(true) { GASKET } else { 0.0 };
    // Over the open end of a drained barrel a cover is not counted on.
    let covered = closes.as_deref() == Some("face") && said(outlet, "outlet.cover", &mut gaps) == Some(true);
    let barrel = barrel(outlet, &mut gaps);
    let stem = stem(outlet, &mut gaps);
    let wall = wall(outlet).or_gap(&mut gaps);
    let space = outlet.word("outlet.space_behind").or_gap(&mut gaps);
    let supply = supply(outlet, own, &mut gaps);
    let room = outlet.number("space.room_temperature").or_gap(&mut gaps);
    let share = outlet.number("space.share").or_gap(&mut gaps);
    let pressure = outlet.number("site.air_pressure").or_gap(&mut gaps);
    let (
        Some(closes),
        Some(seat),
        Some(barrel),
        Some(stem),
        Some(wall),
        Some(space),
        Some(supply),
        Some(room),
        Some(share),
        Some(pressure),
    ) = (closes, seat, barrel, stem, wall, space, supply, room, share, pressure)
    else {
        return Err(gaps);
    };
    if gaps != Gap::default() {
        return Err(gaps);
    }
    let layers = wall
        .layers
        .iter()
        .map(|it| Layer { thickness: Micro::of(it.thickness), conductivity: Micro::of(it.conductivity) });
    let in_wall = &*space == "wall cavity";
    if in_wall && seat + FITTING_LENGTH + 2.0 * supply.diameter.si() > wall.thickness() {
        let why = "the inlet reaches through the wall, so that the space behind cannot be the wall cavity";
        return Err(Gap::absent(own, why));
    }
    Ok(Spec {
        wall: layers.collect(),
        seat_depth: Micro::of(seat),
        barrel,
        stem,
        // Water stands in a face-closing valve.
        bore: if &*closes == "face" || !drains { Bore::Full } else { Bore::Drained },
        supply,
        inlet: if in_wall { Inlet::InWall } else { Inlet::InSpace },
        behind: Behind { room: Micro::of(room), share: Micro::of(share), pressure: Micro::of(pressure) },
        outdoor_film: OUTDOOR_FILM.into(),
        gasket: Micro::of(gasket),
        cover: Micro::of(if covered { COVER } else { 0.0 }),
    })
}

/// A yes or no; nothing where nobody says, which is no gap. A cell that cannot be read is one.
fn said(outlet: &Outlet<'_>, name: &str, gaps: &mut Gap) -> Option<bool> {
    let fact = outlet.fact(slot(name));
    match fact.value {
        Ok(Value::YesNo(it)) => Some(it),
        Err(gap) if matches!(fact.origin, Origin::Unreadable(..)) => Err(gap).or_gap(gaps),
        _ => None,
    }
}

fn barrel(outlet: &Outlet<'_>, gaps: &mut Gap) -> Option<Barrel> {
    let metal = outlet.word("outlet.barrel").or_gap(gaps);
    let diameter = outlet.number("outlet.barrel_diameter").or_gap(gaps);
    let thickness = outlet.number("outlet.barrel_thickness").or_gap(gaps);
    let material = materials::find(&metal?)?;
    let thickness = thickness?;
    let thinnest = if outlet.is_assumed("outlet.barrel_thickness") { THINNEST_BARREL } else { thickness };
    Some(Barrel {
        diameter: Micro::of(diameter?),
        thickness: Ranged::new(thinnest, thickness, thickness),
        conductivity: material.conductivity.into(),
        emissivity: surface(material),
    })
}

fn stem(outlet: &Outlet<'_>, gaps: &mut Gap) -> Option<Stem> {
    let metal = outlet.word("outlet.stem").or_gap(gaps);
    let diameter = outlet.number("outlet.stem_diameter").or_gap(gaps);
    let material = materials::find(&metal?)?;
    let diameter = diameter?;
    let thinnest = if outlet.is_assumed("outlet.stem_diameter") { THINNEST_STEM } else { diameter };
    let mut conductivity: Ranged = material.conductivity.into();
    if outlet.is_assumed("outlet.stem") {
        conductivity.low = least_of_metals().unwrap_or(conductivity.low);
    }
    Some(Stem { diameter: Ranged::new(thinnest, diameter, diameter), conductivity })
}

/// Stainless, the least conductive stem there is.
fn least_of_metals() -> Option<Micro> {
    let metals = METALS.iter().filter_map(|(word, _)| materials::find(word));
    metals.map(|it| Micro::of(it.conductivity.low)).min()
}

fn supply(outlet: &Outlet<'_>, own: Slot, gaps: &mut Gap) -> Option<Supply> {
    let word = outlet.word("outlet.supply").or_gap(gaps);
    let nominal = outlet.number("outlet.supply_size").or_gap(gaps);
    let run = outlet.number("outlet.supply_run").or_gap(gaps);
    let insulation = outlet.number("outlet.supply_insulation").or_gap(gaps);
    let word = word?;
    let material = materials::find(&word)?;
    let pipe = tube_of(&word, nominal?, own).or_gap(gaps)?;
    let insulation = insulation?;
    let sleeve = (insulation > 0.0)
        .then_some(())
        .and_then(|()| materials::find(SLEEVE))
        .map(|it| Sleeve { thickness: Micro::of(insulation), conductivity: Micro::of(it.conductivity.used) });
    Some(Supply {
        diameter: Micro::of(pipe.outside_diameter),
        thickness: Micro::of(pipe.wall),
        conductivity: material.conductivity.into(),
        run: Micro::of(run?),
        emissivity: surface(material),
        sleeve,
    })
}

fn surface(material: &Material) -> Ranged {
    material.emissivity.unwrap_or(METAL_SURFACE).into()
}
