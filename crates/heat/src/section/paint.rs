//! What is where: the material at a point of the section, and the fixed dimensions of head, flange and rim.

use super::spec::{Bore, Inlet, Micro, POCKET_RADIUS, Sleeve, Spec, WASHER_LENGTH};
use crate::physics::air_film::STILL_AIR_CONDUCTIVITY;
use crate::physics::materials::RUBBER;

/// Radius of the model, m; adiabatic there.
pub const RIM: f64 = 0.150;
/// Radius of the head outdoors, m: handle boss, spout and body as one cylinder.
pub const HEAD_RADIUS: f64 = 0.014;
/// Length of the head, m.
pub const HEAD_LENGTH: f64 = 0.050;
/// Radius of the flange, m.
pub const FLANGE_RADIUS: f64 = 0.032;
/// Thickness of the flange, m.
pub const FLANGE_THICKNESS: f64 = 0.003;
/// A cover reaches over the wall this far around the barrel, m.
pub(super) const COVER_RADIUS: f64 = 0.060;
/// Washer and gasket, W/mK.
pub const WASHER: f64 = RUBBER.conductivity.used;
/// Water at 5 °C, W/mK (IAPWS R15-11); still.
const WATER: f64 = 0.568;

/// What a point is made of. The parts whose conductivity carries a spread are told apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    /// Head and flange, of the barrel's metal.
    Head,
    Barrel,
    Stem,
    Fitting,
    Supply,
    Washer,
    Gasket,
    Air,
    Water,
    Sleeve,
    /// Still air where this layer is held back.
    Pocket(usize),
    Layer(usize),
}

/// The section's radii and depths in meters.
#[derive(Clone, Debug)]
pub(super) struct Shape {
    pub stem: f64,
    /// The least and the greatest radius the stem may have, at most that of the bore.
    pub stem_ends: [f64; 2],
    pub barrel_bore: f64,
    pub barrel: f64,
    pub supply_bore: f64,
    pub supply: f64,
    pub fitting: f64,
    pub sleeve: Option<f64>,
    pub gasket: f64,
    pub seat: f64,
    pub fitting_end: f64,
    pub supply_end: Option<f64>,
    /// Outer and inner face of each layer.
    pub layers: Vec<[f64; 2]>,
    pub wall: f64,
    held_back: Option<usize>,
    bore: Bore,
}

impl Shape {
    pub(super) fn of(spec: &Spec) -> Self {
        let mut layers = Vec::new();
        let mut at = 0.0;
        for layer in &spec.wall {
            layers.push([at, at + layer.thickness.si()]);
            at += layer.thickness.si();
        }
        let barrel = spec.barrel.diameter.si() / 2.0;
        let bore = barrel - spec.barrel.thickness.used.si();
        let supply = spec.supply.diameter.si() / 2.0;
        // A gasket lifts the flange and draws the seat outwards with it.
        let seat = (spec.seat_depth.si() - spec.gasket.si()).max(0.0);
        let fitting_end = seat + spec.fitting.length.si();
        let run = (spec.inlet == Inlet::InSpace).then(|| fitting_end.max(at) + spec.supply.run.si());
        Self {
            stem: spec.stem.diameter.used.si() / 2.0,
            stem_ends: [spec.stem.diameter.low, spec.stem.diameter.high]
                .map(|it| f64::min(it.si() / 2.0, bore)),
            barrel_bore: bore,
            barrel,
            supply_bore: supply - spec.supply.thickness.si(),
            supply,
            fitting: barrel.max(supply),
            sleeve: spec.supply.sleeve.map(|Sleeve { thickness, .. }| supply + thickness.si()),
            gasket: spec.gasket.si(),
            seat,
            fitting_end,
            supply_end: run,
            layers,
            wall: at,
            held_back: spec.held_back,
            bore: spec.bore,
        }
    }

