//! Dew and frost on what stands in the air of the space behind, with the latent heat given back to it.
//!
//! Only bare barrel, fitting, pipe and sleeve past the wall's interior surface count: what is inside the wall is taken
//! to be kept from room air. Vapor reaches each surface by its own convective film (Lewis relation). The latent heat it
//! brings is solved for as a film beside convection and radiation: flux over the difference of air and surface. What has
//! gathered stays where it is, neither runs nor insulates.

use super::mesh::Fineness;
use super::solve::{OUTDOORS, SPACE_BEHIND, Section, SectionError};
use super::solved::{BareSurface, Boundary, Share, Solved};
use super::spec::Spec;
use crate::physics::moist_air::{Deposit, TRIPLE_POINT, saturation_temperature};
use crate::physics::sweating::{Arrival, Surroundings, arrival};

/// Passes in which the latent heat may settle.
const PASSES: usize = 25;
/// It has settled when a pass moves the water gathered by no more than this part of it.
const SETTLED: f64 = 1e-4;
/// A pass goes this part of the way: warmer metal gathers less, so that the whole way overshoots.
const PART_OF_THE_WAY: f64 = 0.7;

/// The air of the space behind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Damp {
    /// K
    pub temperature: f64,
    /// Pa
    pub vapor_pressure: f64,
    /// Of all of the air, Pa: thin air convects less and lets vapor through more easily.
    pub pressure: f64,
}

/// What gathers on all bare surfaces together.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Gathered {
    /// Dew and frost, kg/s.
    pub rate: f64,
    /// The latent heat they bring, W.
    pub latent: f64,
    /// The part of the rate that is dew: frost does not run.
    pub dew: f64,
    /// Length along the outlet that is below the dew point, m.
    pub wet_length: f64,
    /// Length that is below the frost point and below freezing, m.
    pub frost_length: f64,
}

/// An outlet that sweats.
#[derive(Clone, Debug, PartialEq)]
pub struct Sweat {
    /// With the metal as cold as it is in dry air.
    pub in_dry_air: Gathered,
    /// With the latent heat given back to it.
    pub gathered: Gathered,
    /// Seat in dry air and as it sweats, K.
    pub seat: [f64; 2],
    /// Heat to outdoors through the section in dry air and as it sweats, W.
    pub heat: [f64; 2],
    /// Latent heat that the solve gave the metal less that of what gathers, as a fraction of it.
    pub imbalance: f64,
    /// How many times the equations were solved.
    pub solves: usize,
}

impl Solved {
    /// What gathers with the films held as solved and the metal as cold as in dry air: the upper end, since the latent
    /// heat warms it.
    pub fn gathers(&self, at: &Boundary, air: &Damp) -> Result<Gathered, SectionError> {
        gathered(&self.bare, at, air)
    }

    /// Temperature of the outermost metal or pipe at a depth from the exterior finished face (m), K. `None` if there
    /// is none.
    pub fn metal_at(&self, depth: f64, at: &Boundary) -> Option<f64> {
        let next = self.stations.iter().position(|it| it.depth >= depth)?;
        let (before, after) = (self.stations.get(next.checked_sub(1)?)?, self.stations.get(next)?);
        let part = (depth - before.depth) / (after.depth - before.depth);
        let [from, to] = [before, after].map(|it| it.share.temperature(at));
        Some(from + part * (to - from))
    }

    /// How much of the metal and pipe between two depths is colder than a temperature (K), m.
    pub fn length_colder(&self, between: [f64; 2], at: &Boundary, kelvin: f64) -> f64 {
        let [from, to] = between;
        let inside = self.stations.iter().filter(|it| it.depth > from && it.depth < to);
        let mut line: Vec<[f64; 2]> = inside.map(|it| [it.depth, it.share.temperature(at)]).collect();
        if let Some(kelvin) = self.metal_at(from, at) {
            line.insert(0, [from, kelvin]);
        }
        line.extend(self.metal_at(to, at).map(|kelvin| [to, kelvin]));
        length_below(&line, kelvin)
    }
}

/// Dew and frost at a state, films found there, the latent heat given back.
pub fn sweat(spec: &Spec, at: &Boundary, air: &Damp) -> Result<Sweat, SectionError> {
    sweat_at(spec, at, air, Fineness::Usual)
}

