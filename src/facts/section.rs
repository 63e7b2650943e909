//! From the facts of an outlet to the section that is solved.

use super::columns::{
    BARREL, BARREL_DIAMETER, BARREL_THICKNESS, CLOSES_AT, COVER, GASKET, INLET_INSULATION, INLET_LENGTH,
    INLET_METAL, KIND, SELF_DRAINING, SPACE_BEHIND, STEM, STEM_DIAMETER, SUPPLY, SUPPLY_INSULATION,
    SUPPLY_RUN, SUPPLY_SIZE,
};
use super::def::{Def, INCH};
use super::detail::AIR_SEALED;
use super::detail::SEAT_FROM_WALL_FACE;
use super::outlet::{All, Origin, Outlet};
use super::site::AIR_PRESSURE;
use super::space::{ROOM_TEMPERATURE, SHARE, wall};
use super::words::METALS;
use crate::expr::{Gap, Value};
use crate::physics::Spread;
use crate::physics::air_film::{ASHRAE_WIND_SUMMER, ATMOSPHERE};
use crate::physics::materials::{self, Class, Material};
use crate::physics::tubes::{Size, Tube, tube, usual_kind};
use crate::section::{
    Barrel, Behind, Bore, Fitting, Inlet, Layer, Micro, Ranged, Sleeve, Spec, Stem, Supply,
};
use crate::units::Quantity;

