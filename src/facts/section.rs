//! From the facts of an outlet to the section that is solved.

use super::columns::{
    BARREL, BARREL_DIAMETER, BARREL_THICKNESS, CLOSES_AT, COVER, GASKET, KIND, SELF_DRAINING, SPACE_BEHIND,
    STEM, STEM_DIAMETER, SUPPLY, SUPPLY_INSULATION, SUPPLY_RUN, SUPPLY_SIZE,
};
use super::def::{Def, INCH};
use super::detail::SEAT_FROM_WALL_FACE;
use super::outlet::{All, Origin, Outlet};
use super::site::AIR_PRESSURE;
use super::space::{ROOM_TEMPERATURE, SHARE, wall};
use super::words::METALS;
use crate::expr::{Gap, Value};
use crate::physics::Spread;
use crate::physics::air_film::ASHRAE_WIND_WINTER;
use crate::physics::materials::{self, Material};
use crate::physics::tubes::{Size, Tube, tube, usual_kind};
use crate::section::{
    Barrel, Behind, Bore, FITTING_LENGTH, Inlet, Layer, Micro, Ranged, Sleeve, Spec, Stem, Supply,
};

/// Exterior film, W/m²K: used 34.0, the handbook's winter film at 6.7 m/s (ASHRAE Fundamentals, ch. 26; not
/// checked against the edition), on wall and metal alike. Small metal parts in that wind reach 60; on a calm night, when record lows come,
/// convection and radiation leave about 10. The wind film bounds the calm night from the cold side except for
/// radiation to a clear sky, which is not included.
pub const OUTDOOR_FILM: Spread = Spread::new(10.0, ASHRAE_WIND_WINTER.coefficient, 60.0);
/// Metal surfaces without a row of their own: bright to tarnished.
const METAL_SURFACE: Spread = Spread::new(0.05, 0.4, 0.6);
/// Thickness of a gasket under the flange, m (1/8 in; no published source).
const GASKET_THICKNESS: f64 = 0.125 * INCH;
/// Foam sleeve on the supply, W/mK (`pipe-insulation-polyethylene`).
pub(super) const SLEEVE: &str = "pipe-insulation-polyethylene";
/// A foam cover over the head, m²K/W: about 3/4 in of polystyrene (no published source).
const COVER_RESISTANCE: f64 = 0.5;
/// The light end of what is assumed at its heavy end, m.
const THINNEST_BARREL: f64 = 0.035 * INCH;
const THINNEST_STEM: f64 = 0.25 * INCH;

/// The section of an outlet, with its seat as stated or at a depth from the wall's own face \[m\]. The gap names
/// everything that is missing.
pub(super) fn spec(outlet: &Outlet<'_>, depth: Option<f64>) -> Result<Spec, Gap> {
    let closes = outlet.word(CLOSES_AT);
    if closes.as_deref() == Ok("below grade") {
        return Err(outlet.absent("it closes below grade, where this section does not reach"));
    }
    const NOT_COMPUTED: [&str; 4] = ["roof hydrant", "ground hydrant", "hose reel", "irrigation connection"];
    if let Ok(kind) = outlet.word(KIND)
        && NOT_COMPUTED.contains(&&*kind)
    {
        return Err(outlet.absent(format!("a {kind} is not computed: it is no outlet through a wall")));
    }
    let seat = depth.map_or_else(|| outlet.number(SEAT_FROM_WALL_FACE), Ok);
    let [drains, gasket] = [SELF_DRAINING, GASKET].map(|def| yes_no_if_stated(outlet, def));
    let closes_at_face = closes.as_deref() == Ok("face");
    // A cover over the open end of a drained barrel is not counted.
    let cover = if closes_at_face { yes_no_if_stated(outlet, COVER) } else { Ok(None) };
    let body = (barrel(outlet), stem(outlet), wall(outlet), supply(outlet)).all();
    let behind = (outlet.number(ROOM_TEMPERATURE), outlet.number(SHARE), outlet.number(AIR_PRESSURE)).all();
    let mounted = (drains, gasket, cover).all();
    let space = outlet.word(SPACE_BEHIND);
    let ((_, seat), (drains, gasket, cover), (barrel, stem, wall, supply), space, (room, share, pressure)) =
        ((closes, seat).all(), mounted, body, space, behind).all()?;
    let is_in_wall = &*space == "wall cavity";
    if is_in_wall && seat + FITTING_LENGTH + 2.0 * supply.diameter.si() > wall.thickness() {
        let why = "the inlet reaches through the wall, so that the space behind cannot be the wall cavity";
        return Err(outlet.absent(why));
    }
    let layers = wall.layers.iter().map(|layer| Layer {
        thickness: Micro::of(layer.thickness),
        conductivity: Micro::of(layer.conductivity),
    });
    // Water stands in a valve that closes at the face. One that closes inside is drained unless it is stated not to be.
    let is_full = closes_at_face || drains == Some(false);
    Ok(Spec {
        wall: layers.collect(),
        seat_depth: Micro::of(seat),
        barrel,
        stem,
        bore: if is_full { Bore::Full } else { Bore::Drained },
        supply,
        inlet: if is_in_wall { Inlet::InWall } else { Inlet::InSpace },
        behind: Behind { room: Micro::of(room), share: Micro::of(share), pressure: Micro::of(pressure) },
        outdoor_film: OUTDOOR_FILM.into(),
        gasket: Micro::of(if gasket == Some(true) { GASKET_THICKNESS } else { 0.0 }),
        cover: Micro::of(if cover == Some(true) { COVER_RESISTANCE } else { 0.0 }),
    })
}

