//! What a solved section tells at any outdoor temperature: everything is a weighted mean of outdoors and room.

use super::interval::interval;
use super::vary::{Factor, Varied};
use crate::physics::water::ICE_POINT;

/// Below this there is no outdoors to hold to, K (-154 °F; the lowest air temperature on record is -128.6 °F).
const COLDER_THAN_EVER: f64 = 170.0;

/// How far either side of an interval on a coarse mesh may be off: a part of it, and in the logarithm of the ratio of the
/// two weights. Over 4,900 random sections none was off by more than 0.7 of the two together.
const ROUGH: (f64, f64) = (0.15, 0.02);

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

    /// The logarithm of the ratio of the two weights, of a share that is at most `most`: what independent factors do adds up
    /// in it, and no sum leaves the boundary temperatures.
    pub fn log_odds(self, most: Self) -> f64 {
        libm::log(self.0 / (most.0 - self.0))
    }

    /// The share whose logarithm is greater by so much.
    #[must_use]
    pub fn moved_by(self, odds: f64, most: Self) -> Self {
        Self(most.0 / (1.0 + libm::exp(-(self.log_odds(most) + odds))))
    }

    /// The outdoor temperature at which this temperature is at the ice point, K. `None` where the room is no warmer
    /// than ice or where no outdoor temperature is cold enough.
    pub fn holds_to(self, room: f64) -> Option<f64> {
        let outdoors = (ICE_POINT - self.0 * room) / (1.0 - self.0);
        (room > ICE_POINT && outdoors.is_finite() && outdoors > COLDER_THAN_EVER).then_some(outdoors)
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

/// A solved section.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// At the seat, all at their best estimates.
    pub seat: Share,
    /// In the coldest water, at the best estimates.
    pub coldest_water: Share,
    /// The share of the heated room in the space behind; no bound leaves it.
    pub behind: Share,
    /// The same with each uncertain factor at its low and its high bound.
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
    /// Temperature at the seat, K: cold end of the 95 % interval, best estimate, warm end.
    pub fn seat_temperature(&self, at: &Boundary) -> [f64; 3] {
        sorted(self.seat_shares().map(|share| share.temperature(at)))
    }

    /// The narrowest and the widest that [`Self::seat_temperature`] of the same section can be with its uncertainty carried, by
    /// its uncertainty on a coarse mesh. `None` where that has no interval.
    pub fn seat_temperature_within(&self, rough: &Self, at: &Boundary) -> Option<[[f64; 3]; 2]> {
        let [low, is, high] = rough.seat_shares().map(|share| share.log_odds(rough.behind));
        let [below, above] = [is - low, high - is];
        let end = |toward: f64, width: f64, off: f64| {
            let width = width + off * (ROUGH.0 * width + ROUGH.1);
            self.seat.moved_by(toward * width.max(0.0), self.behind).temperature(at)
        };
        let interval = |off| sorted([end(-1.0, below, off), self.seat.temperature(at), end(1.0, above, off)]);
        (below + above).is_finite().then(|| [-1.0, 1.0].map(interval))
    }

    /// Temperature of the coldest water, K, likewise. In time no water gets colder than this at the coldest
    /// outdoors and room there are, as the network only ever takes means.
    pub fn coldest_temperature(&self, at: &Boundary) -> [f64; 3] {
        sorted(self.coldest_shares().map(|share| share.temperature(at)))
    }

    /// The steady outdoor temperature at which the seat reaches the ice point, K: from the warm end of the seat's 95 %
    /// interval (the lowest), best estimate, from its cold end. `None` as for [`Share::holds_to`] at the best estimate;
    /// an end that no outdoor temperature reaches is the lowest looked at.
    pub fn holds_to(&self, room: f64) -> Option<[f64; 3]> {
        let [cold, is, warm] = self.seat_shares();
        let is = is.holds_to(room)?;
        let end = |share: Share| share.holds_to(room).unwrap_or(COLDER_THAN_EVER);
        Some([end(warm).min(is), is, end(cold).max(is)])
    }

    /// Shares of the room at the seat: cold end of the 95 % interval, best estimate, warm end.
    pub fn seat_shares(&self) -> [Share; 3] {
        interval(self.seat, self.behind, self.varied.iter().map(|it| (it.below, it.seat)))
    }

    /// Shares of the room in the coldest water, likewise.
    pub fn coldest_shares(&self) -> [Share; 3] {
        interval(self.coldest_water, self.behind, self.varied.iter().map(|it| (it.below, it.coldest)))
    }

    /// How far each factor at its bounds moves the outdoor temperature the outlet is good to, K: to the lower
    /// temperatures (at most 0) and to the higher (at least 0). The largest first.
    pub fn moves_good_to(&self, room: f64) -> Vec<(Factor, [f64; 2])> {
        let good_to = |share: Share| share.holds_to(room).unwrap_or(COLDER_THAN_EVER);
        let is = good_to(self.seat);
        let mut moves: Vec<(Factor, [f64; 2])> = Vec::new();
        for varied in &self.varied {
            let [a, b] = varied.seat.map(|share| good_to(share) - is);
            moves.push((varied.factor, [a.min(b).min(0.0), a.max(b).max(0.0)]));
        }
        moves.sort_by(|(_, [a, b]), (_, [c, d])| (d - c).total_cmp(&(b - a)));
        moves
    }
}

/// In a room colder than outdoors the ends change places.
fn sorted([cold, is, warm]: [f64; 3]) -> [f64; 3] {
    [cold.min(warm), is, cold.max(warm)]
}