/// Exterior film, W/m²K, on wall and metal alike: best estimate 22.7, the handbook's film at 7.5 mph (ASHRAE Fundamentals,
/// ch. 26; not checked against the edition). Record lows come on calm nights, when convection and radiation leave about 10;
/// small metal parts in a wind of 15 mph reach 60, the handbook's wall 34. Radiation to a clear sky is not included.
pub const OUTDOOR_FILM: Spread = Spread::new(10.0, ASHRAE_WIND_SUMMER.coefficient, 60.0);
/// Scatter of the correlation of natural convection about Churchill and Chu: Morgan, and Kuehn and Goldstein, lie up to
/// 10 % above it; 15 % is the usual error of such correlations (Incropera, ch. 9; from memory).
const CONVECTION: Spread = Spread::new(0.85, 1.0, 1.15);
/// What the water of a plastic supply carries along the pipe, by still water's. Cold water at the inlet sinks below the
/// warmer water of the supply and changes places with it: Nu of about 3 for a shallow horizontal layer of water at 0 to 4 °C
/// with its ends at two temperatures (Bejan and Tien 1978; from memory). Best estimate none, as water turns round at 4 °C.
/// In a metal supply the pipe carries over a hundred times as much.
const EXCHANGE: Spread = Spread::new(1.0, 1.0, 3.0);
/// Outdoor air in the air around the inlet, as a share, if nobody says whether the hole is air-sealed: best estimate none,
/// up to 7 %, 5 °F of a lead of 68 °F. A hole of 0.7 cm² leaks 0.23 W/K at 4 Pa (area times √(2 Δp/ρ), ASHRAE Fundamentals,
/// ch. 16; from memory); a joist bay exchanges about 3 W/K with its basement (8 W/m²K on 0.4 m²): 0.23/3.2 is 7 %.
const LEAKAGE: Spread = Spread::new(0.0, 0.0, 0.07);
/// The same of a hole that is stated not to be sealed: that leak, up to twice as much.
const UNSEALED: Spread = Spread::new(0.0, 0.07, 0.14);
/// What rounding to millionths may add to a length, m.
const ROUNDING: f64 = 1e-5;
/// Metal surfaces without a row of their own: bright to tarnished.
const METAL_SURFACE: Spread = Spread::new(0.05, 0.4, 0.6);
/// Thickness of a gasket under the flange, m (1/8 in; no published source).
const GASKET_THICKNESS: f64 = 0.125 * INCH;
/// Foam sleeve on the supply, W/mK (`pipe-insulation-polyethylene`).
pub(super) const SLEEVE: &str = "pipe-insulation-polyethylene";
/// A foam cover over the head, m²K/W: about 3/4 in of polystyrene (no published source).
const COVER_RESISTANCE: f64 = 0.5;
/// The section of an outlet, with its seat as stated or at a depth from the wall's own face. The gap names everything that
/// is missing.
pub(super) fn spec(outlet: &Outlet<'_>, depth: Option<Quantity>) -> Result<Spec, Gap> {
    let closes = outlet.word(CLOSES_AT);
    if closes.as_deref() == Ok("below grade") {
        return Err(outlet.absent("it closes below grade, where this section does not reach"));
    }
    const NOT_COMPUTED: [&str; 4] = ["roof hydrant", "ground hydrant", "hose reel", "irrigation connection"];
    if let Ok(kind) = outlet.word(KIND)
        && NOT_COMPUTED.contains(&&*kind)
    {
        return Err(outlet.absent(format!("a {kind} is not computed: it is no faucet through a wall")));
    }
    let seat = depth.map_or_else(|| outlet.quantity(SEAT_FROM_WALL_FACE), Ok);
    let [drains, gasket, sealed] =
        [SELF_DRAINING, GASKET, AIR_SEALED].map(|def| yes_no_if_stated(outlet, def));
    let closes_at_face = closes.as_deref() == Ok("face");
    // A cover over the open end of a drained barrel is not counted.
    let cover = if closes_at_face { yes_no_if_stated(outlet, COVER) } else { Ok(None) };
    let body = (barrel(outlet), stem(outlet), wall(outlet), supply(outlet), fitting(outlet)).all();
    let behind = (outlet.number(ROOM_TEMPERATURE), outlet.number(SHARE), outlet.quantity(AIR_PRESSURE)).all();
    let mounted = (drains, gasket, cover, sealed).all();
    let around = (outlet.word(SPACE_BEHIND), outlet.word(INLET_INSULATION)).all();
    let (
        (_, seat),
        (drains, gasket, cover, sealed),
        (barrel, stem, wall, supply, fitting),
        (space, packing),
        (room, share, pressure),
    ) = ((closes, seat).all(), mounted, body, around, behind).all()?;
    let is_in_wall = &*space == "wall cavity";
    let left = wall.thickness() - seat.is - supply.diameter.si();
    let fitting = if is_in_wall && outlet.is_assumed(INLET_LENGTH) {
        fitting.at_most(left - ROUNDING)
    } else {
        fitting
    };
    if is_in_wall && fitting.length.si() > left {
        let why = "the inlet reaches through the wall, out of the wall cavity; state the space at the inlet";
        return Err(outlet.absent(why));
    }
    let layers = wall.layers.iter().map(|layer| Layer {
        thickness: Micro::of(layer.thickness),
        conductivity: Micro::of(layer.conductivity),
    });
    let mut layers: Vec<Layer> = layers.collect();
    // Insulation that a supply within the wall runs through is not held back from it.
    let insulation = wall.layers.iter().rposition(|layer| layer.insulation).filter(|_| !is_in_wall);
    let held_back = insulation.filter(|_| &*packing == "held back");
    if let Some(number) = insulation.filter(|_| &*packing == "none") {
        if number + 1 == layers.len() {
            layers.pop();
        } else {
            layers[number].conductivity = Micro::of(layers[number].as_air());
        }
    }
    // Water stands in a valve that closes at the face. One that closes inside is drained unless it is stated not to be.
    let is_full = closes_at_face || drains == Some(false);
    Ok(Spec {
        wall: layers,
        // A gasket that nobody speaks of may draw the seat out.
        seat_depth: Ranged::new(
            f64::max(
                seat.low - if gasket.is_none() && !closes_at_face { GASKET_THICKNESS } else { 0.0 },
                0.0,
            ),
            seat.is,
            seat.high,
        ),
        barrel,
        stem,
        fitting,
        bore: if is_full { Bore::Full } else { Bore::Drained },
        supply,
        inlet: if is_in_wall { Inlet::InWall } else { Inlet::InSpace },
        behind: Behind {
            room: Micro::of(room),
            share: Micro::of(share),
            leak: leak(sealed),
            // Within a wall nothing meets the air of a space: one section serves every elevation.
            pressure: if is_in_wall { Ranged::exact(ATMOSPHERE) } else { ranged(pressure) },
            convection: CONVECTION.into(),
        },
        held_back,
        outdoor_resistance: Ranged::from(OUTDOOR_FILM).reciprocal(),
        gasket: Micro::of(if gasket == Some(true) { GASKET_THICKNESS } else { 0.0 }),
        cover: Micro::of(if cover == Some(true) { COVER_RESISTANCE } else { 0.0 }),
    })
}

fn leak(sealed: Option<bool>) -> Ranged {
    match sealed {
        Some(true) => Ranged::exact(0.0),
        Some(false) => UNSEALED.into(),
        None => LEAKAGE.into(),
    }
}

