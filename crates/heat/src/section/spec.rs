//! What a section is made of. Whole millionths, so that two outlets alike in every figure are one section.

use crate::physics::Spread;
use crate::physics::materials::air_layer_resistance;

/// Length of the washer zone outboard of the seat, m. The zone stands for washer and retainer; without it a bare
/// metal stem tip touching the water would make the answer depend on the mesh.
pub const WASHER_LENGTH: f64 = 0.012;
/// How far insulation that is held back stays away from the axis, m (3 in; common practice, no source).
pub const POCKET_RADIUS: f64 = 0.076;

/// A quantity in millionths of its SI unit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Micro(i64);

impl Micro {
    /// Rounds to the nearest millionth. Not-a-number becomes 0, which every solve refuses where it matters.
    pub fn of(si: f64) -> Self {
        #[allow(clippy::cast_possible_truncation, reason = "a float-to-integer cast saturates")]
        Self((si * 1e6).round() as i64)
    }

    /// Back in SI.
    pub fn si(self) -> f64 {
        #[allow(
            clippy::cast_precision_loss,
            reason = "lengths and conductivities are far below 2^53 millionths"
        )]
        (self.0 as f64 / 1e6)
    }
}

/// A quantity with its best estimate and its bounds. Its distribution is triangular, with the mode at the best estimate
/// (JCGM 101, 6.4.5).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Ranged {
    /// The least it may be.
    pub low: Micro,
    /// The best estimate, which is used.
    pub used: Micro,
    /// The most it may be.
    pub high: Micro,
}

impl Ranged {
    /// A value known exactly.
    pub fn exact(si: f64) -> Self {
        Self::new(si, si, si)
    }

    /// A best estimate between two bounds; the bounds are widened to take it in.
    pub fn new(low: f64, used: f64, high: f64) -> Self {
        Self { low: Micro::of(low.min(used)), used: Micro::of(used), high: Micro::of(high.max(used)) }
    }

    /// The best estimate, SI.
    pub fn si(self) -> f64 {
        self.used.si()
    }

    /// The reciprocal: a resistance from a film.
    #[must_use]
    pub fn reciprocal(self) -> Self {
        Self::new(1.0 / self.high.si(), 1.0 / self.used.si(), 1.0 / self.low.si())
    }

    /// One of its values, known exactly.
    #[must_use]
    pub fn at(self, value: Micro) -> Self {
        Self { low: value, used: value, high: value }
    }

    /// The part of the range below the best estimate, which is also the chance of a value below it; nothing if the
    /// value is known exactly.
    pub fn below(self) -> Option<f64> {
        let width = self.high.si() - self.low.si();
        (width > 0.0).then(|| (self.used.si() - self.low.si()) / width)
    }
}

impl From<Spread> for Ranged {
    fn from(it: Spread) -> Self {
        Self::new(it.low, it.used, it.high)
    }
}

/// A layer of the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Layer {
    /// m
    pub thickness: Micro,
    /// W/mK; of an air layer, thickness over resistance
    pub conductivity: Micro,
}

impl Layer {
    /// The conductivity of an unventilated air layer in its place, W/mK: ISO 6946, as [`air_layer_resistance`]; of one
    /// thicker than the standard's table, the thickest there.
    pub fn as_air(self) -> f64 {
        let thickness = self.thickness.si();
        air_layer_resistance(thickness)
            .or_else(|it| air_layer_resistance(it.greatest))
            .map_or(0.0, |it| thickness / it)
    }
}

/// The barrel: a metal tube from the flange to the seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Barrel {
    /// Outside diameter, m.
    pub diameter: Ranged,
    /// Thickness of the tube, m.
    pub thickness: Ranged,
    /// W/mK
    pub conductivity: Ranged,
    /// Emissivity of its surface, and of the inlet fitting's, in the space behind.
    pub emissivity: Ranged,
}

/// The stem: a solid rod from the head to the washer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Stem {
    /// m
    pub diameter: Ranged,
    /// W/mK
    pub conductivity: Ranged,
}

/// The solid inlet fitting that joins barrel and supply, adapters included: a metal tube with the supply's bore.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Fitting {
    /// m
    pub length: Ranged,
    /// W/mK
    pub conductivity: Ranged,
}

