//! A solved section at any outdoor temperature: every temperature is a weighted mean of outdoors and room.

use super::interval::interval;
use super::vary::{UncertainInput, Varied};
use crate::physics::water::ICE_POINT;

/// The lowest outdoor temperature considered, K (-154 °F; the lowest air temperature on record is -128.6 °F).
const COLDER_THAN_EVER: f64 = 170.0;

/// The error allowed for in either side of an interval on a coarse mesh: a fraction of it, plus a number in log-odds. Of
/// 150,000 random sections, of ranges up to four times as wide as the program's, four were off by more, by up to three times
/// the two together.
const ROUGH: (f64, f64) = (0.15, 0.02);

/// Temperatures around the section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boundary {
    /// Outdoors, K.
    pub outdoors: f64,
    /// The heated room, K; the space behind follows from it.
    pub room: f64,
}

/// The weight of the room in a temperature, 0 to 1; outdoors has the rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share(pub f64);

impl Share {
    /// The temperature, K.
    pub fn temperature(self, at: &Boundary) -> f64 {
        at.outdoors + self.0 * (at.room - at.outdoors)
    }

    /// The log-odds between the space behind and outdoors, log(share/(behind − share)), where `behind` is the share of the
    /// space behind. Shifts by independent inputs add, and no sum of them leaves the boundary temperatures.
    pub fn log_odds(self, behind: Self) -> f64 {
        libm::log(self.0 / (behind.0 - self.0))
    }

    /// The share with log-odds that are greater by `shift`.
    #[must_use]
    pub fn moved_by(self, shift: f64, behind: Self) -> Self {
        Self(behind.0 / (1.0 + libm::exp(-(self.log_odds(behind) + shift))))
    }

    /// The outdoor temperature at which this temperature is at the ice point, K. `None` if the room is not above the
    /// ice point or no outdoor temperature is cold enough.
    pub fn good_to(self, room: f64) -> Option<f64> {
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
    /// Its ends along the axis from the exterior finished face, m; equal if it faces along the axis.
    pub along: [f64; 2],
    /// m²
    pub area: f64,
    /// Its temperature, between material and film.
    pub share: Share,
    /// Its film without radiation, W/m²K.
    pub convection: f64,
}

/// A solved section.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// At the seat, all at their best estimates.
    pub seat: Share,
    /// In the coldest water, at the best estimates.
    pub coldest_water: Share,
    /// The share of the heated room in the space behind, the same at every bound.
    pub behind: Share,
    /// Seat and coldest water with each uncertain input at its low and its high bound.
    pub varied: Vec<Varied>,
    /// Along barrel, fitting and supply.
    pub stations: Vec<Station>,
    /// Least and greatest film on bare metal and pipe in the space behind, W/m²K; `None` without any.
    pub indoor_films: Option<[f64; 2]>,
    /// Every bare surface in the space behind.
    pub bare: Vec<BareSurface>,
    /// Heat through the section for each kelvin between the space behind and outdoors, beyond that of the wall without
    /// the outlet, W/K.
    pub point_transmittance: f64,
    /// The largest imbalance of energy of the solves, as a fraction of the flow.
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

    /// The narrowest and the widest that [`Self::seat_temperature`] of the same section can be with its uncertainty carried, from
    /// its uncertainty on a coarse mesh. `None` if that has no interval.
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

    /// Temperature of the coldest water, K, likewise. In a spell no water gets colder than this at the coldest
    /// outdoor and room temperatures, as every temperature is a mean of others.
    pub fn coldest_temperature(&self, at: &Boundary) -> [f64; 3] {
        sorted(self.coldest_shares().map(|share| share.temperature(at)))
    }

    /// The steady outdoor temperature at which the seat reaches the ice point, K: from the warm end of the seat's 95 %
    /// interval (the lowest), best estimate, from its cold end. `None` as for [`Share::good_to`] at the best estimate;
    /// an end that no outdoor temperature reaches is the lowest considered.
    pub fn good_to(&self, room: f64) -> Option<[f64; 3]> {
        let [cold, is, warm] = self.seat_shares();
        let is = is.good_to(room)?;
        let end = |share: Share| share.good_to(room).unwrap_or(COLDER_THAN_EVER);
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

    /// How far each uncertain input at its bounds moves the outdoor temperature the outlet is good to, K: down (at most 0) and
    /// up (at least 0). The largest first.
    pub fn moves_of_good_to(&self, room: f64) -> Vec<(UncertainInput, [f64; 2])> {
        let good_to = |share: Share| share.good_to(room).unwrap_or(COLDER_THAN_EVER);
        let is = good_to(self.seat);
        let mut moves: Vec<(UncertainInput, [f64; 2])> = Vec::new();
        for varied in &self.varied {
            let [a, b] = varied.seat.map(|share| good_to(share) - is);
            moves.push((varied.input, [a.min(b).min(0.0), a.max(b).max(0.0)]));
        }
        moves.sort_by(|(_, [a, b]), (_, [c, d])| (d - c).total_cmp(&(b - a)));
        moves
    }
}

/// The ends in ascending order: in a room colder than outdoors they are the other way round.
fn sorted([cold, is, warm]: [f64; 3]) -> [f64; 3] {
    [cold.min(warm), is, cold.max(warm)]
}
