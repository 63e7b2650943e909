//! What a section is made of. Whole millionths, so that two outlets alike in every figure are one section.

use crate::physics::Spread;

/// Length of the washer zone outboard of the seat, m. The zone stands for washer and retainer; without it a bare
/// metal stem tip touching the water would make the answer depend on the mesh.
pub const WASHER_LENGTH: f64 = 0.012;
/// Length of the solid inlet fitting that joins barrel and supply, m (0.7 in).
pub const FITTING_LENGTH: f64 = 0.01778;

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

/// A quantity used at one value that may be anywhere between two.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Ranged {
    /// The least it may be.
    pub low: Micro,
    /// The value used.
    pub used: Micro,
    /// The most it may be.
    pub high: Micro,
}

impl Ranged {
    /// A value known exactly.
    pub fn exact(si: f64) -> Self {
        Self::new(si, si, si)
    }

    /// A value used between two ends; the ends are widened to take it in.
    pub fn new(low: f64, used: f64, high: f64) -> Self {
        Self { low: Micro::of(low.min(used)), used: Micro::of(used), high: Micro::of(high.max(used)) }
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

/// The barrel: a metal tube from the flange to the seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Barrel {
    /// Outside diameter, m.
    pub diameter: Micro,
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

/// The supply pipe, full of still water, running straight in from the inlet fitting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Supply {
    /// Outside diameter, m.
    pub diameter: Micro,
    /// Thickness of the pipe, m.
    pub thickness: Micro,
    /// W/mK
    pub conductivity: Ranged,
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
    /// Pressure of its air, Pa: thin air convects less. 60 to 110 kPa.
    pub pressure: Micro,
}

/// One outlet in one wall.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Spec {
    /// Layers from outside to inside.
    pub wall: Vec<Layer>,
    /// Bearing of the flange to seat, m: from the exterior finished face, less the gasket. 0 for an outlet that closes at
    /// the face.
    pub seat_depth: Micro,
    /// The barrel.
    pub barrel: Barrel,
    /// The stem.
    pub stem: Stem,
    /// What is in the barrel.
    pub bore: Bore,
    /// The supply.
    pub supply: Supply,
    /// Where the inlet ends.
    pub inlet: Inlet,
    /// The space behind.
    pub behind: Behind,
    /// Exterior film on wall, flange and head, W/m²K.
    pub outdoor_film: Ranged,
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

    /// The same outlet with its seat at another depth, m.
    #[must_use]
    pub fn with_seat_at(&self, depth: f64) -> Self {
        Self { seat_depth: Micro::of(depth), ..self.clone() }
    }
}