    /// Whether the dimensions go together; why not.
    pub(super) fn fits(&self, spec: &Spec) -> Result<(), &'static str> {
        /// A seat deeper than this, or a wall thicker, is a slip of the pen, m.
        const DEEPEST: f64 = 2.0;
        if spec.wall.is_empty() || spec.wall.iter().any(|it| it.thickness <= Micro::default()) {
            return Err("every layer of the wall needs a thickness above zero");
        }
        if self.wall > DEEPEST || !(0.0..=DEEPEST).contains(&self.seat) {
            return Err("the wall or the seat depth is below zero or above 2 m");
        }
        if !(self.stem > 0.0 && self.stem < self.barrel_bore && self.barrel < HEAD_RADIUS.max(FLANGE_RADIUS))
        {
            return Err("stem, barrel and flange do not fit into one another");
        }
        if !(self.supply_bore > 0.0 && self.supply_bore < self.supply && self.supply < FLANGE_RADIUS) {
            return Err("the supply pipe's thickness and diameter do not go together");
        }
        if self.sleeve.is_some_and(|outer| outer > RIM / 2.0) {
            return Err("the insulation around the supply is more than {= 2 in} thick");
        }
        if spec.supply.run.si() < WASHER_LENGTH {
            return Err("the supply run is shorter than {= 1/2 in}");
        }
        if spec.inlet == Inlet::InWall && self.fitting_end + 2.0 * self.supply > self.wall {
            return Err("the inlet reaches through the wall, so that the supply cannot turn down inside it");
        }
        if !(0.0..=1.0).contains(&spec.behind.share.si()) {
            return Err("the factor of the space behind is not between 0 and 1");
        }
        Ok(())
    }

    /// The part at a point, or `None` if there is outdoor or indoor air.
    pub(super) fn part(&self, r: f64, z: f64) -> Option<Part> {
        if z < -self.gasket {
            return self.head(r, z);
        }
        let along_axis = if z < self.seat {
            (r < self.barrel).then(|| self.barrel_at(r, z))
        } else if z < self.fitting_end {
            (r < self.fitting).then_some(if r < self.supply_bore { Part::Water } else { Part::Fitting })
        } else if self.supply_end.is_some_and(|end| z < end) {
            self.supply_at(r, z)
        } else {
            None
        };
        if along_axis.is_some() {
            return along_axis;
        }
        if z < 0.0 {
            return (r < FLANGE_RADIUS).then_some(Part::Gasket);
        }
        let layer = self.layers.iter().position(|[outer, inner]| z >= *outer && z < *inner)?;
        if self.held_back != Some(layer) || r >= POCKET_RADIUS {
            return Some(Part::Layer(layer));
        }
        (layer + 1 < self.layers.len()).then_some(Part::Pocket(layer))
    }

    /// Whether insulation is held back from the outlet.
    pub(super) fn has_pocket(&self) -> bool {
        self.held_back.is_some()
    }

    /// Whether water stands outboard of the seat.
    pub(super) fn is_full(&self) -> bool {
        self.bore == Bore::Full
    }

    /// Whether a point lies in the bore outboard of the washer, where stem and air or water are.
    pub(super) fn in_bore(&self, r: f64, z: f64) -> bool {
        r < self.barrel_bore && z >= -self.gasket && z < self.seat - WASHER_LENGTH
    }

    /// The part at a radius of the bore, with a stem of a radius.
    pub(super) fn bore_at(&self, r: f64, stem: f64) -> Part {
        if r < stem {
            Part::Stem
        } else if self.bore == Bore::Full {
            Part::Water
        } else {
            Part::Air
        }
    }

    fn head(&self, r: f64, z: f64) -> Option<Part> {
        let flange = -self.gasket - FLANGE_THICKNESS;
        let solid =
            if z >= flange { r < FLANGE_RADIUS } else { z >= flange - HEAD_LENGTH && r < HEAD_RADIUS };
        if !solid {
            return None;
        }
        // A valve that closes at the face has its washer in the head.
        let washer = r < self.barrel_bore && z >= self.seat - WASHER_LENGTH && z < self.seat;
        Some(if washer { Part::Washer } else { Part::Head })
    }

    fn barrel_at(&self, r: f64, z: f64) -> Part {
        if r >= self.barrel_bore {
            Part::Barrel
        } else if z >= self.seat - WASHER_LENGTH {
            Part::Washer
        } else {
            self.bore_at(r, self.stem)
        }
    }

    fn supply_at(&self, r: f64, z: f64) -> Option<Part> {
        if r < self.supply_bore {
            Some(Part::Water)
        } else if r < self.supply {
            Some(Part::Supply)
        } else if z >= self.wall && self.sleeve.is_some_and(|outer| r < outer) {
            Some(Part::Sleeve)
        } else {
            None
        }
    }
}

/// The conductivity of a part, W/mK, at the values used.
pub(super) fn conductivity(part: Part, spec: &Spec) -> f64 {
    match part {
        Part::Head | Part::Barrel => spec.barrel.conductivity.si(),
        Part::Fitting => spec.fitting.conductivity.si(),
        Part::Stem => spec.stem.conductivity.si(),
        Part::Supply => spec.supply.conductivity.si(),
        Part::Washer | Part::Gasket => WASHER,
        // Its radiation and its exchange with outdoors through the open end are left out.
        Part::Air => STILL_AIR_CONDUCTIVITY,
        Part::Water => water(spec),
        Part::Sleeve => spec.supply.sleeve.map_or(WASHER, |it| it.conductivity.si()),
        Part::Pocket(number) => spec.wall.get(number).map_or(0.0, |it| it.as_air()),
        Part::Layer(number) => spec.wall.get(number).map_or(0.0, |it| it.conductivity.si()),
    }
}

/// Conductivity of the water, its exchange along the pipe included, W/mK.
pub(super) fn water(spec: &Spec) -> f64 {
    WATER * spec.supply.exchange.si()
}