impl Fitting {
    /// The same, no longer than the room there is, m; but at least as long as it may be.
    #[must_use]
    pub fn at_most(self, room: f64) -> Self {
        let Ranged { low, used, high } = self.length;
        let [used, high] = [used, high].map(|it| it.si().min(room).max(low.si()));
        Self { length: Ranged::new(low.si(), used, high), ..self }
    }
}

/// What is in the barrel outboard of the seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Bore {
    /// Air: it has drained.
    Drained,
    /// Water: a hose left on, or a barrel that does not drain.
    Full,
}

/// Insulation around the supply.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Sleeve {
    /// m
    pub thickness: Micro,
    /// W/mK
    pub conductivity: Micro,
}

/// The supply pipe, full of water, running straight in from the inlet fitting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Supply {
    /// Outside diameter, m.
    pub diameter: Micro,
    /// Thickness of the pipe, m.
    pub thickness: Micro,
    /// W/mK
    pub conductivity: Ranged,
    /// How many times as much heat its water carries along the pipe as still water would, 1 or more: cold water at the
    /// inlet sinks and changes places with warmer water from the supply.
    pub exchange: Ranged,
    /// Length that exchanges heat, m.
    pub run: Micro,
    /// Emissivity of its bare surface.
    pub emissivity: Ranged,
    /// Insulation around it in the space behind.
    pub sleeve: Option<Sleeve>,
}

/// Where the inlet ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Inlet {
    /// The supply runs straight on through what is left of the wall into the space behind.
    InSpace,
    /// The supply turns at the fitting and runs within the wall, at that depth.
    InWall,
}

/// The space behind, for holding the films at the critical state.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Behind {
    /// Temperature of the heated room it belongs to, K.
    pub room: Micro,
    /// How far it follows the room rather than outdoors, 0 to 1: T = T_out + share·(T_room − T_out). A heated space
    /// is 1.
    pub share: Micro,
    /// Share of outdoor air in the air around the inlet, 0 to 1: cold air that leaks in there.
    pub leak: Ranged,
    /// Pressure of its air, Pa: thin air convects less. 60 to 110 kPa.
    pub pressure: Ranged,
    /// What the correlation of natural convection is multiplied by.
    pub convection: Ranged,
}

impl Behind {
    /// The weight of the heated room in the air around the inlet; outdoors has the rest.
    pub fn weight(&self) -> f64 {
        self.share.si() * (1.0 - self.leak.si())
    }
}

/// One outlet in one wall.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Spec {
    /// Layers from outside to inside.
    pub wall: Vec<Layer>,
    /// Bearing of the flange to seat, m: from the exterior finished face, less the gasket. 0 for an outlet that closes at
    /// the face.
    pub seat_depth: Ranged,
    /// The barrel.
    pub barrel: Barrel,
    /// The stem.
    pub stem: Stem,
    /// The inlet fitting.
    pub fitting: Fitting,
    /// What is in the barrel.
    pub bore: Bore,
    /// The supply.
    pub supply: Supply,
    /// Where the inlet ends.
    pub inlet: Inlet,
    /// The space behind.
    pub behind: Behind,
    /// The layer that is held back from the outlet by [`POCKET_RADIUS`]: insulation that is not packed around it. The
    /// innermost layer then leaves the outlet in the air of the space behind, another one a pocket of still air.
    pub held_back: Option<usize>,
    /// Resistance of the exterior film on wall, flange and head, m²K/W, in which the section is linear.
    pub outdoor_resistance: Ranged,
    /// Rubber under the flange, m; 0 for none.
    pub gasket: Micro,
    /// Resistance of a cover over the head, m²K/W; 0 for none.
    pub cover: Micro,
}

impl Spec {
    /// Thickness of the wall, m.
    pub fn wall_thickness(&self) -> f64 {
        self.wall.iter().map(|layer| layer.thickness.si()).sum()
    }

    /// The same outlet with its seat at another depth, m, as uncertain as it was.
    #[must_use]
    pub fn with_seat_at(&self, depth: f64) -> Self {
        let Ranged { low, used, high } = self.seat_depth;
        let moved = |end: Micro| f64::max(depth + end.si() - used.si(), 0.0);
        Self { seat_depth: Ranged::new(moved(low), depth, moved(high)), ..self.clone() }
    }
}
