//! The supply that turns down inside the wall: a chain of cells hung on the inlet fitting. Its surroundings are the
//! wall at that depth, a mix of outdoors and indoors, so that each cell meets both boundaries in parallel.

use super::paint::{Part, STILL_WATER, Shape};
use super::solve::{INDOORS, OUTDOORS, Refusal, Tag, WALL_FILM_INSIDE};
use super::spec::Spec;
use crate::thermal::{Axis, Face, Grid, Line, Link, Network, Side, Surface, graded};
use std::f64::consts::PI;

/// Hangs the supply on the fitting and gives its cells.
pub(super) fn hang(
    network: &mut Network,
    grid: &Grid,
    shape: &Shape,
    spec: &Spec,
) -> Result<Vec<usize>, Refusal> {
    let ends = fitting_ends(network, grid, shape);
    let area: f64 = ends.iter().map(|(_, _, area)| area).sum();
    let edges = graded(&[Line::new(0.0, 0.005), Line::new(spec.supply.run.si(), 0.08)], 1.6, 0.08)?;
    let around = Surroundings::of(shape, spec)?;
    let conductivity = lumped(spec, spec.supply.conductivity.used.si());
    let section = PI * shape.supply * shape.supply;
    let mut cells = Vec::new();
    for pair in edges.windows(2) {
        let length = pair[1] - pair[0];
        let cell = network.add_cell(conductivity)?;
        let half = 0.5 * length / section;
        match cells.last() {
            Some(&before) => {
                let width_before = pair[0] - edges[cells.len() - 1];
                let halves = [0.5 * width_before / section, half];
                network.link(Link { cells: [before, cell], half: halves, extra: 0.0 })?;
            }
            None => {
                for &(end, end_half, end_area) in &ends {
                    let halves = [end_half, half * area / end_area];
                    network.link(Link { cells: [end, cell], half: halves, extra: 0.0 })?;
                }
            }
        }
        for (boundary, share) in [(OUTDOORS, around.outdoors), (INDOORS, 1.0 - around.outdoors)] {
            let surface = Surface { cell, boundary, half: 0.0, area: 1.0, tag: Tag::Tail as u32 };
            network.meet(surface, around.resistance / (length * share))?;
        }
        cells.push(cell);
    }
    Ok(cells)
}

/// Conductivity of pipe and water taken together over the pipe's whole section, W/mK, for a pipe wall of `pipe` W/mK.
pub(super) fn lumped(spec: &Spec, pipe: f64) -> f64 {
    let outer = spec.supply.diameter.si() / 2.0;
    let inner = outer - spec.supply.thickness.si();
    let water_share = inner * inner / (outer * outer);
    pipe * (1.0 - water_share) + STILL_WATER * water_share
}

/// Cells at the inner end of the fitting: number, half towards the end, area of the end.
fn fitting_ends(network: &Network, grid: &Grid, shape: &Shape) -> Vec<(usize, f64, f64)> {
    let face = Face::new(Axis::Second, Side::High);
    let mut ends = Vec::new();
    for number in 0..grid.cells() {
        let at = grid.position(number);
        let [r, z, _] = grid.centre(at);
        let last = (grid.coordinate(at, face) - shape.fitting_end).abs() < 1e-4;
        let inside = matches!(shape.part(r, z), Some(Part::Fitting | Part::Water)) && r < shape.fitting;
        if last
            && inside
            && let Some(cell) = network.cell_at(number)
        {
            ends.push((cell, grid.half(at, face), grid.area(at, face)));
        }
    }
    ends
}

/// What the wall is to a pipe within it.
struct Surroundings {
    /// Share of outdoors in the wall's own temperature at that depth.
    outdoors: f64,
    /// Between the pipe and that temperature, for a metre of pipe, mK/W.
    resistance: f64,
}

impl Surroundings {
    /// A cylinder between two isothermal planes, R' = ln(2W/(πr)·sin(πz/W)) / 2πk by images of a line source
    /// (Carslaw and Jaeger; at mid-depth the handbook's shape factor 2π/ln(8z/πD)). The layered wall is taken as a
    /// slab of the pipe's own layer that has the wall's resistance on either side.
    fn of(shape: &Shape, spec: &Spec) -> Result<Self, Refusal> {
        let depth = shape.fitting_end + shape.supply;
        let Some(own) = shape.layers.iter().position(|[outer, inner]| depth >= *outer && depth < *inner)
        else {
            return Err(Refusal::DoesNotFit(
                "the supply does not lie within the wall at the depth of the inlet",
            ));
        };
        let resistance = |number: usize, thickness: f64| thickness / spec.wall[number].conductivity.si();
        let outer: f64 = (0..own).map(|n| resistance(n, shape.layers[n][1] - shape.layers[n][0])).sum();
        let all: f64 =
            (0..shape.layers.len()).map(|n| resistance(n, shape.layers[n][1] - shape.layers[n][0])).sum();
        let outwards =
            1.0 / spec.outdoor_film.used.si() + outer + resistance(own, depth - shape.layers[own][0]);
        let total = 1.0 / spec.outdoor_film.used.si() + all + WALL_FILM_INSIDE;
        let k = spec.wall[own].conductivity.si();
        let (depth, width) = (outwards * k, total * k);
        let ratio = 2.0 * width / (PI * shape.supply) * libm::sin(PI * depth / width);
        /// Nearer than this to a face the pipe is no longer a thin line within the slab.
        const LEAST_RATIO: f64 = 1.5;
        let resistance = libm::log(ratio.max(LEAST_RATIO)) / (2.0 * PI * k);
        Ok(Self { outdoors: 1.0 - outwards / total, resistance })
    }
}