/// A yes or no; `None` if nobody states it, which is no gap. A cell with an error is a gap.
fn yes_no_if_stated(outlet: &Outlet<'_>, def: &Def) -> Result<Option<bool>, Gap> {
    let fact = outlet.get_fact(def);
    match fact.value {
        Ok(Value::YesNo(yes)) => Ok(Some(yes)),
        Err(gap) if matches!(fact.origin, Origin::Unreadable(..)) => Err(gap),
        _ => Ok(None),
    }
}

fn material(outlet: &Outlet<'_>, def: &Def) -> Result<&'static Material, Gap> {
    materials::find(&outlet.word(def)?).ok_or_else(|| outlet.missing(def))
}

fn barrel(outlet: &Outlet<'_>) -> Result<Barrel, Gap> {
    let (material, diameter, thickness) =
        (material(outlet, BARREL), outlet.number(BARREL_DIAMETER), outlet.number(BARREL_THICKNESS)).all()?;
    let thinnest = if outlet.is_assumed(BARREL_THICKNESS) { THINNEST_BARREL } else { thickness };
    Ok(Barrel {
        diameter: Micro::of(diameter),
        thickness: Ranged::new(thinnest, thickness, thickness),
        conductivity: material.conductivity.into(),
        emissivity: surface(material),
    })
}

fn stem(outlet: &Outlet<'_>) -> Result<Stem, Gap> {
    let (material, diameter) = (material(outlet, STEM), outlet.number(STEM_DIAMETER)).all()?;
    let thinnest = if outlet.is_assumed(STEM_DIAMETER) { THINNEST_STEM } else { diameter };
    let mut conductivity: Ranged = material.conductivity.into();
    if outlet.is_assumed(STEM) {
        conductivity.low = least_conductivity_of_metals().unwrap_or(conductivity.low);
    }
    Ok(Stem { diameter: Ranged::new(thinnest, diameter, diameter), conductivity })
}

/// The conductivity of stainless steel, the least conductive stem.
fn least_conductivity_of_metals() -> Option<Micro> {
    let metals = METALS.iter().filter_map(|(word, _)| materials::find(word));
    metals.map(|metal| Micro::of(metal.conductivity.low)).min()
}

fn supply(outlet: &Outlet<'_>) -> Result<Supply, Gap> {
    let (pipe, material, run, insulation) = (
        supply_tube(outlet),
        material(outlet, SUPPLY),
        outlet.number(SUPPLY_RUN),
        outlet.number(SUPPLY_INSULATION),
    )
        .all()?;
    let foam = if insulation > 0.0 { materials::find(SLEEVE) } else { None };
    let sleeve = foam.map(|foam| Sleeve {
        thickness: Micro::of(insulation),
        conductivity: Micro::of(foam.conductivity.used),
    });
    Ok(Supply {
        diameter: Micro::of(pipe.outside_diameter),
        thickness: Micro::of(pipe.wall),
        conductivity: material.conductivity.into(),
        run: Micro::of(run),
        emissivity: surface(material),
        sleeve,
    })
}

/// The usual tube of the supply's material and nominal size.
pub(super) fn supply_tube(outlet: &Outlet<'_>) -> Result<Tube, Gap> {
    let (supply, nominal) = (outlet.word(SUPPLY), outlet.number(SUPPLY_SIZE)).all()?;
    let size = Size::ALL.into_iter().find(|size| (size.inches() * INCH - nominal).abs() < 1e-4);
    let kind = materials::find(&supply).and_then(|material| usual_kind(material.key));
    let found = kind.zip(size).map(|(kind, size)| tube(kind, size));
    found.ok_or_else(|| outlet.absent("the table of tubes has no such supply of that nominal size"))
}

fn surface(material: &Material) -> Ranged {
    material.emissivity.unwrap_or(METAL_SURFACE).into()
}
