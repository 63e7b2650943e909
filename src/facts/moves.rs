//! The effect of each uncertain input by itself: on the outdoor temperature an outlet is good to, on depth and on what to
//! order.

use super::assumed::nominal_lengths;
use super::columns::{
    BARREL_DIAMETER, BARREL_THICKNESS, INLET_INSULATION, INLET_LENGTH, INLET_METAL, NOMINAL_LENGTH,
    SEAT_DEPTH, STEM, STEM_DIAMETER,
};
use super::def::{Def, INCH};
use super::detail::AIR_SEALED;
use super::heat::{LEAST_SEAT_DEPTH, boundary, solved, spec_for_depth_search};
use super::outlet::{Origin, Outlet};
use super::section::spec;
use crate::expr::{Gap, Slot, Value};
use crate::section::{Inlet, Ranged, Share, UncertainInput, Uncertainty};
use crate::units::{Dim, Quantity};

/// The effect of one uncertain input by itself, at its low and its high bound.
#[derive(Clone, Debug, PartialEq)]
pub struct Move {
    /// The input.
    pub input: UncertainInput,
    /// The fact that states it, if a schedule can.
    pub fact: Option<Slot>,
    /// How far it moves the outdoor temperature the outlet is good to, K: to lower temperatures (at most 0), to higher (at
    /// least 0).
    pub good_to: [f64; 2],
    /// How far it moves the least seat depth, m: shorter (at most 0), longer (at least 0). `None` if no depth is enough.
    pub depth: Option<[f64; 2]>,
    /// Whether another listed length would be the shortest that is long enough; `None` if no depth is enough.
    pub changes_order: Option<bool>,
}

/// The fact that states an uncertain input.
fn stated_by(input: UncertainInput) -> Option<&'static Def> {
    match input {
        UncertainInput::SeatDepth => Some(SEAT_DEPTH),
        UncertainInput::BarrelThickness => Some(BARREL_THICKNESS),
        UncertainInput::BarrelDiameter => Some(BARREL_DIAMETER),
        UncertainInput::StemMetal => Some(STEM),
        UncertainInput::StemDiameter => Some(STEM_DIAMETER),
        UncertainInput::FittingLength => Some(INLET_LENGTH),
        UncertainInput::FittingMetal => Some(INLET_METAL),
        UncertainInput::AirLeakage => Some(AIR_SEALED),
        // No column states the alloy, the films, the wind or the water.
        UncertainInput::BarrelMetal
        | UncertainInput::SupplyPipe
        | UncertainInput::WaterExchange
        | UncertainInput::Emissivity
        | UncertainInput::Convection
        | UncertainInput::AirPressure
        | UncertainInput::OutdoorFilm => None,
    }
}

/// The effect of each uncertain input, largest first.
pub fn moves(outlet: &Outlet<'_>) -> Result<Vec<Move>, Gap> {
    /// The log-odds of the seat are taken as linear in depth over this much, m.
    const STEP: f64 = 0.5 * INCH;
    let (solved, at) = (solved(outlet)?, boundary(outlet)?);
    let least = outlet.number(LEAST_SEAT_DEPTH).ok();
    let log_odds = |share: Share| share.log_odds(solved.behind);
    // Rise of the log-odds for each meter of depth, at the least depth.
    let slope = least.and_then(|least| {
        let spec = spec_for_depth_search(outlet).ok()?;
        let seat = |depth: f64| outlet.world().section(&spec.with_seat_at(depth), Uncertainty::LeftOut).ok();
        let rise = log_odds(seat(least + STEP)?.seat) - log_odds(seat(least)?.seat);
        (rise > 0.0).then_some(rise / STEP)
    });
    let order = |depth: f64| nominal_lengths().find(|length| *length >= depth);
    let offset = match (outlet.number(NOMINAL_LENGTH), outlet.number(SEAT_DEPTH)) {
        (Ok(nominal), Ok(seat)) => nominal - seat,
        _ => super::assumed::seat_offset(outlet)?.is,
    };
    let moves = solved.moves_of_good_to(at.room).into_iter().map(|(input, good_to)| {
        let ends = solved.varied.iter().find(|it| it.input == input).map(|it| it.seat);
        let depth = slope.zip(ends).map(|(slope, ends)| {
            let [a, b] = ends.map(|share| (log_odds(solved.seat) - log_odds(share)) / slope);
            [a.min(b).min(0.0), a.max(b).max(0.0)]
        });
        let changes_order = depth.zip(least).map(|([shorter, longer], least)| {
            let nominal = least + offset;
            [shorter, longer].into_iter().any(|moved| order(nominal + moved) != order(nominal))
        });
        Move { input, fact: stated_by(input).map(|def| outlet.slot(def)), good_to, depth, changes_order }
    });
    Ok(moves.collect())
}

/// Facts that nobody states and that are uncertain, the one that narrows the seat temperature most first, each with values
/// to try: its bounds and its best estimate, or its words.
pub fn narrowing(outlet: &Outlet<'_>) -> Vec<(Slot, Vec<Value>)> {
    let Ok(mut spec) = spec(outlet, None) else { return Vec::new() };
    let mut facts: Vec<(Slot, Vec<Value>)> = Vec::new();
    // What it is assumed to be is the colder case, and another answer moves it most.
    if outlet.is_assumed(INLET_INSULATION) && spec.inlet == Inlet::InSpace {
        let slot = outlet.slot(INLET_INSULATION);
        facts.push((slot, super::catalogue::plausible(slot).unwrap_or_default()));
    }
    for it in moves(outlet).unwrap_or_default() {
        let Some(slot) = it.fact else { continue };
        let fact = outlet.fact(slot);
        if !matches!(fact.origin, Origin::Assumed(_) | Origin::Unknown) {
            continue;
        }
        let values = match fact.value {
            Ok(Value::Quantity(known)) => {
                let Ranged { low, used, high } = *it.input.of(&mut spec).0;
                // The section counts the seat from the wall's face, the fact from what the flange bears on.
                let moved = known.is - used.si();
                [low, used, high]
                    .map(|end| Value::Quantity(Quantity::of(end.si() + moved, Dim::LENGTH)))
                    .to_vec()
            }
            _ => super::catalogue::plausible(slot).unwrap_or_default(),
        };
        facts.push((slot, values));
    }
    facts
}
