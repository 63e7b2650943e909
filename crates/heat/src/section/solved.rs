//! What a solved section tells at any outdoor temperature: everything is a weighted mean of outdoors and room.

use crate::physics::water::ICE_POINT;

/// Below this there is no outdoors to hold to, K (-154 °F; the lowest air temperature on record is -128.6 °F).
const COLDER_THAN_EVER: f64 = 170.0;

/// Temperatures around the section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boundary {
    /// Outdoors, K.
    pub outdoors: f64,
    /// The heated room, K; the space behind follows from it.
    pub room: f64,
}

/// The weight of the room in a temperature; outdoors has the rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share(pub f64);

impl Share {
    /// The temperature, K.
    pub fn temperature(self, at: &Boundary) -> f64 {
        at.outdoors + self.0 * (at.room - at.outdoors)
    }

    /// The outdoor temperature at which this temperature is at the ice point, K. `None` where the room is no warmer
    /// than ice or where no outdoor temperature is cold enough.
    pub fn holds_to(self, room: f64) -> Option<f64> {
        let outdoors = (ICE_POINT - self.0 * room) / (1.0 - self.0);
        (room > ICE_POINT && outdoors.is_finite() && outdoors > COLDER_THAN_EVER).then_some(outdoors)
    }
}

/// What is uncertain about a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Factor {
    /// Conductivity of the barrel's metal.
    BarrelMetal,
    /// Thickness of the barrel's tube.
    BarrelThickness,
    /// Metal and diameter of the stem.
    Stem,
    /// Conductivity of the supply pipe.
    SupplyPipe,
    /// Emissivity of bare metal and pipe indoors.
    IndoorFilm,
    /// Exterior film.
    OutdoorFilm,
}

impl Factor {
    /// All of them, in the order they are reported.
    pub const ALL: [Self; 6] = [
        Self::BarrelMetal,
        Self::BarrelThickness,
        Self::Stem,
        Self::SupplyPipe,
        Self::IndoorFilm,
        Self::OutdoorFilm,
    ];

    /// In words.
    pub fn name(self) -> &'static str {
        match self {
            Self::BarrelMetal => "barrel metal",
            Self::BarrelThickness => "barrel thickness",
            Self::Stem => "stem",
            Self::SupplyPipe => "supply pipe",
            Self::IndoorFilm => "indoor film (emissivity)",
            Self::OutdoorFilm => "exterior film (wind)",
        }
    }
}

/// A point along the outlet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// Depth from the exterior finished face, m; negative outdoors.
    pub depth: f64,
    /// The metal's (or pipe's) temperature there.
    pub share: Share,
}

/// A surface of metal, pipe or sleeve that stands in the air of the space behind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BareSurface {
    /// Its ends along the axis from the exterior finished face, m; alike where it faces along the axis.
    pub along: [f64; 2],
    /// m²
    pub area: f64,
    /// Its temperature, between material and film.
    pub share: Share,
    /// Its film without radiation, W/m²K, as held.
    pub convection: f64,
}

/// What one uncertain factor does by itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Varied {
    /// The factor.
    pub factor: Factor,
    /// At the seat, at the factor's low and high end.
    pub seat: [Share; 2],
    /// In the coldest water, likewise.
    pub coldest: [Share; 2],
}

/// A solved section.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// At the seat, all at the values used.
    pub seat: Share,
    /// In the coldest water, at the values used.
    pub coldest_water: Share,
    /// The same with each uncertain factor at its low and its high end.
    pub varied: Vec<Varied>,
    /// Along barrel, fitting and supply.
    pub stations: Vec<Station>,
    /// Least and greatest film on bare metal and pipe in the space behind, W/m²K, as held; `None` without any.
    pub indoor_films: Option<[f64; 2]>,
    /// Every bare surface in the space behind.
    pub bare: Vec<BareSurface>,
    /// Heat through the section for each kelvin between the space behind and outdoors, beyond that of the wall without
    /// the outlet, W/K.
    pub point_transmittance: f64,
    /// Energy the worst of the solves lost, as a part of the flow.
    pub imbalance: f64,
    /// Cells of the mesh.
    pub cells: usize,
    /// How many times the equations were solved.
    pub solves: usize,
}

impl Solved {
    /// Temperature at the seat, K: low, used, high.
    pub fn seat_temperature(&self, at: &Boundary) -> [f64; 3] {
        self.spread(self.seat.temperature(at), |it| it.seat, |share| Some(share.temperature(at)))
    }

    /// Temperature of the coldest water, K: low, used, high. In time no water gets colder than this at the coldest
    /// outdoors and room there are, as the network only ever takes means.
    pub fn coldest_temperature(&self, at: &Boundary) -> [f64; 3] {
        self.spread(self.coldest_water.temperature(at), |it| it.coldest, |share| Some(share.temperature(at)))
    }

    /// The steady outdoor temperature at which the seat reaches the ice point, K: low, used, high. `None` as for
    /// [`Share::holds_to`].
    pub fn holds_to(&self, room: f64) -> Option<[f64; 3]> {
        Some(self.spread(self.seat.holds_to(room)?, |it| it.seat, |share| share.holds_to(room)))
    }

    /// How far each factor alone moves the seat, K: downwards (at most 0) and upwards (at least 0).
    pub fn moved_by(&self, at: &Boundary) -> Vec<(Factor, [f64; 2])> {
        let used = self.seat.temperature(at);
        let ends = |ends: &[Share; 2]| {
            let moved = ends.map(|share| share.temperature(at) - used);
            [moved[0].min(moved[1]).min(0.0), moved[0].max(moved[1]).max(0.0)]
        };
        self.varied.iter().map(|it| (it.factor, ends(&it.seat))).collect()
    }

    /// Independent spreads add by the root of the sum of their squares (JCGM 100), each side by itself. A factor may
    /// move the seat either way: which of its ends is the cold one is found, not presumed.
    fn spread(
        &self,
        used: f64,
        ends: impl Fn(&Varied) -> [Share; 2],
        value: impl Fn(Share) -> Option<f64>,
    ) -> [f64; 3] {
        let (mut down, mut up) = (0.0, 0.0);
        for varied in &self.varied {
            let moved = ends(varied).map(|share| value(share).map_or(0.0, |it| it - used));
            let (low, high) = (moved[0].min(moved[1]).min(0.0), moved[0].max(moved[1]).max(0.0));
            down += low * low;
            up += high * high;
        }
        [used - f64::sqrt(down), used, used + f64::sqrt(up)]
    }
}