/// The same at a stated mesh.
pub fn sweat_at(spec: &Spec, at: &Boundary, air: &Damp, fineness: Fineness) -> Result<Sweat, SectionError> {
    let mut section = Section::build(spec, fineness)?;
    let mut weights = section.find_films(Some(*at))?;
    let ends = [at.outdoors, Share(spec.behind.weight()).temperature(at)];
    let heat = |weights: &crate::thermal::Weights| weights.flows(&ends)[OUTDOORS];
    let in_dry_air = gathered(&section.bare_surfaces(&weights), at, air)?;
    let dry = (section.seat(weights.of_boundary(SPACE_BEHIND)).temperature(at), heat(&weights));
    let (mut now, mut given) = (in_dry_air, 0.0);
    if in_dry_air.rate > 0.0 {
        let dew = saturation_temperature(air.vapor_pressure)?;
        for _ in 0..PASSES {
            for index in 0..section.bare.len() {
                let bare = section.bare[index];
                let own = weights.surface_temperature(bare.surface, &ends);
                let flux = arrives(air, dew, bare.convection, own)?.map_or(0.0, |it| it.heat_flux);
                let film = if flux > 0.0 { flux / (ends[SPACE_BEHIND] - own) } else { 0.0 };
                section.bare[index].latent += PART_OF_THE_WAY * (film - bare.latent);
            }
            section.set_bare_films(&section.bare_weights(weights.of_boundary(SPACE_BEHIND)), at, spec)?;
            weights = section.weights()?;
            let before = std::mem::replace(&mut now, gathered(&section.bare_surfaces(&weights), at, air)?);
            given = section.latent_given(&weights, &ends);
            let moved = (now.rate - before.rate).abs() <= SETTLED * now.rate;
            if moved && (given - now.latent).abs() <= 10.0 * SETTLED * now.latent {
                break;
            }
        }
    }
    Ok(Sweat {
        in_dry_air,
        gathered: now,
        seat: [dry.0, section.seat(weights.of_boundary(SPACE_BEHIND)).temperature(at)],
        heat: [dry.1, heat(&weights)],
        imbalance: if now.latent > 0.0 { (given - now.latent) / now.latent } else { 0.0 },
        solves: section.solves,
    })
}

impl Section<'_> {
    /// Latent heat that the films gave, W.
    fn latent_given(&self, weights: &crate::thermal::Weights, ends: &[f64; 2]) -> f64 {
        let given = self.bare.iter().map(|it| {
            // A surface's flow is into its boundary: the room gives what is negative.
            -weights.surface_flow(it.surface, ends) * it.latent / (it.convection + it.radiation + it.latent)
        });
        given.sum()
    }
}

/// What arrives at a surface, where it is below the dew point.
fn arrives(air: &Damp, dew: f64, convection: f64, own: f64) -> Result<Option<Arrival>, SectionError> {
    if own >= dew {
        return Ok(None);
    }
    let room = Surroundings {
        temperature: air.temperature,
        vapor_pressure: air.vapor_pressure,
        pressure: air.pressure,
        convection,
        radiation: 0.0,
    };
    Ok(Some(arrival(&room, own)?).filter(|it| it.mass_flux > 0.0))
}

fn gathered(bare: &[BareSurface], at: &Boundary, air: &Damp) -> Result<Gathered, SectionError> {
    let mut all = Gathered::default();
    if bare.is_empty() || air.vapor_pressure <= 0.0 {
        return Ok(all);
    }
    let dew = saturation_temperature(air.vapor_pressure)?;
    for surface in bare {
        let own = surface.share.temperature(at);
        if let Some(it) = arrives(air, dew, surface.convection, own)? {
            all.rate += it.mass_flux * surface.area;
            all.latent += it.heat_flux * surface.area;
            if it.deposit == Deposit::Dew {
                all.dew += it.mass_flux * surface.area;
            }
        }
    }
    let mut sides: Vec<&BareSurface> = bare.iter().filter(|it| it.along[1] > it.along[0]).collect();
    sides.sort_by(|a, b| a.along[0].total_cmp(&b.along[0]));
    let line = polyline(&sides, at);
    all.wet_length = length_below(&line, dew);
    all.frost_length = length_below(&line, dew.min(TRIPLE_POINT));
    Ok(all)
}

/// Depths and temperatures along the sides: at the middle of each, and carried on to the two ends.
fn polyline(sides: &[&BareSurface], at: &Boundary) -> Vec<[f64; 2]> {
    let mut line: Vec<[f64; 2]> =
        sides.iter().map(|it| [0.5 * (it.along[0] + it.along[1]), it.share.temperature(at)]).collect();
    let (Some(first), Some(last)) = (sides.first(), sides.last()) else { return line };
    if let [a, b, ..] = line[..] {
        let start = a[1] + (b[1] - a[1]) * (first.along[0] - a[0]) / (b[0] - a[0]);
        line.insert(0, [first.along[0], start]);
    }
    if let Some(&[_, end]) = line.last() {
        line.push([last.along[1], end]);
    }
    line
}

/// How much of a line of depths and temperatures lies below a temperature, m.
fn length_below(line: &[[f64; 2]], limit: f64) -> f64 {
    let below = line.windows(2).map(|pair| {
        let [[from, a], [to, b]] = [pair[0], pair[1]];
        let length = to - from;
        match (a < limit, b < limit) {
            (true, true) => length,
            (false, false) => 0.0,
            (true, false) => length * (limit - a) / (b - a),
            (false, true) => length * (limit - b) / (a - b),
        }
    });
    below.sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_length_below_a_temperature_is_cut_on_the_straight_line() {
        // By hand: from 270 at 0 to 280 at 1 m, then level, then down to 260 at 3 m.
        let line = [[0.0, 270.0], [1.0, 280.0], [2.0, 280.0], [3.0, 260.0]];
        assert!((length_below(&line, 275.0) - (0.5 + 0.75)).abs() < 1e-12);
        assert_eq!(length_below(&line, 255.0), 0.0);
        assert_eq!(length_below(&line, 290.0), 3.0);
    }
}