fn ranged(quantity: Quantity) -> Ranged {
    Ranged::new(quantity.low, quantity.is, quantity.high)
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
        (material(outlet, BARREL), outlet.quantity(BARREL_DIAMETER), outlet.quantity(BARREL_THICKNESS))
            .all()?;
    Ok(Barrel {
        diameter: ranged(diameter),
        thickness: ranged(thickness),
        conductivity: material.conductivity.into(),
        emissivity: surface(material),
    })
}

fn stem(outlet: &Outlet<'_>) -> Result<Stem, Gap> {
    let (conductivity, diameter) = (metal(outlet, STEM), outlet.quantity(STEM_DIAMETER)).all()?;
    Ok(Stem { diameter: ranged(diameter), conductivity })
}

fn fitting(outlet: &Outlet<'_>) -> Result<Fitting, Gap> {
    let (conductivity, length) = (metal(outlet, INLET_METAL), outlet.quantity(INLET_LENGTH)).all()?;
    Ok(Fitting { length: ranged(length), conductivity })
}

/// The conductivity of the metal of a part. One that is assumed may be of any metal between stainless and the barrel's.
fn metal(outlet: &Outlet<'_>, def: &Def) -> Result<Ranged, Gap> {
    let (own, barrel) = (material(outlet, def), material(outlet, BARREL)).all()?;
    let own: Ranged = own.conductivity.into();
    if !outlet.is_assumed(def) {
        return Ok(own);
    }
    let barrel: Ranged = barrel.conductivity.into();
    let least = least_conductivity_of_metals().unwrap_or(own.low);
    // Stems of stainless go with any barrel; an inlet of less than brass only with a stainless one.
    let low = if def.name == STEM.name { least } else { own.low.min(barrel.low) };
    Ok(Ranged { low, used: own.used, high: own.high })
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
        exchange: if material.class == Class::Metal { Ranged::exact(1.0) } else { EXCHANGE.into() },
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

#[cfg(test)]
mod tests {
    use super::*;

    /// A hole of 0.7 cm² at 4 Pa, by its area and Bernoulli's velocity √(2 Δp/ρ) (ASHRAE Fundamentals, effective leakage area;
    /// from memory), air of 1.29 kg/m³ and 1006 J/(kg·K): 0.227 W/K, 10.9 W from a room at 68 °F to outdoors at -18 °F.
    /// A joist bay exchanges 8 W/m²K (still air, ISO 6946) with 0.4 m² of itself, 3.2 W/K.
    #[test]
    fn the_leak_assumed_is_that_of_a_small_hole_by_hand() {
        let leak = 0.7e-4 * f64::sqrt(2.0 * 4.0 / 1.29) * 1.29 * 1006.0;
        assert!((leak * 86.0 / 1.8 - 11.0).abs() < 0.5, "{leak}");
        // To whole hundredths.
        assert!((leak / (leak + 8.0 * 0.4) - LEAKAGE.high).abs() < 0.005, "{leak}");
    }

    /// Bejan and Tien 1978, a shallow layer of length L and height H with its ends at two temperatures (from memory):
    /// Nu = 1 + {[(Ra H/L)² /362880]ⁿ + [0.623 Ra^(1/5) L/H]ⁿ}^(1/n), n = -0.386. Water of 0 and 4 °C, 999.84 and 999.975
    /// kg/m³, ν 1.7e-6 and α 1.35e-7 m²/s, in the 12.3 mm bore of 1/2 in PEX, over 5 to 9 bores of length.
    #[test]
    fn the_exchange_of_water_is_that_of_a_shallow_layer_by_hand() {
        let height: f64 = 0.0123;
        let rayleigh = 9.81 * (999.975 - 999.84) / 999.9 * height.powi(3) / (1.7e-6 * 1.35e-7);
        let nusselt = |slender: f64| {
            let n = -0.386;
            let viscous = (rayleigh / slender).powi(2) / 362_880.0;
            let layers = 0.623 * libm::pow(rayleigh, 0.2) * slender;
            1.0 + libm::pow(libm::pow(viscous, n) + libm::pow(layers, n), 1.0 / n)
        };
        let [short, long] = [5.0, 9.0].map(nusselt);
        assert!(long < EXCHANGE.high && EXCHANGE.high < short, "Nu {long} to {short}");
    }
}
